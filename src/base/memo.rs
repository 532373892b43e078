//! What was made of something before, so that it is not made of the same thing again.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

type Made<K, V> = BTreeMap<K, Arc<V>>;

/// See the module's head. The key is everything that the value is made of.
#[derive(Debug)]
pub(crate) struct Memo<K, V> {
    before: Made<K, V>,
    now: Mutex<Made<K, V>>,
    /// How much of this round is kept.
    most: usize,
}

impl<K, V> Default for Memo<K, V> {
    fn default() -> Self {
        Self::of_at_most(usize::MAX)
    }
}

impl<K, V> Memo<K, V> {
    /// One that keeps no more than so much of a round.
    pub(crate) fn of_at_most(most: usize) -> Self {
        Self { before: BTreeMap::new(), now: Mutex::default(), most }
    }
}

impl<K: Ord, V> Memo<K, V> {
    /// Begins another round: what the last one asked for is kept until the next.
    pub(crate) fn turn(&mut self) {
        let last = std::mem::take(&mut *self.now());
        self.before = last;
    }

    /// What this round has asked for. A thread that panicked has left nothing half done: what is in a map is whole.
    fn now(&self) -> MutexGuard<'_, Made<K, V>> {
        self.now.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What is known of a key.
    fn known(&self, key: &K) -> Option<Arc<V>> {
        self.now().get(key).or_else(|| self.before.get(key)).cloned()
    }

    /// The value of a key; made where it is not known.
    pub(crate) fn get(&self, key: K, make: impl FnOnce(&K) -> V) -> Arc<V> {
        let value = self.known(&key).unwrap_or_else(|| Arc::new(make(&key)));
        let mut now = self.now();
        if now.len() < self.most {
            now.insert(key, Arc::clone(&value));
        }
        value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_this_round_or_the_last_asked_for_is_not_made_again() {
        let mut memo = Memo::default();
        let mut made = 0;
        for (key, expected) in [(1, 1), (1, 1), (2, 2), (1, 3), (1, 3)] {
            memo.turn();
            assert_eq!(*memo.get(key, |key| key * 10), key * 10);
            let _ = memo.get(key, |_| unreachable!());
            made += i32::from(!memo.before.contains_key(&key));
            assert_eq!(made, expected, "{key}");
        }
    }

    #[test]
    fn no_more_is_kept_than_is_wanted() {
        let memo = Memo::of_at_most(1);
        for key in [1, 2, 1, 2] {
            assert_eq!(*memo.get(key, |key| key * 10), key * 10);
        }
        assert!(memo.known(&1).is_some() && memo.known(&2).is_none());
    }
}

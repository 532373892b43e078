//! Typed ids and the vectors they index.
//!
//! An [`Id`] is made only by [`Arena::push`], so an index through one cannot miss: ids of one site's arenas are
//! never used with another site's.

use std::marker::PhantomData;
use std::ops::{Index, IndexMut};

/// A reference to a `T` in an [`Arena<T>`] of the same site.
pub struct Id<T> {
    index: usize,
    kind: PhantomData<fn() -> T>,
}

impl<T> Id<T> {
    /// The position in the arena, for use as a sort key.
    pub(crate) fn index(self) -> usize {
        self.index
    }
}

impl<T> Clone for Id<T> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<T> Copy for Id<T> {}
impl<T> PartialEq for Id<T> {
    fn eq(&self, other: &Self) -> bool {
        self.index == other.index
    }
}
impl<T> Eq for Id<T> {}
impl<T> PartialOrd for Id<T> {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl<T> Ord for Id<T> {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.index.cmp(&other.index)
    }
}
impl<T> std::fmt::Debug for Id<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "#{}", self.index)
    }
}

/// A growing list whose entries are named by typed ids.
#[derive(Clone, Debug, PartialEq)]
pub struct Arena<T> {
    items: Vec<T>,
}

impl<T> Default for Arena<T> {
    fn default() -> Self {
        Self { items: Vec::new() }
    }
}

impl<T> Arena<T> {
    /// Adds an entry and names it.
    pub(crate) fn push(&mut self, item: T) -> Id<T> {
        self.items.push(item);
        Id { index: self.items.len() - 1, kind: PhantomData }
    }

    /// The id that the next [`push`](Self::push) will give.
    pub(crate) fn next_id(&self) -> Id<T> {
        Id { index: self.items.len(), kind: PhantomData }
    }

    /// How many entries there are.
    pub fn len(&self) -> usize {
        self.items.len()
    }

    /// True when there is none.
    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }

    /// The entries in order.
    pub fn iter(&self) -> std::slice::Iter<'_, T> {
        self.items.iter()
    }

    /// The entries of one key with their ids, in order. The arena is in the order of the keys.
    pub(crate) fn of_key<'a, K: Ord + 'a>(
        &'a self,
        key: K,
        key_of: impl Fn(&'a T) -> K + 'a,
    ) -> impl Iterator<Item = (Id<T>, &'a T)> {
        let (mut first, mut end) = (0_usize, self.items.len());
        while let Some(item) = self.items.get(first.midpoint(end)).filter(|_| first < end) {
            if key_of(item) < key { first = first.midpoint(end) + 1 } else { end = first.midpoint(end) }
        }
        let entries = self.items.iter().enumerate().skip(first).take_while(move |(_, item)| key_of(item) == key);
        entries.map(|(index, item)| (Id { index, kind: PhantomData }, item))
    }

    /// The entries with their ids, in order.
    pub fn entries(&self) -> impl DoubleEndedIterator<Item = (Id<T>, &T)> {
        self.items.iter().enumerate().map(|(index, item)| (Id { index, kind: PhantomData }, item))
    }
}

impl<'a, T> IntoIterator for &'a Arena<T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;
    fn into_iter(self) -> Self::IntoIter {
        self.items.iter()
    }
}

impl<T> Index<Id<T>> for Arena<T> {
    type Output = T;
    // Ids come from this arena's own `push`, and nothing is ever removed.
    #[allow(clippy::indexing_slicing)]
    fn index(&self, id: Id<T>) -> &T {
        &self.items[id.index]
    }
}

impl<T> IndexMut<Id<T>> for Arena<T> {
    #[allow(clippy::indexing_slicing)]
    fn index_mut(&mut self, id: Id<T>) -> &mut T {
        &mut self.items[id.index]
    }
}

//! Goes through the items, from one word that names a secret to the next.

use std::collections::BTreeSet;
use std::ops::Range;

use super::items::Item;
use super::names::{Name, Sort, name_at};
use super::ties::Tie;
use super::{Secret, before, behind, phrases};

/// Every secret in a text.
pub(crate) fn read(items: &[Item<'_>]) -> Vec<Secret> {
    let mut found = Vec::new();
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    let mut at = 0;
    while at < items.len() {
        let begins = items.get(at).is_some_and(|item| item.weight.is_some());
        let Some(name) = begins.then(|| name_at(items, at)).flatten() else {
            at += 1;
            continue;
        };
        let secret = both(items, &name).and_then(|tie| secret(items, &name, tie, &mut taken));
        at = if secret.is_some() { name.items.end } else { at + 1 };
        found.extend(secret);
    }
    found
}

/// What a word is tied to, on both sides.
fn both(items: &[Item<'_>], name: &Name) -> Option<Tie> {
    let (behind, before) = if name.sort == Sort::Phrase {
        let mut behind = phrases::behind(items, name);
        if let Some(tie) = &mut behind {
            phrases::follow(items, name, &mut tie.values);
        }
        (behind, phrases::before(items, name))
    } else {
        let behind = behind::behind(items, name);
        let known = behind.is_some();
        (behind, before::before(items, name, known))
    };
    match (behind, before) {
        (Some(mut behind), Some(before)) => {
            behind.certain |= before.certain;
            behind.values.extend(before.values);
            Some(behind)
        }
        (behind, before) => behind.or(before),
    }
}

/// The find, of the values that no word before it has taken.
fn secret(items: &[Item<'_>], name: &Name, tie: Tie, taken: &mut BTreeSet<usize>) -> Option<Secret> {
    let mut values = Vec::new();
    for value in tie.values {
        if value.clone().all(|index| taken.insert(index)) {
            values.extend(span(items, &value));
        }
    }
    values.sort_by_key(|value: &Range<usize>| value.start);
    let word = span(items, &name.items)?;
    (!values.is_empty()).then(|| Secret { what: name.sort.what(), certain: tie.certain, word, values })
}

fn span(items: &[Item<'_>], range: &Range<usize>) -> Option<Range<usize>> {
    let (first, last) = (items.get(range.start)?, items.get(range.end.checked_sub(1)?)?);
    Some(first.span.start..last.span.end)
}

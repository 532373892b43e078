//! What a code and an account number look like, and which of them is free to be a secret.

use std::ops::Range;

use super::claims::{belongs_elsewhere, is_part};
use super::items::{Gap, Item, Kind, glued, is_kind};
use super::names::{Name, Sort, Weight};
use super::spelled::CODE;

/// The items of the value that begins at an item, where it may be one of the name's.
pub(crate) fn value_at(items: &[Item<'_>], at: usize, name: &Name) -> Option<Range<usize>> {
    let value = match name.sort {
        Sort::Code => code_at(items, at, name)?,
        Sort::Account => account_at(items, at, name)?,
        Sort::Phrase => return None,
    };
    // "pins 1 2 3 4" are pins of a plug.
    let listed = name.plural && name.first.starts_with("pin") && items.get(at).is_some_and(|item| item.grouped);
    (!listed && !belongs_elsewhere(items, &value, name)).then_some(value)
}

/// `4417`; with one letter before it, as some keypads have, where the name leaves no doubt: `C2580`.
fn code_at(items: &[Item<'_>], at: usize, name: &Name) -> Option<Range<usize>> {
    let is_code = |index: usize| {
        items.get(index).is_some_and(|item| item.kind == Kind::Number && CODE.contains(&item.text.len()))
    };
    let first = items.get(at)?;
    let letter = first.kind == Kind::Word && first.text.len() == 1 && first.gap > Gap::None;
    if letter && name.weight == Weight::Personal && glued(items, at + 1) && is_code(at + 1) {
        return Some(at..at + 2);
    }
    (is_code(at) && !is_part(items, at, name)).then_some(at..at + 1)
}

/// `00421`, `B00F12`, `12-345-678`; for a key also with fewer digits.
fn account_at(items: &[Item<'_>], at: usize, name: &Name) -> Option<Range<usize>> {
    let is_mark = |index: usize| is_kind(items, index, Kind::Mark);
    let is_link = |index: usize| {
        items.get(index).is_some_and(|item| matches!(item.text.as_ref(), "-" | "/" | ".")) && glued(items, index)
    };
    // What stands in the middle of something begins no account.
    let after_name = at == name.items.end;
    let inside = glued(items, at) && !after_name && (!is_mark(at - 1) || (is_link(at - 1) && !is_mark(at - 2)));
    if inside || at >= items.len() || is_mark(at) {
        return None;
    }
    let mut end = at + 1;
    loop {
        let next = end + usize::from(is_link(end));
        if !glued(items, next) || is_mark(next) {
            break;
        }
        end = next + 1;
    }
    let parts = || items.iter().take(end).skip(at).filter(|item| item.kind != Kind::Mark);
    let length: usize = parts().map(|part| part.text.chars().count()).sum();
    let digits: usize = parts().filter(|part| part.kind == Kind::Number).map(|part| part.text.len()).sum();
    let least = if name.key { 1 } else { 3 };
    let date = end == at + 5 && items.get(at).is_some_and(|year| year.text.len() == 4);
    let part = end == at + 1 && is_part(items, at, name);
    (digits >= least && (3..=16).contains(&length) && !date && !part).then_some(at..end)
}

/// True for a number that reads as a year.
pub(crate) fn is_year(item: &Item<'_>) -> bool {
    !item.grouped && item.text.len() == 4 && item.text.parse().is_ok_and(|year: u32| (1900..2100).contains(&year))
}

/// True for a number that reads as a time of day on the quarter of an hour.
pub(crate) fn is_time(item: &Item<'_>) -> bool {
    minutes(item).is_some_and(|minutes| minutes % 15 == 0)
}

/// The minutes of a number that reads as a time of day.
pub(crate) fn minutes(item: &Item<'_>) -> Option<u32> {
    let time: u32 = item.text.parse().ok().filter(|_| !item.grouped && item.text.len() == 4)?;
    (time < 2400 && time % 100 < 60).then_some(time % 100)
}

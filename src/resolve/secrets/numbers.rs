//! What a code and an account number look like, and which of them is free to be a secret.

use std::ops::Range;

use super::claims::{belongs_elsewhere, is_part};
use super::items::{Gap, Item, Kind, Place, glued, is_kind, joined, joins};
use super::names::{Name, Sort, Weight};
use super::spelled::CODE;
use super::words;

/// The items of the value that begins at an item, where it may be one of the name's.
pub(crate) fn value_at(items: &[Item<'_>], at: usize, name: &Name) -> Option<Range<usize>> {
    let value = match name.sort {
        Sort::Code => code_at(items, at, name)?,
        Sort::Account => account_at(items, at, name)?,
        Sort::Phrase => return None,
    };
    // "pins 1 2 3 4" and "pins 1, 2, 3, 4" are pins of a plug, and so is "pin 1, 2, 3, 6".
    let several = value.len() > 1 || items.get(at).is_some_and(|item| item.grouped);
    let listed = name.first.starts_with("pin") && several && (name.plural || is_list_of_pins(items, at, &value, name));
    (!listed && !belongs_elsewhere(items, &value, name)).then_some(value)
}

/// `1, 2, 3, 6` right behind its name: pins of a plug in rising order, each behind a comma and a blank, as no code is written.
fn is_list_of_pins(items: &[Item<'_>], at: usize, value: &Range<usize>, name: &Name) -> bool {
    let Some(value) = items.get(value.clone()).filter(|_| Direct::of(items, at, name) == Direct::Yes) else {
        return false;
    };
    let pins = value.iter().step_by(2).map(|pin| pin.text.as_ref());
    let parted = value.chunks(2).all(|pair| match pair {
        [pin, comma] => pin.text.len() == 1 && comma.text == ",",
        [pin] => pin.text.len() == 1,
        _ => false,
    });
    let blanks = value.iter().skip(2).step_by(2).all(|pin| pin.gap == Gap::Blank);
    parted && blanks && pins.is_sorted_by(|one, other| one < other)
}

/// `4417`; with one letter before or behind it, as some keypads have, where the name leaves no doubt: `C2580`; in groups
/// right behind the name: `44.17`.
fn code_at(items: &[Item<'_>], at: usize, name: &Name) -> Option<Range<usize>> {
    let is_code = |index: usize| {
        items.get(index).is_some_and(|item| item.kind == Kind::Number && CODE.contains(&item.text.len()))
    };
    let first = items.get(at)?;
    let is_letter =
        |index: usize| items.get(index).is_some_and(|item| item.kind == Kind::Word && item.text.chars().count() == 1);
    let direct = Direct::of(items, at, name);
    let sure = (name.weight == Weight::Personal && direct != Direct::No)
        || (name.weight == Weight::Plain && direct == Direct::Said);
    let lettered = sure || name.weight == Weight::Personal;
    if is_letter(at) && first.gap > Gap::None && lettered && glued(items, at + 1) && is_code(at + 1) {
        return Some(at..at + 2);
    }
    if sure && is_code(at) && glued(items, at + 1) && is_letter(at + 1) && !glued(items, at + 2) {
        return Some(at..at + 2);
    }
    if is_code(at) && !is_part(items, at, name) {
        return Some(at..at + 1);
    }
    if name.key && direct != Direct::No {
        return unbroken_at(items, at).or_else(|| groups_at(items, at, true));
    }
    (direct != Direct::No && name.weight.names_one()).then(|| groups_at(items, at, sure)).flatten()
}

/// How a value stands behind a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Direct {
    /// Not behind it, or with other words between.
    No,
    /// With nothing but marks and "number" between.
    Yes,
    /// With "is" or a colon between, or behind a key.
    Said,
}

impl Direct {
    fn of(items: &[Item<'_>], at: usize, name: &Name) -> Self {
        let Some(between) = items.get(name.items.end..at).filter(|between| between.len() < 6) else { return Self::No };
        let says = |item: &Item<'_>| words::SAYING.has(&item.text) || matches!(item.text.as_ref(), ":" | "=");
        let passes = |item: &Item<'_>| item.place == Place::Unit || item.kind == Kind::Mark || says(item);
        if !between.iter().all(|item| passes(item) || words::NUMBERING.has(&item.text)) {
            return Self::No;
        }
        if name.key || between.iter().any(says) { Self::Said } else { Self::Yes }
    }
}

/// Letters and digits without a blank, as the value of a key: `9371ft`, `93.71`.
fn unbroken_at(items: &[Item<'_>], at: usize) -> Option<Range<usize>> {
    if glued(items, at) || is_kind(items, at, Kind::Mark) {
        return None;
    }
    let end = at + 1 + (at + 1..items.len()).take_while(|index| glued(items, *index)).count();
    let digits = items.get(at..end)?.iter().filter(|item| item.kind == Kind::Number).map(Item::digits);
    CODE.contains(&digits.sum()).then_some(at..end)
}

/// Groups of up to three digits with blanks between them, or with marks where they are all but sure to be a code.
fn groups_at(items: &[Item<'_>], at: usize, sure: bool) -> Option<Range<usize>> {
    let is_group = |index: usize| {
        items.get(index).filter(|item| item.kind == Kind::Number && item.text.len() < 4).map(|item| item.text.len())
    };
    let in_row = |index: usize| {
        let value = items.get(index).is_some_and(|item| item.place == Place::Value && item.gap == Gap::Blank);
        value || joins(items, index)
    };
    let mut length = is_group(at)?;
    let (mut end, mut marks, mut longest) = (at + 1, 0, length);
    loop {
        let mark = sure && matches!(joined(items, end), "." | "/" | "," | "-" | "·" | "_" | "*" | "–" | "|");
        let next = end + usize::from(mark);
        if !in_row(next) {
            break;
        }
        let Some(digits) = is_group(next) else { break };
        (end, length, longest) = (next + 1, length + digits, longest.max(digits));
        marks += usize::from(mark);
    }
    // "12/05/27" is a date.
    let date = marks == 2 && longest == 2 && end == at + 5;
    let goes_on = glued(items, end) && (is_kind(items, end, Kind::Word) || is_kind(items, end + 1, Kind::Number));
    (end > at + 1 && CODE.contains(&length) && !date && !goes_on).then_some(at..end)
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

/// True for a number that may be a year of the past, where a word calls for one: "built in 1868".
pub(crate) fn may_be_year(item: &Item<'_>) -> bool {
    !item.grouped && item.text.len() == 4 && item.text.parse().is_ok_and(|year: u32| (1700..2100).contains(&year))
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

//! What a number belongs to, where it is no secret: something longer, a unit, a noun, a key of the language.

use std::ops::Range;

use super::items::{Item, Kind, Place, glued, is_kind, joined, joins};
use super::names::Name;
use super::numbers::{is_time, may_be_year, minutes};
use super::words;

/// True for a value that something else than the name has a claim to.
pub(crate) fn belongs_elsewhere(items: &[Item<'_>], value: &Range<usize>, name: &Name) -> bool {
    has_unit(items, value.end)
        || is_carried(items, value)
        || is_claimed(items, value.start, name)
        || is_of_a_key(items, value.start, name)
}

/// True for a piece of something longer: a date, a decimal, a type, a telephone number, a size.
pub(crate) fn is_part(items: &[Item<'_>], at: usize, name: &Name) -> bool {
    let Some(this) = items.get(at) else { return false };
    let length =
        |index: usize| items.get(index).filter(|_| is_kind(items, index, Kind::Number)).map(|item| item.text.len());
    let glued_before = glued(items, at) && at != name.items.end;
    let glued_after = glued(items, at + 1);
    let word =
        (glued_before && is_kind(items, at - 1, Kind::Word)) || (glued_after && is_kind(items, at + 1, Kind::Word));

    // "2027-03-14", "10.0.0.12", "14:30", but neither "4417/5518" nor "user3/4417".
    let is_link = |index: usize| glued(items, index) && matches!(joined(items, index), "." | "," | ":" | "/" | "-");
    let short = |index: usize| length(index).is_some_and(|other| other < 4 || this.text.len() < 4);
    let of_a_word = |index: usize| glued(items, index) && is_kind(items, index - 1, Kind::Word);
    let linked_before = glued_before && is_link(at - 1) && short(at - 2) && !of_a_word(at - 2);
    let linked_after = is_link(at + 1) && glued(items, at + 2) && short(at + 2);

    let money = glued_before && matches!(items.get(at - 1).map(|mark| mark.text.as_ref()), Some("$" | "€" | "£" | "+"));
    let is_by = |index: usize| items.get(index).is_some_and(|by| matches!(by.text.as_ref(), "x" | "×" | "by"));
    let size_before = joins(items, at) && at > 1 && is_by(at - 1) && length(at - 2).is_some();
    let size_after = joins(items, at + 1) && is_by(at + 1) && length(at + 2).is_some();
    let group = |index: usize, joins: bool| {
        let text = items.get(index).is_some_and(|other| other.place == Place::Text);
        joins && text && length(index).is_some_and(|other| other > 2 && other != this.text.len())
    };
    let grouped = group(at.wrapping_sub(1), joins(items, at)) || group(at + 1, joins(items, at + 1));
    word || linked_before || linked_after || money || size_before || size_after || grouped
}

/// "1200 mm".
fn has_unit(items: &[Item<'_>], end: usize) -> bool {
    let unit = joined(items, end);
    words::UNITS.has(unit) && (glued(items, end) || !matches!(unit, "a" | "h"))
}

/// "2019 edition", "88123 on the drum".
fn is_carried(items: &[Item<'_>], value: &Range<usize>) -> bool {
    let word = |steps: usize| joined(items, value.end + steps);
    let article = usize::from(matches!(word(1), "the" | "a"));
    let year = items.get(value.start).is_some_and(may_be_year);
    (year && words::FOREIGN_AFTER.has(word(0)))
        || (matches!(word(0), "on" | "of" | "from") && words::FOREIGN_BEFORE.has(word(1 + article)))
}

/// True where the noun before a number has a claim to it, or the small word before it calls for a year or an hour.
fn is_claimed(items: &[Item<'_>], at: usize, name: &Name) -> bool {
    let Some(this) = items.get(at) else { return false };
    let mut before = (0..at).rev().take_while(|index| joins(items, index + 1));
    let passed = |item: &Item<'_>| item.kind == Kind::Mark || words::NUMBERING.has(&item.text);
    let word = before.find(|index| name.items.contains(index) || !items.get(*index).is_some_and(passed));
    let Some(word) = word.filter(|index| !name.items.contains(index)).and_then(|index| items.get(index)) else {
        return false;
    };
    let word = word.text.as_ref();
    words::CLAIMING.has_form(word)
        || words::FOREIGN_BEFORE.has_form(word)
        || (words::HOURS.has(word) && minutes(this).is_some())
        || (words::TIMING.has(word) && (may_be_year(this) || is_time(this)))
}

/// True for the value of a key that has a meaning of its own.
fn is_of_a_key(items: &[Item<'_>], at: usize, name: &Name) -> bool {
    let Some(this) = items.get(at) else { return false };
    let named = |item: &Item<'_>| items.get(name.items.start).is_some_and(|name| name.piece == item.piece);
    let mut has_unit = false;
    // A key and an annotation are near.
    for item in items.iter().take(at).rev().take(16) {
        match item.place {
            Place::Text if item.piece == this.piece => return false,
            Place::Unit if named(item) => return false,
            Place::Unit => has_unit |= words::UNITS.has(&item.text),
            Place::Value if matches!(item.text.as_ref(), "(" | ")" | "=") => {}
            Place::Text | Place::Value => return has_unit,
            Place::Key if item.piece == this.piece || item.kind == Kind::Number => return false,
            Place::Key => return !named(item) && (has_unit || !words::NEUTRAL_KEYS.has(&item.text)),
        }
    }
    has_unit
}

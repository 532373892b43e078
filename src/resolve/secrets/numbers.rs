//! Which numbers are free to be a secret, and which belong to something else: a unit, a date, a noun, a key.

use std::ops::Range;

use super::items::{Gap, Item, Kind, Place};
use super::names::{Name, Sort, Weight, is, joins};
use super::spelled::CODE;
use super::words;

/// The items of the value that begins at an item, where it may be one of the name's.
pub fn value_at(items: &[Item<'_>], at: usize, name: &Name) -> Option<Range<usize>> {
    let value = match name.sort {
        Sort::Code => {
            // "C2580": some keypads have letters.
            let letter = items.get(at).is_some_and(|item| item.kind == Kind::Word && item.text.len() == 1 && item.gap > Gap::None);
            let lettered = letter && name.weight == Weight::Personal && joins(items, at + 1);
            let last = if lettered { at + 1 } else { at };
            let item = items.get(last).filter(|item| item.kind == Kind::Number && (!lettered || item.gap == Gap::None))?;
            (CODE.contains(&item.text.len()) && (lettered || !is_part(items, at, name))).then_some(at..last + 1)?
        }
        Sort::Account => account_at(items, at, name)?,
        Sort::Phrase => return None,
    };
    let pins = name.plural && items.get(name.items.start).is_some_and(|item| is(&item.text, "pin"));
    let listed = pins && items.get(at).is_some_and(|item| item.grouped);
    let owned = has_unit(items, value.end) || is_claimed(items, at, name) || is_of_a_key(items, at, name);
    (!listed && !owned).then_some(value)
}

/// `00421`, `B00F12`, `12-345-678`.
fn account_at(items: &[Item<'_>], at: usize, name: &Name) -> Option<Range<usize>> {
    let this = items.get(at).filter(|item| item.kind != Kind::Mark)?;
    let glued = joins(items, at) && this.gap == Gap::None && !name.items.contains(&(at - 1));
    // The middle of something begins no account.
    let inside = |back: usize| at.checked_sub(back).and_then(|index| items.get(index)).is_some_and(|item| item.kind != Kind::Mark);
    let linked = items.get(at.wrapping_sub(1)).is_some_and(|mark| mark.gap == Gap::None && matches!(mark.text.as_ref(), "-" | "/" | "."));
    if glued && (inside(1) || (linked && inside(2))) {
        return None;
    }
    let mut end = at + 1;
    while joins(items, end) && items.get(end).is_some_and(|item| item.gap == Gap::None) {
        let link = items.get(end).is_some_and(|item| matches!(item.text.as_ref(), "-" | "/"));
        let last = if link { end + 1 } else { end };
        let glued = items.get(last).filter(|item| item.kind != Kind::Mark && item.gap == Gap::None && joins(items, last));
        if glued.is_none() {
            break;
        }
        end = last + 1;
    }
    let parts = items.get(at..end)?.iter().filter(|item| item.kind != Kind::Mark);
    let (mut digits, mut length) = (0, 0);
    for part in parts {
        digits += if part.kind == Kind::Number { part.text.len() } else { 0 };
        length += part.text.chars().count();
    }
    let single = end == at + 1;
    let part = single && is_part(items, at, name);
    let date = this.text.len() == 4 && end == at + 5;
    let least = if name.key { 1 } else { 3 };
    (digits >= least && (3..=16).contains(&length) && !part && !date).then_some(at..end)
}

/// True for a number that reads as a year.
pub fn is_year(item: &Item<'_>) -> bool {
    !item.grouped && item.text.len() == 4 && item.text.parse().is_ok_and(|year: u32| (1900..2100).contains(&year))
}

/// True for a number that reads as a time of day on the quarter of an hour.
pub fn is_time(item: &Item<'_>) -> bool {
    minutes(item).is_some_and(|minutes| minutes % 15 == 0)
}

/// The minutes of a number that reads as a time of day.
fn minutes(item: &Item<'_>) -> Option<u32> {
    let time: u32 = item.text.parse().ok().filter(|_| !item.grouped && item.text.len() == 4)?;
    (time < 2400 && time % 100 < 60).then_some(time % 100)
}

fn has_unit(items: &[Item<'_>], end: usize) -> bool {
    items.get(end).filter(|_| joins(items, end)).is_some_and(|item| {
        let glued = item.gap == Gap::None || !matches!(item.text.as_ref(), "a" | "h");
        glued && words::UNITS.contains(&item.text.as_ref())
    })
}

/// True for a piece of something longer: a date, a decimal, a type, a telephone number, a size.
fn is_part(items: &[Item<'_>], at: usize, name: &Name) -> bool {
    let item = |index: usize| items.get(index);
    let Some(this) = item(at) else { return false };
    let before = at.checked_sub(1).filter(|_| joins(items, at)).and_then(item);
    let after = item(at + 1).filter(|_| joins(items, at + 1));
    let glued = this.gap == Gap::None && !name.items.contains(&at.saturating_sub(1));
    let word = |neighbour: Option<&Item<'_>>| neighbour.is_some_and(|item| item.kind == Kind::Word);
    let numbered = |index: usize| index > 0 && item(index).is_some_and(|it| it.gap == Gap::None) && word(item(index - 1));
    let number = |index: usize| {
        let other = item(index).filter(|other| other.kind == Kind::Number && !numbered(index));
        other.is_some_and(|other| other.text.len() < 4 || this.text.len() < 4)
    };
    // "2027-03-14", "10.0.0.12", "14:30", but not "4417/5518".
    let link = |mark: Option<&Item<'_>>| mark.is_some_and(|mark| mark.gap == Gap::None && matches!(mark.text.as_ref(), "." | "," | ":" | "/" | "-"));
    let linked_before = glued && link(before) && at >= 2 && joins(items, at - 1) && number(at - 2);
    let linked_after = link(after) && item(at + 2).is_some_and(|next| next.gap == Gap::None) && number(at + 2);
    let money = glued && before.is_some_and(|mark| matches!(mark.text.as_ref(), "$" | "€" | "£" | "+"));
    let by = |by: Option<&Item<'_>>| by.is_some_and(|by| matches!(by.text.as_ref(), "x" | "×" | "by"));
    let size = (by(before) && at > 1 && item(at - 2).is_some_and(|other| other.kind == Kind::Number))
        || (by(after) && item(at + 2).is_some_and(|other| other.kind == Kind::Number));
    let group = |neighbour: Option<&Item<'_>>| {
        let other = neighbour.filter(|other| other.kind == Kind::Number && other.place == Place::Text);
        other.is_some_and(|other| other.text.len() > 2 && other.text.len() != this.text.len())
    };
    (glued && word(before))
        || (word(after) && after.is_some_and(|after| after.gap == Gap::None))
        || linked_before
        || linked_after
        || money
        || size
        || group(before)
        || group(after)
}

/// True where a noun has a claim to a number, or the small word before it calls for a year or an hour.
fn is_claimed(items: &[Item<'_>], at: usize, name: &Name) -> bool {
    let Some(this) = items.get(at) else { return false };
    let word = |index: usize| items.get(index).filter(|_| joins(items, index)).map_or("", |item| item.text.as_ref());
    // "2019 edition", "88123 on the drum".
    let article = usize::from(matches!(word(at + 2), "the" | "a"));
    let carried = matches!(word(at + 1), "on" | "of" | "from") && words::FOREIGN_BEFORE.contains(&word(at + 2 + article));
    if carried || (is_year(this) && words::FOREIGN_AFTER.contains(&word(at + 1))) {
        return true;
    }
    let mut index = at;
    while let Some(before) = index.checked_sub(1).filter(|_| joins(items, index)) {
        let Some(item) = items.get(before) else { return false };
        let word = item.text.as_ref();
        if name.items.contains(&before) {
            return false;
        }
        if item.kind != Kind::Mark && !words::NUMBERING.contains(&word) {
            let noun = words::CLAIMING.iter().chain(words::FOREIGN_BEFORE).any(|noun| is(word, noun));
            let hour = words::HOURS.contains(&word) && minutes(this).is_some();
            return noun || hour || (words::TIMING.contains(&word) && (is_year(this) || is_time(this)));
        }
        index = before;
    }
    false
}

/// True for the value of a key that has a meaning of its own.
fn is_of_a_key(items: &[Item<'_>], at: usize, name: &Name) -> bool {
    let Some(this) = items.get(at) else { return false };
    let name_piece = items.get(name.items.start).map(|item| item.piece);
    let mut unit = false;
    let mut index = at;
    while let Some(item) = index.checked_sub(1).and_then(|before| items.get(before)) {
        index -= 1;
        match item.place {
            Place::Text if item.piece == this.piece => return false,
            Place::Text => return unit,
            Place::Unit if Some(item.piece) == name_piece => return false,
            Place::Unit => unit |= words::UNITS.contains(&item.text.as_ref()),
            Place::Value if matches!(item.text.as_ref(), "(" | ")" | "=") => {}
            Place::Value => return unit,
            Place::Key if item.piece == this.piece || item.kind == Kind::Number => return false,
            Place::Key => {
                let neutral = words::NEUTRAL_KEYS.contains(&item.text.as_ref());
                return Some(item.piece) != name_piece && (unit || !neutral);
            }
        }
    }
    unit
}

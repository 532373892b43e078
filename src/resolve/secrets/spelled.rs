//! What is spelled out is put together: `P I N`, `4 4 1 7`, `44-17`, "four four one seven".

use std::borrow::Cow;

use super::items::{Gap, Item, Kind, Place};
use super::words;

/// How many digits a code has.
pub(crate) const CODE: std::ops::RangeInclusive<usize> = 4..=8;

/// The items with those that are spelled out as one.
pub(crate) fn joined(items: Vec<Item<'_>>) -> Vec<Item<'_>> {
    let mut joined: Vec<Item<'_>> = Vec::with_capacity(items.len());
    let mut at = 0;
    while let Some(first) = items.get(at) {
        let spelled = letters(&items, at).or_else(|| digit_words(&items, at)).or_else(|| groups(&items, at));
        let Some((end, kind, text)) = spelled else {
            joined.push(first.clone());
            at += 1;
            continue;
        };
        let last = items.get(end - 1).map_or(first.span.end, |item| item.span.end);
        let span = first.span.start..last;
        joined.push(Item { kind, text: Cow::Owned(text), span, grouped: kind == Kind::Number, ..first.clone() });
        at = end;
    }
    joined
}

/// Where the run ends, what it is, and its text.
type Spelled = Option<(usize, Kind, String)>;

/// Three single letters and more: `P.I.N.`
fn letters(items: &[Item<'_>], at: usize) -> Spelled {
    let letter = |item: &&Item<'_>| item.kind == Kind::Word && item.text.chars().count() == 1;
    let mut text = items.get(at).filter(letter)?.text.to_string();
    let mut end = at + 1;
    loop {
        let pointed = items.get(end).is_some_and(|item| item.text == "." && item.gap == Gap::None);
        let next = if pointed { end + 1 } else { end };
        let Some(item) = follows(items, next, Gap::Blank).filter(letter) else { break };
        text.push_str(&item.text);
        end = next + 1;
    }
    (end > at + 2 && text.chars().count() > 2).then_some((end, Kind::Word, text))
}

/// Four digits and more as words.
fn digit_words(items: &[Item<'_>], at: usize) -> Spelled {
    let value = |index: usize| {
        let word = items.get(index).filter(|item| item.kind == Kind::Word)?;
        words::DIGITS.iter().find(|(name, _)| *name == word.text).map(|(_, digit)| *digit)
    };
    let mut text = String::new();
    let (mut end, mut next) = (at, at);
    while text.len() <= *CODE.end() {
        let times = match items.get(next).map(|item| item.text.as_ref()) {
            Some("double") => 2,
            Some("triple" | "treble") => 3,
            _ => 1,
        };
        let word = if times > 1 { next + 1 } else { next };
        let Some(digit) = value(word).filter(|_| word == at || follows(items, word, Gap::Blank).is_some()) else {
            break;
        };
        text.push_str(&digit.repeat(times));
        end = word + 1;
        let joins = items.get(end).is_some_and(|item| matches!(item.text.as_ref(), "-" | ","));
        next = if joins { end + 1 } else { end };
    }
    CODE.contains(&text.len()).then_some((end, Kind::Number, text))
}

/// Four single digits and more, or groups of two or three, with the same mark or a blank between them.
fn groups(items: &[Item<'_>], at: usize) -> Spelled {
    let is_number = |item: &&Item<'_>| item.kind == Kind::Number && item.place == Place::Text;
    let first = items.get(at).filter(is_number)?;
    let length = first.text.len();
    // The rest of a date, or of a longer row, is no group.
    let back = |steps: usize| at.checked_sub(steps).and_then(|index| items.get(index));
    let row = first.gap == Gap::Blank && back(1).is_some_and(|item| is_number(&item) && item.text.len() == length);
    let glued = first.gap == Gap::None && back(1).is_some_and(|mark| mark.gap == Gap::None);
    if row || (glued && back(2).is_some_and(|item| is_number(&item))) {
        return None;
    }
    let mark = |index: usize| {
        let mark = items.get(index).filter(|item| item.kind == Kind::Mark && item.gap == Gap::None)?;
        let allowed = if length == 1 { "-.,·_*/|:;+~•–—−→>'" } else { "-" };
        allowed.contains(mark.text.as_ref()).then_some(mark.text.as_ref())
    };
    let between = mark(at + 1);
    let mut text = first.text.to_string();
    let mut end = at + 1;
    while text.len() <= *CODE.end() {
        let next = if between.is_some() { end + 1 } else { end };
        let gap = if between.is_some() { Gap::None } else { Gap::Blank };
        let item =
            follows(items, next, gap).filter(is_number).filter(|item| item.text.len() == length && item.gap == gap);
        let Some(item) = item.filter(|_| between.is_none() || mark(end) == between) else { break };
        text.push_str(&item.text);
        end = next + 1;
    }
    let count = text.len() / length.max(1);
    let long_enough = if length == 1 { count >= 4 } else { (2..=3).contains(&length) && count >= 2 };
    (long_enough && CODE.contains(&text.len())).then_some((end, Kind::Number, text))
}

/// The item of that index, where it follows the one before in the same piece with no wider gap.
fn follows<'i, 't>(items: &'i [Item<'t>], index: usize, widest: Gap) -> Option<&'i Item<'t>> {
    let before = items.get(index.checked_sub(1)?)?;
    items.get(index).filter(|item| item.piece == before.piece && item.gap <= widest)
}

//! The numbers behind a word: "the code for the cleaner is 4417", `codes 4417 5518`, `codes { ann 4417 }`.

use std::ops::Range;

use super::items::{Gap, Item, Kind, Place, is_kind, joined, joins};
use super::names::{Name, Sort, Weight};
use super::numbers::{is_year, value_at};
use super::spelled::CODE;
use super::ties::{Tie, Way, judge_behind};
use super::words;

/// How far a word reaches, in items.
const REACH: usize = 24;
/// Other words that may stand between a word and its value.
const MOST_OTHERS: usize = 8;
/// Other words that may stand between two values of a list.
const MOST_BETWEEN: usize = 3;
/// The most values of one list.
const MOST_LISTED: usize = 50;
/// How deep braces are looked into, and for how many items.
const DEEPEST: usize = 4;
const MOST_IN_BRACES: usize = 500;

/// The values behind a word.
pub(crate) fn behind(items: &[Item<'_>], name: &Name) -> Option<Tie> {
    let mut way = Way { said: name.key, ..Way::default() };
    let start = past_aside(items, name.items.end, name);
    for at in start..start + REACH {
        let item = items.get(at)?;
        if item.text == "{" && item.place == Place::Value {
            return if name.key { in_braces(items, at) } else { None };
        }
        way = way.over(item.gap, way.others == 0 || way.said)?;
        if let Some(value) = value_at(items, at, name) {
            // What is put together or has a letter behind it may be something else.
            let last = value.end - 1;
            let plain = name.key || name.sort == Sort::Account || (last < at + 2 && is_kind(items, last, Kind::Number));
            let certain = judge_behind(items, name, &value, way)? && plain;
            let mut tie = Tie::new(value.start, value.end, certain);
            follow(items, name, &mut tie.values);
            return Some(tie);
        }
        let own = item.place == Place::Key && items.get(name.items.start)?.piece == item.piece;
        way = if own { way } else { step(items, at, way)? };
    }
    None
}

/// Past what stands in parentheses at an item, unless it is the value.
fn past_aside(items: &[Item<'_>], at: usize, name: &Name) -> usize {
    let mut inner = (at + 1..at + 9).take_while(|index| joins(items, *index));
    let end = inner.find(|index| joined(items, *index) == ")" || value_at(items, *index, name).is_some());
    let aside = items.get(at).is_some_and(|item| item.text == "(" && item.place == Place::Text);
    end.filter(|end| aside && joined(items, *end) == ")").map_or(at, |end| end + 1)
}

/// The way past an item; `None` where it leads nowhere.
fn step(items: &[Item<'_>], at: usize, mut way: Way) -> Option<Way> {
    let item = items.get(at)?;
    let word = item.text.as_ref();
    match (item.kind, item.place) {
        (Kind::Mark, Place::Value) => {
            way.said |= word == "=";
            (!matches!(word, "}" | ";")).then_some(way)
        }
        (Kind::Mark, Place::Text | Place::Key | Place::Unit) => {
            way.said |= matches!(word, ":" | "=" | "→" | ">" | "[" | "|");
            let goes_on = way.others == 0 || items.get(at + 1).is_some_and(|next| next.gap == Gap::None);
            (goes_on || !matches!(word, "." | ";" | "!" | "?")).then_some(way)
        }
        (_, Place::Unit) => Some(way),
        (_, Place::Key) => words::NEUTRAL_KEYS.has(word).then_some(way),
        (_, Place::Text | Place::Value) if words::SAYING.has(word) => Some(Way { said: true, ..way }),
        (_, Place::Text | Place::Value) if words::LINKING.has(word) => Some(way),
        (Kind::Number, _) if word.len() < 3 => Some(Way { counted: true, ..way }),
        // The word that stands nearest to a number has it.
        (_, Place::Text | Place::Value) if item.weight.is_some_and(Weight::names_one) => None,
        (_, Place::Text | Place::Value) => {
            way.others += 1;
            way.said = false;
            (way.others <= MOST_OTHERS && !way.line).then_some(way)
        }
    }
}

/// Every number in the braces that open at an item.
fn in_braces(items: &[Item<'_>], opening: usize) -> Option<Tie> {
    let mut depth = 0_usize;
    let mut values = Vec::new();
    for (at, item) in items.iter().enumerate().skip(opening).take(MOST_IN_BRACES) {
        match (item.place, item.text.as_ref()) {
            (Place::Value, "{") => depth += 1,
            (Place::Value, "}") => depth -= 1,
            _ if item.kind == Kind::Number && CODE.contains(&item.digits()) => values.push(at..at + 1),
            _ => {}
        }
        if depth == 0 || depth > DEEPEST {
            break;
        }
    }
    (!values.is_empty()).then_some(Tie { values, certain: true })
}

/// Takes in the values that are listed after the last: "4417 (Ann), 5518".
fn follow(items: &[Item<'_>], name: &Name, values: &mut Vec<Range<usize>>) {
    let most = if name.sort == Sort::Account { 0 } else { MOST_BETWEEN };
    let mut others = 0;
    let mut at = values.last().map_or(0, |value| value.end);
    while let Some(item) = items.get(at).filter(|_| values.len() < MOST_LISTED) {
        if let Some(value) = value_at(items, at, name).filter(|_| !is_year(item) && item.gap < Gap::Far) {
            at = value.end;
            values.push(value);
            others = 0;
            continue;
        }
        let word = item.text.as_ref();
        let braces = item.place == Place::Value && matches!(word, "{" | "}" | ";");
        let ends = item.gap >= Gap::Line || item.place == Place::Key || braces || matches!(word, "!" | "?");
        let joining = item.kind == Kind::Mark || matches!(word, "and" | "or" | "then" | "now" | "was" | "is");
        others += usize::from(!joining);
        if ends || others > most || item.weight.is_some_and(|weight| weight != Weight::Thing) {
            return;
        }
        at += 1;
    }
}

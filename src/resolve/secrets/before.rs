//! The numbers before a word: "4417 is the code", "4417 (code)", "4417 and 5518 are the PINs".

use std::ops::Range;

use super::items::{Item, Kind, Place, glued, is_kind, joins};
use super::names::{Name, Sort, Weight};
use super::numbers::value_at;
use super::ties::{Tie, Way, judge_before};
use super::words;

/// The values before a word. Where one is known to stand behind it, others may be farther off: "it was 4417, now the code
/// is 5518".
pub(crate) fn before(items: &[Item<'_>], name: &Name, known: bool) -> Option<Tie> {
    let most_others = if known || name.weight == Weight::Personal { 4 } else { 1 };
    let mut way = Way::default();
    let mut at = name.items.start;
    loop {
        way = way.over(items.get(at)?.gap, way.others == 0)?;
        at = at.checked_sub(1)?;
        // An account may have letters in front.
        let start = if name.sort == Sort::Account { beginning(items, at) } else { at };
        if let Some(value) = value_at(items, start, name).filter(|value| value.contains(&at)) {
            let certain = if known { false } else { judge_before(items, name, &value, way)? };
            let mut tie = Tie::new(value.start, value.end, certain);
            precede(items, name, &mut tie.values);
            return Some(tie);
        }
        way = step(items.get(at)?, way).filter(|way| way.others <= most_others)?;
    }
}

/// The way past an item; `None` where it leads nowhere.
fn step(item: &Item<'_>, mut way: Way) -> Option<Way> {
    let word = item.text.as_ref();
    match (item.kind, item.place) {
        (_, Place::Key | Place::Unit | Place::Value) => None,
        (Kind::Mark, Place::Text) => {
            way.said |= matches!(word, "=" | ":" | "(" | "-" | "–" | "→");
            (!matches!(word, "." | ";" | "!" | "?" | ")")).then_some(way)
        }
        (Kind::Word | Kind::Number, Place::Text) => {
            let small = words::LINKING.has(word) || words::PLAIN.has(word) || words::PERSONAL.has(word);
            way.said |= words::SAYING.has(word);
            way.others += usize::from(!small && !words::SAYING.has(word) && !word.ends_with("'s"));
            Some(way)
        }
    }
}

/// Where the letters and digits around an item begin.
fn beginning(items: &[Item<'_>], at: usize) -> usize {
    let mut start = at;
    while glued(items, start) && !is_kind(items, start - 1, Kind::Mark) {
        start -= 1;
    }
    start
}

/// Takes in the values that are listed before the first: "4417 and 5518 are".
fn precede(items: &[Item<'_>], name: &Name, values: &mut Vec<Range<usize>>) {
    let first = values.last().map_or(0, |value| value.start);
    for at in (0..first).rev().take_while(|at| joins(items, at + 1)) {
        if let Some(value) = value_at(items, at, name) {
            values.push(value);
        } else if !items.get(at).is_some_and(|item| matches!(item.text.as_ref(), "," | "/" | "&" | "and" | "or")) {
            return;
        }
    }
}

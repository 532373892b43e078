//! Which numbers a word is tied to: those behind it, those before it, those in its braces.

use std::ops::Range;

use super::items::{Gap, Item, Kind, Place};
use super::names::{Name, Sort, Weight, is, joins, name_at};
use super::numbers::{is_time, is_year, value_at};
use super::words;

/// How far a word reaches, in items.
const REACH: usize = 24;
/// Other words that may stand between a word and its value.
const OTHERS: usize = 8;

/// The values that a word is tied to.
#[derive(Debug)]
pub struct Tie {
    /// Item indexes of each value; never empty.
    pub values: Vec<Range<usize>>,
    pub certain: bool,
}

/// What was met on the way from a word to a number.
#[derive(Clone, Copy, Debug, Default)]
struct Way {
    /// Words that say nothing about it.
    others: usize,
    /// True where "is", a colon or an equals sign says that the value follows.
    said: bool,
    /// True where the line ended.
    line: bool,
    /// True past a small number, as in "user 2: 4417".
    counted: bool,
}

/// The values behind a word.
pub fn behind(items: &[Item<'_>], name: &Name) -> Option<Tie> {
    let mut way = Way { said: name.key, ..Way::default() };
    // What stands in parentheses is passed, unless it is the value.
    let mut past = aside(items, name.items.end, name);
    for at in name.items.end..name.items.end + REACH {
        let item = items.get(at)?;
        if item.text == "{" && item.place == Place::Value {
            return if name.key { in_braces(items, at) } else { None };
        }
        match item.gap {
            Gap::Far => return None,
            Gap::Line if way.line || (way.others > 0 && !way.said) => return None,
            Gap::Line => way.line = true,
            Gap::None | Gap::Blank => {}
        }
        if at < past {
            continue;
        }
        if let Some(value) = value_at(items, at, name) {
            let certain = judge(items, name, &value, way)?;
            let mut values = vec![value];
            follow(items, name, &mut values);
            return Some(Tie { values, certain });
        }
        let own = item.place == Place::Key && item.piece == items.get(name.items.start)?.piece;
        way = if own { way } else { step(items, at, way)? };
    }
    None
}

/// The end of what stands in parentheses at an item; the item itself where there is nothing of the kind.
fn aside(items: &[Item<'_>], at: usize, name: &Name) -> usize {
    let opens = items.get(at).is_some_and(|item| item.text == "(" && item.place == Place::Text);
    let mut inner = (at + 1..at + 9).filter(|_| opens).take_while(|index| joins(items, *index));
    let end = inner.find(|index| items.get(*index).is_some_and(|item| item.text == ")") || value_at(items, *index, name).is_some());
    end.filter(|end| items.get(*end).is_some_and(|item| item.text == ")")).map_or(at, |end| end + 1)
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
            let glued = items.get(at + 1).is_some_and(|next| next.gap == Gap::None);
            let ends = matches!(word, "." | ";" | "!" | "?") && way.others > 0 && !glued;
            (!ends).then_some(way)
        }
        (_, Place::Unit) => Some(way),
        (_, Place::Key) => words::NEUTRAL_KEYS.contains(&word).then_some(way),
        (Kind::Word, Place::Text | Place::Value) if name_at(items, at).is_some_and(|other| is_secret(other.weight)) => None,
        (Kind::Word, Place::Text | Place::Value) if words::SAYING.contains(&word) => {
            way.said = true;
            Some(way)
        }
        (Kind::Word, Place::Text | Place::Value) if words::LINKING.contains(&word) => Some(way),
        (Kind::Word | Kind::Number, Place::Text | Place::Value) => {
            let small = item.kind == Kind::Number && item.text.len() < 3;
            way.counted |= small;
            way.said &= small;
            way.others += usize::from(!small);
            (way.others <= OTHERS && !way.line).then_some(way)
        }
    }
}

fn is_secret(weight: Weight) -> bool {
    matches!(weight, Weight::Personal | Weight::Plain | Weight::Vague)
}

/// Whether a value behind a word is a secret, and for certain.
fn judge(items: &[Item<'_>], name: &Name, value: &Range<usize>, way: Way) -> Option<bool> {
    let first = items.get(value.start)?;
    let doubtful = is_year(first) && !way.said;
    let direct = way.others == 0;
    // In a node, one value says little about the next.
    let name_piece = items.get(name.items.end - 1)?.piece;
    let next_value = first.piece != name_piece && !way.said && !way.line && !name.key;
    let several = name.items.len() > 1;
    let start = items.get(name.items.start)?.text.as_ref();
    let pin = is(start, "pin") && way.counted;
    match name.weight {
        Weight::Personal if next_value && !several => None,
        Weight::Personal if direct => Some((!doubtful && !way.line || way.said) && !pin),
        Weight::Plain if direct => Some(!doubtful && !way.line && !next_value),
        Weight::Personal if way.said => Some(!way.line),
        Weight::Plain if way.said => Some(false),
        Weight::Personal => (!doubtful && !is_time(first)).then_some(false),
        Weight::Plain => (way.others < 3 && !doubtful).then_some(false),
        Weight::Vague => (direct && !doubtful).then_some(false),
        Weight::Role => {
            let user = way.others < 2 && start == "user";
            ((direct || user) && !way.line && (way.said || !is_time(first)) && !doubtful).then_some(false)
        }
        Weight::Thing => (direct && way.said && !way.line).then_some(false),
        Weight::Use => {
            let after = items.get(value.end).map_or("", |item| item.text.as_ref());
            let goes_on = matches!(after, "" | "." | "," | "#" | "and" | "at" | "into" | "on" | "then" | "to" | "twice");
            let several = name.items.len() > 1;
            let typed = match start {
                "type" if !several => goes_on && !after.is_empty(),
                "enter" | "press" => goes_on,
                _ => true,
            };
            (direct && !way.line && !doubtful && typed).then_some(false)
        }
    }
}

/// Every number in the braces that open at an item.
fn in_braces(items: &[Item<'_>], opening: usize) -> Option<Tie> {
    let mut depth = 0_usize;
    let mut values = Vec::new();
    for (at, item) in items.iter().enumerate().skip(opening) {
        match (item.place, item.text.as_ref()) {
            (Place::Value, "{") => depth += 1,
            (Place::Value, "}") => depth -= 1,
            _ if item.kind == Kind::Number && super::spelled::CODE.contains(&item.text.len()) => values.push(at..at + 1),
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    (!values.is_empty()).then_some(Tie { values, certain: true })
}

/// Takes in the values that are listed after the last: "4417 (Ann), 5518".
fn follow(items: &[Item<'_>], name: &Name, values: &mut Vec<Range<usize>>) {
    let mut others = 0;
    let mut at = values.last().map_or(0, |value| value.end);
    while let Some(item) = items.get(at) {
        let value = value_at(items, at, name).filter(|_| !is_year(item));
        if let Some(value) = value {
            at = value.end;
            values.push(value);
            others = 0;
            continue;
        }
        let word = item.text.as_ref();
        let ends = item.gap >= Gap::Line
            || item.place == Place::Key
            || (item.place == Place::Value && matches!(word, "{" | "}" | ";"))
            || matches!(word, "!" | "?");
        let joining = item.kind == Kind::Mark || matches!(word, "and" | "or" | "then" | "now" | "was" | "is");
        others += usize::from(!joining);
        let most = if name.sort == Sort::Account { 0 } else { 3 };
        if ends || others > most || name_at(items, at).is_some_and(|other| is_secret(other.weight)) {
            return;
        }
        at += 1;
    }
}

/// The values before a word: "4417 is the code", "4417 (code)". Where a value is known to stand behind it, others may be
/// farther off: "it was 4417, now the code is 5518".
pub fn before(items: &[Item<'_>], name: &Name, known: bool) -> Option<Tie> {
    let mut way = Way::default();
    let most = if known || name.weight == Weight::Personal { 4 } else { 1 };
    let mut at = name.items.start;
    loop {
        let gap = items.get(at)?.gap;
        at = at.checked_sub(1)?;
        let item = items.get(at)?;
        match gap {
            Gap::Far => return None,
            Gap::Line if way.line || way.others > 0 => return None,
            Gap::Line => way.line = true,
            Gap::None | Gap::Blank => {}
        }
        // An account may have letters in front.
        let start = if name.sort == Sort::Account { cluster(items, at) } else { at };
        if let Some(value) = value_at(items, start, name).filter(|value| value.contains(&at)) {
            let certain = if known { false } else { judge_before(items, name, &value, way)? };
            let mut values = vec![value];
            precede(items, name, &mut values);
            return Some(Tie { values, certain });
        }
        let word = item.text.as_ref();
        match (item.kind, item.place) {
            (_, Place::Key | Place::Unit | Place::Value) => return None,
            (Kind::Mark, Place::Text) => {
                way.said |= matches!(word, "=" | ":" | "(" | "-" | "–" | "→");
                if matches!(word, "." | ";" | "!" | "?" | ")") {
                    return None;
                }
            }
            (Kind::Word, Place::Text) if words::SAYING.contains(&word) => way.said = true,
            (Kind::Word, Place::Text)
                if words::LINKING.contains(&word)
                    || words::PLAIN.contains(&word)
                    || words::PERSONAL.contains(&word)
                    || word.ends_with("'s") => {}
            (Kind::Word | Kind::Number, Place::Text) => {
                way.others += 1;
                if way.others > most {
                    return None;
                }
            }
        }
    }
}

/// Where the letters and digits around an item begin.
fn cluster(items: &[Item<'_>], at: usize) -> usize {
    let mut start = at;
    while start > 0
        && joins(items, start)
        && items.get(start).is_some_and(|item| item.gap == Gap::None)
        && items.get(start - 1).is_some_and(|before| before.kind != Kind::Mark)
    {
        start -= 1;
    }
    start
}

/// Whether a value before a word is a secret, and for certain.
fn judge_before(items: &[Item<'_>], name: &Name, value: &Range<usize>, way: Way) -> Option<bool> {
    let first = items.get(value.start)?;
    let direct = way.others == 0;
    let doubtful = is_year(first) && !way.said;
    match name.weight {
        Weight::Personal | Weight::Plain if doubtful => None,
        Weight::Personal if direct => Some(way.said && !way.line),
        Weight::Plain if direct => Some(way.said && !way.line),
        Weight::Personal => (!is_time(first)).then_some(false),
        Weight::Plain => way.said.then_some(false),
        Weight::Vague => (direct && way.said).then_some(false),
        Weight::Role => (direct && way.said && !way.line && !is_time(first)).then_some(false),
        Weight::Thing => None,
        Weight::Use => {
            let disarms = matches!(items.get(name.items.start)?.text.as_ref(), "disarm" | "disarms" | "unset" | "unsets");
            (direct && disarms && !doubtful && !is_time(first)).then_some(false)
        }
    }
}

/// Takes in the values that are listed before the first: "4417 and 5518 are".
fn precede(items: &[Item<'_>], name: &Name, values: &mut Vec<Range<usize>>) {
    let mut at = values.last().map_or(0, |value| value.start);
    while let Some(before) = at.checked_sub(1).filter(|_| joins(items, at)) {
        let Some(item) = items.get(before) else { return };
        at = before;
        if let Some(value) = value_at(items, at, name) {
            values.push(value);
        } else if !matches!(item.text.as_ref(), "," | "/" | "&" | "and" | "or") {
            return;
        }
    }
}

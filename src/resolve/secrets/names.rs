//! The words that name a secret, and how much each of them says.

use std::ops::Range;

use super::items::{Gap, Item, Kind, Place};
use super::words;

/// What kind of value a word calls for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// 4 to 8 digits.
    Code,
    /// 3 to 16 letters and digits, at least 3 of them digits.
    Account,
    /// A word or several.
    Phrase,
}

impl Sort {
    /// In words.
    pub fn what(self) -> &'static str {
        match self {
            Self::Code => "a user code",
            Self::Account => "an account number",
            Self::Phrase => "a passphrase",
        }
    }
}

/// How much a word says about the value beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// "alarm code", "PIN", "account number": a value beside it is a secret.
    Personal,
    /// "code", "account": so it is, but a year beside it may be an edition.
    Plain,
    /// "stairs code": of what, nobody knows.
    Vague,
    /// "cleaner": not of a secret, but people write codes that way.
    Role,
    /// "keypad": the same, but only where "is" or a colon stands between.
    Thing,
    /// "disarm with": what one does with a code.
    Use,
}

/// A word that names a secret, with what stands before it.
#[derive(Clone, Debug)]
pub struct Name {
    pub sort: Sort,
    pub weight: Weight,
    /// Indexes of its items.
    pub items: Range<usize>,
    /// True where it is the name of a node or property.
    pub key: bool,
    /// True where several are named.
    pub plural: bool,
}

/// The name that begins at an item.
pub fn name_at(items: &[Item<'_>], at: usize) -> Option<Name> {
    let first = items.get(at).filter(|item| item.kind == Kind::Word && item.place != Place::Value)?;
    if is_in_a_type(items, at) {
        return None;
    }
    secret_at(items, at, first).or_else(|| hint_at(items, at, first))
}

/// True in the name of a part or cable, which comes from a catalogue.
fn is_in_a_type(items: &[Item<'_>], at: usize) -> bool {
    let piece = items.get(at).map(|item| item.piece);
    let mut before = items.get(..at).unwrap_or_default().iter().rev().take(8).skip_while(|item| Some(item.piece) == piece);
    let first = before.next();
    let key = first.filter(|item| item.place == Place::Key).or_else(|| before.next().filter(|_| first.is_some_and(|item| item.text == "=")));
    key.is_some_and(|key| key.place == Place::Key && words::TYPES.contains(&key.text.as_ref()))
}

fn secret_at(items: &[Item<'_>], at: usize, first: &Item<'_>) -> Option<Name> {
    let named = words::SECRETS.iter().filter_map(|(name, sort)| Some((phrase_end(items, at, name)?, *sort)));
    let compound = compound(&first.text).then_some((at + 1, Sort::Code));
    let (end, sort) = named.chain(compound).max_by_key(|(end, _)| *end)?;
    let weight = weight(items, at, end, sort)?;
    let last = items.get(end - 1)?;
    let (start, qualifier) = before(items, at).unwrap_or((at, ""));
    let qualified = end == at + 1 && words::PERSONAL.contains(&qualifier);
    Some(Name {
        sort,
        weight,
        items: if qualified { start } else { at }..end,
        key: first.place != Place::Text,
        plural: last.text.ends_with('s') && !last.text.ends_with("ss"),
    })
}

/// What only hints at a code.
fn hint_at(items: &[Item<'_>], at: usize, first: &Item<'_>) -> Option<Name> {
    let hints = words::HINTS.iter().filter_map(|(name, weight)| Some((phrase_end(items, at, name)?, *weight)));
    let (end, weight) = hints.max_by_key(|(end, _)| *end)?;
    let allowed = first.place == Place::Text || weight == Weight::Role;
    let name = Name { sort: Sort::Code, weight, items: at..end, key: first.place != Place::Text, plural: false };
    (allowed && !foreign_after(items, end)).then_some(name)
}

/// How much a secret's word says; `None` where it is a word of the trade.
fn weight(items: &[Item<'_>], at: usize, end: usize, sort: Sort) -> Option<Weight> {
    // A number before it, as in a list, is no qualifier; that of a standard is.
    let before = before(items, at).map(|(_, word)| word).filter(|word| word.parse::<u64>().is_err() || word.len() < 4);
    let foreign = |list: &[&str]| before.is_some_and(|word| list.iter().any(|foreign| is(word, foreign)));
    if foreign_after(items, end) || foreign(words::FOREIGN_BEFORE) {
        return None;
    }
    let name = items.get(end - 1)?.text.as_ref();
    match sort {
        Sort::Account => {
            let next = next_word(items, end);
            let figure = foreign(words::FIGURES_OF_SPEECH) || next == Some("for");
            let numbered = next.is_some_and(|word| words::NUMBERING.contains(&word)) || name == "no";
            let party = words::PARTIES.iter().any(|party| is(name, party));
            let weight = if numbered { Weight::Personal } else if party { Weight::Vague } else { Weight::Plain };
            (!figure || numbered).then_some(weight)
        }
        Sort::Code if is(name, "code") && end == at + 1 => Some(match before {
            None => Weight::Plain,
            Some(word) if word.ends_with("'s") || words::PERSONAL.contains(&word) => Weight::Personal,
            Some(word) if words::PLAIN.contains(&word) => Weight::Plain,
            Some(_) => Weight::Vague,
        }),
        Sort::Phrase if name == "pass" => Some(Weight::Vague),
        Sort::Code | Sort::Phrase => Some(Weight::Personal),
    }
}

/// True for a word, its plural and its possessive.
pub fn is(word: &str, name: &str) -> bool {
    word.strip_prefix(name).is_some_and(|rest| matches!(rest, "" | "s" | "'s"))
}

/// "usercode".
fn compound(word: &str) -> bool {
    let whose = word.strip_suffix("codes").or_else(|| word.strip_suffix("code"));
    whose.is_some_and(|whose| words::PERSONAL.contains(&whose))
}

/// Where a name of several words ends; a hyphen, a point or an underscore may stand between them.
fn phrase_end(items: &[Item<'_>], at: usize, name: &[&str]) -> Option<usize> {
    let mut end = at;
    for (nth, word) in name.iter().enumerate() {
        if nth > 0 && items.get(end).is_some_and(|item| matches!(item.text.as_ref(), "-" | "_" | ".") && item.text != *word) {
            end += 1;
        }
        let item = items.get(end)?;
        let last = nth + 1 == name.len();
        let same = if last { is(&item.text, word) } else { item.text == *word };
        if !same || (nth > 0 && !joins(items, end)) {
            return None;
        }
        end += 1;
    }
    Some(end)
}

/// True where an item follows the one before it in the same piece, on the same line.
pub fn joins(items: &[Item<'_>], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|before| items.get(before));
    items.get(at).zip(before).is_some_and(|(item, before)| item.piece == before.piece && item.gap <= Gap::Blank)
}

/// The word before an item, over a hyphen, and its index.
fn before<'i>(items: &'i [Item<'_>], at: usize) -> Option<(usize, &'i str)> {
    let hyphen = at.checked_sub(1).and_then(|index| items.get(index)).filter(|item| matches!(item.text.as_ref(), "-" | "_"));
    let first = if hyphen.is_some() && joins(items, at) { at - 1 } else { at };
    let index = first.checked_sub(1).filter(|_| joins(items, first))?;
    items.get(index).filter(|item| item.kind != Kind::Mark).map(|item| (index, item.text.as_ref()))
}

/// The word after an item, over marks.
fn next_word<'i>(items: &'i [Item<'_>], end: usize) -> Option<&'i str> {
    let more = items.get(end..)?.iter().enumerate().take_while(|(index, _)| joins(items, end + index));
    let mut more = more.map(|(_, item)| item).filter(|item| item.kind != Kind::Mark || item.text == "#");
    more.next().map(|item| item.text.as_ref())
}

/// True where what follows makes a thing of the trade of a name: "code lock", "code of practice".
fn foreign_after(items: &[Item<'_>], end: usize) -> bool {
    let word = |at: usize| items.get(at).filter(|item| item.kind == Kind::Word && joins(items, at)).map(|item| item.text.as_ref());
    let hyphen = items.get(end).is_some_and(|item| item.text == "-" && item.gap == Gap::None);
    let at = if hyphen { end + 1 } else { end };
    let at = if word(at) == Some("of") { at + 1 } else { at };
    word(at).is_some_and(|word| words::FOREIGN_AFTER.contains(&word))
}

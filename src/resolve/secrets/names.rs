//! The words that name a secret, and how much each of them says.

use std::ops::Range;

use super::items::{Item, Kind, Place, glued, joined, joins};
use super::words::{self, Means, is_form};

/// What kind of value a word calls for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    /// 4 to 8 digits.
    Code,
    /// 3 to 16 letters and digits, at least 3 of them digits.
    Account,
    /// A word or several.
    Phrase,
}

impl Sort {
    /// In words.
    pub(crate) fn what(self) -> &'static str {
        match self {
            Self::Code => "a user code",
            Self::Account => "an account number",
            Self::Phrase => "a passphrase",
        }
    }
}

/// How much a word says about the value beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
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

impl Weight {
    /// False for what only hints at a secret.
    pub(crate) fn names_one(self) -> bool {
        matches!(self, Self::Personal | Self::Plain | Self::Vague)
    }
}

/// A word that names a secret, with what stands before it.
#[derive(Clone, Debug)]
pub(crate) struct Name {
    pub(crate) sort: Sort,
    pub(crate) weight: Weight,
    /// Indexes of its items.
    pub(crate) items: Range<usize>,
    /// Its first word.
    pub(crate) first: String,
    /// True where it is the name of a node or property, or an annotation.
    pub(crate) key: bool,
    /// True where several are named.
    pub(crate) plural: bool,
}

/// The name of which the last part begins at an item.
pub(crate) fn name_at(items: &[Item<'_>], at: usize) -> Option<Name> {
    let first = items.get(at).filter(|item| item.kind == Kind::Word && item.place != Place::Value)?;
    let named = words::names_from(&first.text).filter_map(|(name, means)| Some((phrase_end(items, at, name)?, *means)));
    let compound = compound(&first.text).then_some((at + 1, Means::Secret(Sort::Code)));
    let (end, means) = named.chain(compound).max_by_key(|(end, _)| *end)?;
    if is_in_a_type(items, at) {
        return None;
    }
    let (sort, weight) = match means {
        Means::Secret(sort) => (sort, weight(items, at, end, sort)?),
        Means::Hint(weight) if first.place == Place::Text || weight == Weight::Role => (Sort::Code, weight),
        Means::Hint(_) => return None,
    };
    if foreign_after(items, end) {
        return None;
    }
    // "alarm code" is one name.
    let qualifier =
        before(items, at).filter(|(_, word)| weight.names_one() && end == at + 1 && words::PERSONAL.has(word));
    Some(Name {
        sort,
        weight,
        items: qualifier.map_or(at, |(index, _)| index)..end,
        first: first.text.to_string(),
        key: first.place != Place::Text,
        plural: items.get(end - 1).is_some_and(|last| last.text.ends_with('s')),
    })
}

/// How much a secret's word says; `None` where it is a word of the trade.
fn weight(items: &[Item<'_>], at: usize, end: usize, sort: Sort) -> Option<Weight> {
    // A number before it, as in a list, is no qualifier; that of a standard is.
    let before = before(items, at).map(|(_, word)| word).filter(|word| word.len() < 4 || word.parse::<u64>().is_err());
    if before.is_some_and(|word| words::FOREIGN_BEFORE.has_form(word)) {
        return None;
    }
    let name = items.get(end - 1)?.text.as_ref();
    match sort {
        Sort::Account => {
            let next = next_word(items, end);
            let numbered = name == "no" || next.is_some_and(|word| words::NUMBERING.has(word));
            let figure = next == Some("for") || before.is_some_and(|word| words::FIGURES_OF_SPEECH.has(word));
            let party = words::PARTIES.has_form(name);
            let weight = if party { Weight::Vague } else { Weight::Plain };
            if numbered { Some(Weight::Personal) } else { (!figure).then_some(weight) }
        }
        Sort::Code if end == at + 1 && is_form(name, "code") => Some(match before {
            None => Weight::Plain,
            Some(word) if word.ends_with("'s") || words::PERSONAL.has(word) => Weight::Personal,
            Some(word) if words::PLAIN.has(word) => Weight::Plain,
            Some(_) => Weight::Vague,
        }),
        Sort::Phrase if name == "pass" => Some(Weight::Vague),
        Sort::Code | Sort::Phrase => Some(Weight::Personal),
    }
}

/// True in the name of a part or cable, which comes from a catalogue.
fn is_in_a_type(items: &[Item<'_>], at: usize) -> bool {
    let piece = items.get(at).map(|item| item.piece);
    let before = items.get(..at).unwrap_or_default().iter().rev().take(8);
    let mut before = before.skip_while(|item| Some(item.piece) == piece).skip_while(|item| item.text == "=");
    before.next().is_some_and(|key| key.place == Place::Key && words::TYPES.has(&key.text))
}

/// "usercode".
fn compound(word: &str) -> bool {
    let whose = word.strip_suffix("codes").or_else(|| word.strip_suffix("code"));
    whose.is_some_and(|whose| words::PERSONAL.has(whose))
}

/// Where a name of these words ends; a hyphen, a point or an underscore may stand between two of them.
fn phrase_end(items: &[Item<'_>], at: usize, name: &[&str]) -> Option<usize> {
    let mut end = at;
    for (nth, word) in name.iter().enumerate() {
        let between = items.get(end).is_some_and(|item| matches!(item.text.as_ref(), "-" | "_" | "."));
        end += usize::from(nth > 0 && between);
        let written = items.get(end).filter(|_| nth == 0 || joins(items, end))?.text.as_ref();
        let same = if nth + 1 < name.len() { written == *word } else { is_form(written, word) };
        end += 1;
        if !same {
            return None;
        }
    }
    Some(end)
}

/// The word before an item, over a hyphen, and its index.
fn before<'i>(items: &'i [Item<'_>], at: usize) -> Option<(usize, &'i str)> {
    let hyphen = joins(items, at) && items.get(at - 1).is_some_and(|mark| matches!(mark.text.as_ref(), "-" | "_"));
    let first = if hyphen { at - 1 } else { at };
    let index = first.checked_sub(1).filter(|_| joins(items, first))?;
    items.get(index).filter(|item| item.kind != Kind::Mark).map(|item| (index, item.text.as_ref()))
}

/// The word after an item, over marks.
fn next_word<'i>(items: &'i [Item<'_>], end: usize) -> Option<&'i str> {
    let is_word = |index: &usize| items.get(*index).is_some_and(|item| item.kind != Kind::Mark || item.text == "#");
    let mut more = (end..).take_while(|index| joins(items, *index));
    more.find(is_word).map(|index| joined(items, index))
}

/// True where what follows makes a thing of the trade of a name: "code lock", "code of practice".
fn foreign_after(items: &[Item<'_>], end: usize) -> bool {
    let hyphen = usize::from(glued(items, end) && joined(items, end) == "-");
    let of = usize::from(joined(items, end + hyphen) == "of");
    words::FOREIGN_AFTER.has(joined(items, end + hyphen + of))
}

//! Passphrases: words instead of numbers, so that only the form of the sentence tells them from talk about one.

use std::ops::Range;

use super::items::{Gap, Item, Kind, Place, glued, is_kind, joined, joins};
use super::names::{Name, Weight};
use super::numbers::is_year;
use super::spelled::CODE;
use super::ties::Tie;
use super::words;

/// The most words of a passphrase without quotation marks.
const MOST_WORDS: usize = 4;
/// The most words and marks of a value.
const LONGEST: usize = 200;

/// The passphrase behind a word.
pub(crate) fn behind(items: &[Item<'_>], name: &Name) -> Option<Tie> {
    let start = past_whom(items, name.items.end);
    let sign = sign(items, start, name)?;
    if sign.quoted {
        return quoted(items, sign.at);
    }
    let first = items.get(sign.at)?;
    let end = clause(items, sign.at, name);
    let value = items.get(sign.at..end)?;
    let count = 1 + value.iter().skip(1).filter(|item| item.kind != Kind::Mark && item.gap > Gap::None).count();
    let not_given = first.text == "n" && count == 1 && joined(items, sign.at + 1) == "/";
    if words::NOWHERE.has(&first.text) || not_given || count > MOST_WORDS {
        return None;
    }
    let digits = value.iter().any(|item| item.kind == Kind::Number);
    let letters = value.iter().any(|item| item.kind == Kind::Word);
    if name.weight == Weight::Vague {
        // "pass:" may go on in many ways.
        let number = end == sign.at + 1 && CODE.contains(&first.text.len()) && !is_year(first);
        return (sign.said && count == 1 && digits && (letters || number)).then(|| Tie::new(sign.at, end, false));
    }
    // A string of its own behind the word: `password "bluebird"`.
    let own = first.piece != items.get(sign.at - 1)?.piece && first.place == Place::Text;
    let direct = start == name.items.end;
    if name.key || own || (direct && sign.said && (count == 1 || digits)) {
        return Some(Tie::new(sign.at, end, true));
    }
    if sign.said || (sign.is && count < 3) {
        return Some(Tie::new(sign.at, end, false));
    }
    // Without any sign between, only what no sentence goes on with: "hunter22", "4417".
    let end = unbroken(items, sign.at);
    let mixed = items.get(sign.at..end)?.iter().any(|item| item.kind == Kind::Number);
    let word = first.kind == Kind::Word && first.gap == Gap::Blank;
    let number = first.kind == Kind::Number && first.text.len() > 2;
    ((word && mixed) || number).then(|| Tie::new(sign.at, end, true))
}

/// What stands between the word and the passphrase.
struct Sign {
    /// The first item of the passphrase, or the quotation mark before it.
    at: usize,
    quoted: bool,
    /// A colon or the like, or the equals sign of a key.
    said: bool,
    /// "is".
    is: bool,
}

fn sign(items: &[Item<'_>], start: usize, name: &Name) -> Option<Sign> {
    let mut sign = Sign { at: start, quoted: false, said: name.key, is: false };
    loop {
        let item = items.get(sign.at)?;
        if item.gap == Gap::Far || item.place == Place::Key {
            return None;
        }
        let word = item.text.as_ref();
        match item.kind {
            Kind::Mark if is_quote(word) => return Some(Sign { quoted: true, ..sign }),
            Kind::Mark if matches!(word, "." | ";" | "{" | "}" | "," | "/" | "!" | "?") => return None,
            Kind::Mark => sign.said |= matches!(word, ":" | "=" | "[" | ">" | "→"),
            Kind::Word if words::SAYING.has(word) => sign.is = true,
            Kind::Word | Kind::Number => return Some(sign),
        }
        sign.at += 1;
    }
}

/// Past "for the station", "(verbal)", "we gave them", where a quotation mark, a colon or the like follows.
fn past_whom(items: &[Item<'_>], at: usize) -> usize {
    let whom = matches!(joined(items, at), "(" | "for" | "of" | "with" | "at");
    let ends = |word: &str| matches!(word, "." | ";" | "," | "/");
    let says = |word: &str| matches!(word, ":" | "=") || is_quote(word) || (whom && word == "is");
    let mut clause = (at..at + 8).take_while(|index| joins(items, *index) && !ends(joined(items, *index)));
    clause.find(|index| says(joined(items, *index))).unwrap_or(at)
}

/// The passphrase before a word: `"heron" is the password`.
pub(crate) fn before(items: &[Item<'_>], name: &Name) -> Option<Tie> {
    let mut is = false;
    for at in (0..name.items.start).rev().take_while(|at| joins(items, at + 1)) {
        let item = items.get(at)?;
        let word = item.text.as_ref();
        match item.kind {
            Kind::Mark if is_quote(word) && is => {
                let mut before = (0..at).rev().take(2 * MOST_WORDS);
                let opening = before.find(|index| items.get(*index).is_some_and(|item| is_quote(&item.text)))?;
                return (opening + 1 < at).then(|| Tie::new(opening + 1, at, true));
            }
            Kind::Mark => return None,
            Kind::Word if words::SAYING.has(word) => is = true,
            Kind::Word if matches!(word, "the" | "our" | "my" | "your" | "their") => {}
            Kind::Word | Kind::Number => {
                let alone = !joins(items, at) || is_kind(items, at - 1, Kind::Mark);
                let points = matches!(word, "here" | "it" | "that" | "there" | "this" | "what" | "where" | "which");
                return (is && alone && !points).then(|| Tie::new(at, at + 1, false));
            }
        }
    }
    None
}

fn is_quote(mark: &str) -> bool {
    matches!(mark, "\"" | "'" | "“" | "”" | "„" | "‘" | "«" | "»")
}

/// What stands in the quotation marks that open at an item.
fn quoted(items: &[Item<'_>], opening: usize) -> Option<Tie> {
    let start = opening + 1;
    let inner = (start..start + LONGEST).take_while(|at| joins(items, *at) && !is_quote(joined(items, *at)));
    let end = inner.last()? + 1;
    let first = joined(items, start);
    let says = (start..end).any(|at| !is_kind(items, at, Kind::Mark));
    let nowhere = words::NOWHERE.has(first) && !matches!(first, "the" | "a");
    (says && !nowhere).then(|| Tie::new(start, end, true))
}

/// Where a clause ends. The value of a key is one whole.
fn clause(items: &[Item<'_>], at: usize, name: &Name) -> usize {
    let ends = |at: usize| match joined(items, at) {
        "and" | "or" => name.plural,
        "." | "," | ";" | "(" | ")" | "]" | "!" | "?" | "\"" => !name.key && !glued(items, at + 1),
        _ => false,
    };
    (at + 1..at + LONGEST).take_while(|at| joins(items, *at) && !ends(*at)).last().unwrap_or(at) + 1
}

/// Where what is written without a blank ends; marks at its end are none of it.
fn unbroken(items: &[Item<'_>], at: usize) -> usize {
    let more = (at + 1..at + LONGEST).take_while(|at| glued(items, *at)).filter(|at| !is_kind(items, *at, Kind::Mark));
    more.last().unwrap_or(at) + 1
}

/// Takes in the passphrases that are listed after a first: "heron, otter".
pub(crate) fn follow(items: &[Item<'_>], name: &Name, values: &mut Vec<Range<usize>>) {
    let Some(mut at) = values.last().map(|value| value.end).filter(|_| name.plural) else { return };
    while matches!(joined(items, at), "," | "and" | "or") {
        at += 1;
        if joins(items, at) && is_kind(items, at, Kind::Word) {
            let end = unbroken(items, at);
            values.push(at..end);
            at = end;
        }
    }
}

//! Passphrases: words instead of numbers, so that only the form of the sentence tells them from talk about one.

use std::ops::Range;

use super::items::{Gap, Item, Kind, Place};
use super::names::{Name, Weight, joins};
use super::ties::Tie;
use super::words;

/// The most words of a passphrase without quotation marks.
const MOST: usize = 4;

/// The passphrase behind a word.
pub fn behind(items: &[Item<'_>], name: &Name) -> Option<Tie> {
    let start = past_whom(items, name.items.end);
    let sign = sign(items, start, name)?;
    let first = items.get(sign.at)?;
    if sign.quoted {
        return quoted(items, sign.at);
    }
    let end = clause(items, sign.at, name);
    let value = items.get(sign.at..end)?;
    let count = 1 + value.iter().skip(1).filter(|item| item.kind != Kind::Mark && item.gap > Gap::None).count();
    let not_given = first.text == "n" && count == 1 && value.iter().any(|item| item.text == "/");
    if words::NOWHERE.contains(&first.text.as_ref()) || not_given || count > MOST {
        return None;
    }
    let digits = value.iter().any(|item| item.kind == Kind::Number);
    let letters = value.iter().any(|item| item.kind == Kind::Word);
    // A string of its own behind the word: `password "bluebird"`.
    let own = first.piece != items.get(sign.at - 1)?.piece && first.place == Place::Text;
    let tie = |end: usize, certain: bool| Some(Tie { values: vec![sign.at..end], certain });
    if name.weight == Weight::Vague {
        // "pass:" may go on in many ways.
        return if sign.said && count == 1 && digits && letters { tie(end, false) } else { None };
    }
    let direct = start == name.items.end;
    if name.key || own || (direct && sign.said && (count == 1 || digits)) {
        return tie(end, true);
    }
    if sign.said || (sign.is && count < 3) {
        return tie(end, false);
    }
    // Without any sign between, only what no sentence goes on with: "hunter22", "4417".
    let end = glued(items, sign.at);
    let mixed = items.get(sign.at..end)?.iter().any(|item| item.kind == Kind::Number);
    let word = first.kind == Kind::Word && first.gap == Gap::Blank;
    let number = first.kind == Kind::Number && first.text.len() > 2;
    if (word && mixed) || number { tie(end, true) } else { None }
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
            Kind::Word if words::SAYING.contains(&word) => sign.is = true,
            Kind::Word | Kind::Number => return Some(sign),
        }
        sign.at += 1;
    }
}

/// Past "for the station", "(verbal)", "we gave them", where a quotation mark, a colon or the like follows.
fn past_whom(items: &[Item<'_>], at: usize) -> usize {
    let short = items.get(at).is_some_and(|item| matches!(item.text.as_ref(), "(" | "for" | "of" | "with" | "at"));
    let says = |item: &Item<'_>| matches!(item.text.as_ref(), ":" | "=") || is_quote(&item.text) || (short && item.text == "is");
    let ends = |item: &Item<'_>| matches!(item.text.as_ref(), "." | ";" | "," | "/");
    let mut clause = (at..at + 8).take_while(|index| joins(items, *index) && !items.get(*index).is_some_and(ends));
    clause.find(|index| items.get(*index).is_some_and(says)).unwrap_or(at)
}

/// The passphrase before a word: `"heron" is the password`.
pub fn before(items: &[Item<'_>], name: &Name) -> Option<Tie> {
    let mut at = name.items.start;
    let mut is = false;
    loop {
        if !joins(items, at) {
            return None;
        }
        at = at.checked_sub(1)?;
        let item = items.get(at)?;
        let word = item.text.as_ref();
        match item.kind {
            Kind::Mark if is_quote(word) => {
                let opening = (0..at).rev().take(2 * MOST).find(|index| items.get(*index).is_some_and(|item| is_quote(&item.text)))?;
                return is.then(|| Tie { values: vec![opening + 1..at], certain: true }).filter(|_| opening + 1 < at);
            }
            Kind::Mark => return None,
            Kind::Word if words::SAYING.contains(&word) => is = true,
            Kind::Word if matches!(word, "the" | "our" | "my" | "your" | "their") => {}
            Kind::Word | Kind::Number => {
                let alone = !joins(items, at) || items.get(at - 1).is_some_and(|before| before.kind == Kind::Mark);
                let points = matches!(word, "here" | "it" | "that" | "there" | "this" | "what" | "where" | "which");
                return (is && alone && !points).then(|| Tie { values: vec![at..at + 1], certain: false });
            }
        }
    }
}

fn is_quote(mark: &str) -> bool {
    matches!(mark, "\"" | "'" | "“" | "”" | "„" | "‘" | "«" | "»")
}

/// What stands in the quotation marks that open at an item.
fn quoted(items: &[Item<'_>], opening: usize) -> Option<Tie> {
    let mut end = opening + 1;
    while joins(items, end) && items.get(end).is_some_and(|item| !is_quote(&item.text)) {
        end += 1;
    }
    let first = items.get(opening + 1)?;
    let says = items.get(opening + 1..end)?.iter().any(|item| item.kind != Kind::Mark);
    let article = matches!(first.text.as_ref(), "the" | "a");
    (says && (article || !words::NOWHERE.contains(&first.text.as_ref()))).then(|| Tie { values: vec![opening + 1..end], certain: true })
}

/// Where a clause ends. The value of a key is one whole.
fn clause(items: &[Item<'_>], at: usize, name: &Name) -> usize {
    let mut end = at + 1;
    while joins(items, end)
        && items.get(end).is_some_and(|item| {
            let breaks = matches!(item.text.as_ref(), "." | "," | ";" | "(" | ")" | "]" | "!" | "?" | "\"");
            let last = !joins(items, end + 1) || items.get(end + 1).is_some_and(|next| next.gap > Gap::None);
            let next = name.plural && matches!(item.text.as_ref(), "and" | "or");
            !next && (name.key || !breaks || !last)
        })
    {
        end += 1;
    }
    end
}

/// Where what is written without a blank ends; marks at its end are none of it.
fn glued(items: &[Item<'_>], at: usize) -> usize {
    let mut end = at + 1;
    let mut next = end;
    while joins(items, next) && items.get(next).is_some_and(|item| item.gap == Gap::None) {
        next += 1;
        if items.get(next - 1).is_some_and(|item| item.kind != Kind::Mark) {
            end = next;
        }
    }
    end
}

/// Item indexes of more passphrases after a first: "heron, otter".
pub fn listed(items: &[Item<'_>], name: &Name, values: &mut Vec<Range<usize>>) {
    let Some(mut at) = values.last().map(|value| value.end).filter(|_| name.plural) else { return };
    while items.get(at).is_some_and(|item| matches!(item.text.as_ref(), "," | "and" | "or")) && joins(items, at) {
        if items.get(at + 1).is_some_and(|item| item.kind == Kind::Word) && joins(items, at + 1) {
            let end = glued(items, at + 1);
            values.push(at + 1..end);
            at = end;
        } else {
            at += 1;
        }
    }
}

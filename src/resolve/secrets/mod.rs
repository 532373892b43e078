//! Finds what is, or may be, a user code, a passphrase or an account number, before anything else sees the text.
//!
//! The paper is handed to others and the spec is kept in git for ever, so no secret has a place in either. The search goes
//! by the words alone, in strings, names, values and comments alike, and needs no sound spec. Its steps: [`items`] reads the
//! text as words, numbers and marks, [`spelled`] puts together what is spelled out; [`names`] finds the words that name a
//! secret; [`behind`], [`before`] and [`phrases`] look for its values around each, where [`numbers`] knows their form,
//! [`claims`] what a number belongs to otherwise, and [`ties`] how certain it is. The tables are in [`words`].
//!
//! A find is *certain* or *suspected*. Both are masked in the one text from which everything is made, so that neither
//! reaches a diagnostic, a sheet or a comparison. Numbers of three digits are left alone: event codes of DC-05 have three.
//! Out of scope: languages other than English, and secrets that no word gives away.

#![allow(clippy::wildcard_enum_match_arm, reason = "the search names the tokens that it looks at")]

mod before;
mod behind;
mod claims;
mod grammar;
mod items;
mod names;
mod numbers;
mod phrases;
mod spelled;
mod ties;
mod words;

use std::ops::Range;

use crate::base::SourceFile;
use crate::syntax::token::{self, Token};

/// A find.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Secret {
    /// What it looks like: "a user code".
    pub(crate) what: &'static str,
    /// False where it may well be something else.
    pub certain: bool,
    /// The bytes of the word that gave it away.
    pub(crate) word: Range<usize>,
    /// The bytes of its values, in order; never empty.
    pub(crate) values: Vec<Range<usize>>,
}

impl Secret {
    /// The bytes of the lines that it stands on, from its word to its last value.
    pub(crate) fn lines(&self, file: &SourceFile) -> Range<usize> {
        let ends = self.values.iter().chain([&self.word]);
        let (start, end) = ends.fold((usize::MAX, 0), |(start, end), at| (at.start.min(start), at.end.max(end)));
        file.line_start(file.line_of(start))..file.line_start(file.line_of(end) + 1)
    }
}

/// Every secret in a text, by the place of its word. Values do not overlap.
pub fn find(text: &str) -> Vec<Secret> {
    find_among(text, &token::tokens(text))
}

/// The same where the text's tokens are known.
pub(crate) fn find_among(text: &str, tokens: &[Token]) -> Vec<Secret> {
    if !text.contains('\0') {
        return grammar::read(&items::items(text, tokens));
    }
    // Text of two bytes to a character, read as if it had one: without the zeros, and each find put back in its place.
    let places: Vec<usize> = text.bytes().enumerate().filter(|(_, byte)| *byte != 0).map(|(at, _)| at).collect();
    let back = |range: &Range<usize>| {
        let last = range.end.checked_sub(1).and_then(|last| places.get(last));
        places.get(range.start).zip(last).map_or(0..0, |(start, last)| *start..last + 1)
    };
    let text = text.replace('\0', "");
    let mut found = grammar::read(&items::items(&text, &token::tokens(&text)));
    for secret in &mut found {
        secret.word = back(&secret.word);
        secret.values = secret.values.iter().map(back).collect();
    }
    found
}

/// The text with every value masked; every other byte and every line end stays in its place.
pub fn mask(text: &str, secrets: &[Secret]) -> String {
    let mut values: Vec<&Range<usize>> = secrets.iter().flat_map(|secret| &secret.values).collect();
    values.sort_by_key(|value| value.start);
    let mut masked = String::with_capacity(text.len());
    let mut at = 0;
    for value in values {
        masked.push_str(text.get(at..value.start).unwrap_or_default());
        for c in text.get(value.start.max(at)..value.end).unwrap_or_default().chars() {
            if matches!(c, '\n' | '\r') { masked.push(c) } else { masked.push_str(&"*".repeat(c.len_utf8())) }
        }
        at = value.end.max(at);
    }
    masked.push_str(text.get(at..).unwrap_or_default());
    masked
}

/// Some words, as a path, with what they hold of a secret masked.
pub(crate) fn hide(words: &str) -> String {
    mask(words, &find(words))
}

#[cfg(test)]
mod tests;

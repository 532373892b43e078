//! Text of a spec → words, numbers and marks, as somebody would read them aloud.
//!
//! Strings lose their quotation marks and escapes, comments their slashes. Characters that nobody sees are left out, every
//! blank is a blank and every digit a digit, whatever its script. An item keeps the bytes it stands on.

use std::borrow::Cow;
use std::iter::Peekable;
use std::ops::Range;

use unicode_width::UnicodeWidthChar;

use super::names::{Weight, name_at};
use super::spelled::CODE;
use crate::base::unseen::is_unseen;
use crate::syntax::token::{self, Flaw, Token};

/// What an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Letters; an apostrophe between letters is one of them.
    Word,
    /// Digits.
    Number,
    /// Any other character.
    Mark,
}

/// What lies between an item and the one before it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Gap {
    /// Nothing.
    #[default]
    None,
    /// White space.
    Blank,
    /// One line end.
    Line,
    /// Blank lines.
    Far,
}

/// Where an item stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// In a string, with or without quotation marks, or a comment.
    Text,
    /// In the name of a node or property.
    Key,
    /// In a type annotation.
    Unit,
    /// A number, keyword or mark of the language.
    Value,
}

/// See the module's head.
#[derive(Clone, Debug)]
pub(crate) struct Item<'t> {
    pub(crate) kind: Kind,
    /// A word in lower case, the digits of a number, or the mark.
    pub(crate) text: Cow<'t, str>,
    /// Bytes in the text.
    pub(crate) span: Range<usize>,
    pub(crate) gap: Gap,
    pub(crate) place: Place,
    /// Which string, comment or bare word it stands in.
    pub(crate) piece: usize,
    /// Digits behind the point of a number of the language, which `text` leaves out.
    pub(crate) behind_point: usize,
    /// A number put together from several.
    pub(crate) grouped: bool,
    /// How much it says, where a name begins here.
    pub(crate) weight: Option<Weight>,
}

impl Item<'_> {
    /// How many digits it is written with, those behind its point too.
    pub(crate) fn digits(&self) -> usize {
        self.text.len() + self.behind_point
    }
}

/// The items of a text of which the tokens are given.
pub(crate) fn items<'t>(text: &'t str, tokens: &[Token]) -> Vec<Item<'t>> {
    let mut reader = Reader { text, items: Vec::new(), gap: Gap::None, piece: 0 };
    let mut node_begins = true;
    let mut in_unit = false;
    for (index, token) in tokens.iter().enumerate() {
        let place = match token.kind {
            token::Kind::LineComment | token::Kind::BlockComment => Place::Text,
            _ if in_unit => Place::Unit,
            _ if token.is_atom() && (node_begins || is_key(tokens, index)) => Place::Key,
            token::Kind::Quoted | token::Kind::Raw | token::Kind::OldRaw => Place::Text,
            token::Kind::Word if !is_number(token.text(text)) => Place::Text,
            _ => Place::Value,
        };
        match token.kind {
            token::Kind::Space | token::Kind::Continuation => reader.widen(Gap::Blank),
            token::Kind::Newline => reader.widen(Gap::Line),
            token::Kind::Word if is_number(token.text(text)) => reader.number(token.start..token.end, place),
            _ => reader.read(inside(text, token), place, token.kind == token::Kind::Quoted),
        }
        match token.kind {
            token::Kind::OpenParen => in_unit = true,
            token::Kind::CloseParen => in_unit = false,
            token::Kind::Newline | token::Kind::OpenBrace | token::Kind::CloseBrace | token::Kind::Semicolon => {
                node_begins = true;
            }
            _ if token.is_atom() && !in_unit => node_begins = false,
            _ => {}
        }
    }
    let mut items = super::spelled::joined(reader.items);
    let weights: Vec<Option<Weight>> = (0..items.len()).map(|at| name_at(&items, at).map(|name| name.weight)).collect();
    items.iter_mut().zip(weights).for_each(|(item, weight)| item.weight = weight);
    items
}

/// True where an item follows the one before it in the same piece, on the same line.
pub(crate) fn joins(items: &[Item<'_>], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|before| items.get(before));
    items.get(at).zip(before).is_some_and(|(item, before)| item.piece == before.piece && item.gap <= Gap::Blank)
}

/// True where it does so without a blank.
pub(crate) fn glued(items: &[Item<'_>], at: usize) -> bool {
    joins(items, at) && items.get(at).is_some_and(|item| item.gap == Gap::None)
}

/// The text of an item that follows the one before it in the same piece, on the same line; else nothing.
pub(crate) fn joined<'i>(items: &'i [Item<'_>], at: usize) -> &'i str {
    items.get(at).filter(|_| joins(items, at)).map_or("", |item| item.text.as_ref())
}

/// True for an item of a kind.
pub(crate) fn is_kind(items: &[Item<'_>], at: usize, kind: Kind) -> bool {
    items.get(at).is_some_and(|item| item.kind == kind)
}

/// True for a bare word that is a number of the language.
fn is_number(word: &str) -> bool {
    let unsigned = word.trim_start_matches(['-', '+']);
    let letters = unsigned.contains(|c: char| !matches!(c, '0'..='9' | '_' | '.' | '-' | '+'));
    unsigned.starts_with(|c: char| c.is_ascii_digit()) && (!letters || value(unsigned).is_some())
}

/// The digits of a number's value, where it is written in another base or with an exponent: `0x249b`, `9.371e3`.
fn value(unsigned: &str) -> Option<String> {
    let plain = unsigned.replace('_', "");
    let base = [("0x", 16), ("0o", 8), ("0b", 2)].into_iter();
    let mut based = base.filter_map(|(prefix, base)| u64::from_str_radix(plain.strip_prefix(prefix)?, base).ok());
    let exponent = || plain.contains(['e', 'E']).then(|| plain.parse::<f64>().ok()).flatten();
    based.next().map(|value| value.to_string()).or_else(|| exponent().map(|value| format!("{value:.0}")))
}

/// Characters of which nothing is seen, or that only stand above, below or around another.
fn is_passed(c: char) -> bool {
    is_unseen(c)
        || c == char::REPLACEMENT_CHARACTER
        || (c.is_control() && !c.is_whitespace())
        || (!c.is_ascii() && c.width() == Some(0) && !c.is_whitespace())
}

/// True where an equals sign follows.
fn is_key(tokens: &[Token], index: usize) -> bool {
    let after = tokens.iter().skip(index + 1).find(|token| token.kind != token::Kind::Space);
    after.is_some_and(|token| token.kind == token::Kind::Equals)
}

/// The bytes of a token without the marks of its kind.
fn inside(text: &str, token: &Token) -> Range<usize> {
    let written = token.text(text);
    let (opening, closing) = match token.kind {
        token::Kind::LineComment => (2, 0),
        token::Kind::BlockComment => (2, 2),
        token::Kind::Quoted | token::Kind::Raw | token::Kind::OldRaw => {
            let before = written.find('"').unwrap_or(0);
            let hashes = written.chars().take_while(|c| *c == '#').count();
            let marks = if written.get(before..).is_some_and(|rest| rest.starts_with("\"\"\"")) { 3 } else { 1 };
            (before + marks, marks + hashes)
        }
        _ => (0, 0),
    };
    let closing = if token.flaw == Some(Flaw::Unclosed) { 0 } else { closing };
    let start = token.start + opening.min(written.len());
    start..token.end.saturating_sub(closing).max(start)
}

struct Reader<'t> {
    text: &'t str,
    items: Vec<Item<'t>>,
    gap: Gap,
    piece: usize,
}

impl Reader<'_> {
    fn widen(&mut self, gap: Gap) {
        self.gap = if gap == Gap::Line && self.gap >= Gap::Line { Gap::Far } else { self.gap.max(gap) };
    }

    /// Takes in a piece of text.
    fn read(&mut self, range: Range<usize>, place: Place, escapes: bool) {
        self.piece += 1;
        let mut characters = characters(self.text, range, escapes).filter(|(c, _)| !is_passed(*c)).peekable();
        while let Some((c, span)) = characters.next() {
            if c == '\n' {
                self.widen(Gap::Line);
            } else if c.is_whitespace() {
                self.widen(Gap::Blank);
            } else if c.is_numeric() {
                let mut digits = String::from(digit(c));
                let end = more(&mut characters, span.end, |c| c.is_numeric().then(|| digits.push(digit(c))).is_some());
                self.push(Kind::Number, &digits, span.start..end, place);
            } else if c.is_alphabetic() {
                self.word(c, &span, &mut characters, place);
            } else {
                let mark = if matches!(c, '’' | 'ʼ') { '\'' } else { c };
                self.push(Kind::Mark, mark.encode_utf8(&mut [0; 4]), span, place);
            }
        }
    }

    /// A word; `userCode` is two.
    fn word(
        &mut self,
        first: char,
        span: &Range<usize>,
        characters: &mut Peekable<impl Iterator<Item = (char, Range<usize>)>>,
        place: Place,
    ) {
        let mut word: String = first.to_lowercase().collect();
        let mut before = first;
        let mut end = span.end;
        loop {
            end = more(characters, end, |c| {
                let goes_on = c.is_alphabetic() && !(before.is_lowercase() && c.is_uppercase());
                if goes_on {
                    before = c;
                    word.extend(c.to_lowercase());
                }
                goes_on
            });
            // "Ann's": an s behind an apostrophe is part of the word, a quotation mark is not.
            let apostrophe = characters.peek().is_some_and(|(c, _)| matches!(c, '\'' | '’' | 'ʼ'));
            let after = self.text.get(end..).unwrap_or_default().trim_start_matches(['\'', '’', 'ʼ']);
            let is_s = after.strip_prefix(['s', 'S']).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric));
            if !(apostrophe && is_s) {
                break;
            }
            end = characters.by_ref().take(2).last().map_or(end, |(_, span)| span.end);
            word.push_str("'s");
        }
        self.push(Kind::Word, &word, span.start..end, place);
    }

    /// A number of the language, taken whole: `0x1141`, `44_17`, `4417.0`, `4.417e3`.
    fn number(&mut self, span: Range<usize>, place: Place) {
        self.piece += 1;
        let written = self.text.get(span.clone()).unwrap_or_default().trim_start_matches(['-', '+']);
        let (whole, fraction) = written.split_once('.').unwrap_or((written, ""));
        let digits = || whole.chars().filter(char::is_ascii_hexdigit).collect();
        let value: Option<String> = value(written).filter(|value| CODE.contains(&value.len()));
        let behind_point = if value.is_some() { 0 } else { fraction.chars().filter(char::is_ascii_digit).count() };
        self.push(Kind::Number, &value.unwrap_or_else(digits), span, place);
        self.items.last_mut().into_iter().for_each(|item| item.behind_point = behind_point);
    }

    fn push(&mut self, kind: Kind, text: &str, span: Range<usize>, place: Place) {
        let as_written = self.text.get(span.clone()).filter(|written| *written == text);
        let text = as_written.map_or_else(|| Cow::Owned(text.to_owned()), Cow::Borrowed);
        let gap = std::mem::take(&mut self.gap);
        let (piece, grouped, weight) = (self.piece, false, None);
        self.items.push(Item { kind, text, span, gap, place, piece, behind_point: 0, grouped, weight });
    }
}

/// Takes characters while `goes_on` takes them; where the last one ends.
fn more(
    characters: &mut Peekable<impl Iterator<Item = (char, Range<usize>)>>,
    mut end: usize,
    mut goes_on: impl FnMut(char) -> bool,
) -> usize {
    while let Some((_, span)) = characters.next_if(|(c, _)| goes_on(*c)) {
        end = span.end;
    }
    end
}

/// A digit of any script by its value where that is plain, else as 0: its value matters only for what looks like a year.
fn digit(c: char) -> char {
    let fullwidth = u32::from(c).checked_sub(0xff10).and_then(|value| char::from_digit(value, 10));
    if c.is_ascii_digit() { c } else { fullwidth.unwrap_or('0') }
}

/// The characters of a range with their bytes, escapes read where there are any.
fn characters(text: &str, range: Range<usize>, escapes: bool) -> impl Iterator<Item = (char, Range<usize>)> + '_ {
    let mut at = range.start;
    std::iter::from_fn(move || {
        let rest = text.get(at..range.end)?;
        let first = rest.chars().next()?;
        let (c, length) = if escapes && first == '\\' { escaped(rest) } else { (first, first.len_utf8()) };
        let start = at;
        at += length;
        Some((c, start..at))
    })
}

/// The character that the escape at the start of a text stands for, and how many bytes it takes.
fn escaped(rest: &str) -> (char, usize) {
    let after = rest.get(1..).unwrap_or_default();
    match after.chars().next() {
        Some('n') => ('\n', 2),
        Some('r' | 's' | 't' | 'b' | 'f') => (' ', 2),
        Some('u') => code_point(after).map_or(('u', 2), |(c, length)| (c, 1 + length)),
        // A blank after the stroke is taken out, together with all that follow it.
        Some(c) if c.is_whitespace() => ('\u{200b}', 1 + after.len() - after.trim_start().len()),
        Some(c @ ('"' | '\\' | '/')) => (c, 2),
        Some(_) | None => ('\\', 1),
    }
}

/// `u{…}`.
fn code_point(text: &str) -> Option<(char, usize)> {
    let (number, _) = text.strip_prefix("u{")?.split_once('}')?;
    let c = char::from_u32(u32::from_str_radix(number, 16).ok()?)?;
    Some((c, number.len() + 3))
}

//! Text → tree. Never fails: what cannot be read becomes a diagnostic and a [`tree::Broken`] piece.
//!
//! The text is guarded (size, nesting) and cut at top-level nodes before the kdl parser sees any of it, and each
//! piece is parsed by itself, so that good nodes survive and every bad one is reported. kdl's types stay in here.
//!
//! A piece passes four steps: [`token`] (lossless tokens), [`cut`] (top-level nodes, braces without partner),
//! [`grammar`] (every mistake, in our words), and then [`plain`] (its tokens → our tree), or where something in it is
//! unusual [`convert`] (kdl's document → our tree). kdl takes most of the time of a run, so it is asked only where tokens do
//! not tell. It is handed only text that the grammar step found no fault in, with comments, slashdashed parts and line
//! continuations as spaces.

#![allow(
    clippy::wildcard_enum_match_arm,
    reason = "a reader names the tokens that it wants; every other is a fault or passed on"
)]

mod amount;
mod atom;
mod brackets;
pub(crate) mod characters;
mod convert;
mod cut;
mod decode;
mod entry;
mod faults;
mod glued;
mod grammar;
mod merge;
mod number;
pub(crate) mod outline;
mod pieces;
mod plain;
pub(crate) mod rules;
mod string;
mod suffix;
pub(crate) mod token;
pub(crate) mod tree;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::ops::Range;

use kdl::KdlDocument;

use crate::base::{FileId, Span, Spanned};
use crate::diag::Sink;

use cut::{Piece, State};
use faults::Faults;
use grammar::Reading;
use token::{Kind, Token};

pub(crate) use decode::{DecodeFault, LARGEST, decode, decode_diagnostic, decode_within};
pub(crate) use merge::{merge_marks, sides};
pub(crate) use number::{is_about, quantity_in, unit_of};
pub(crate) use tree::{Broken, Document, Node, Value};

/// Reads a text. What cannot be read is reported and kept as [`Broken`].
pub(crate) fn parse(file: FileId, text: &str, sink: &mut Sink) -> Document {
    parse_tokens(file, text, &token::tokens(text), sink)
}

/// The same where its tokens are known.
pub(crate) fn parse_tokens(file: FileId, text: &str, tokens: &[Token], sink: &mut Sink) -> Document {
    let mut faults = Faults::new(file);
    if let Some(finding) = merge::unfinished(file, text) {
        sink.push(finding);
        let whole = Broken { span: faults.span(0, text.len()), words: words(text, tokens) };
        return Document { broken: vec![whole], ..Document::default() };
    }
    let document = match brackets::as_braces(text, tokens, &mut faults) {
        Some(meant) => read(&meant, &token::tokens(&meant), &mut faults, |_| true),
        None => read(text, tokens, &mut faults, |_| true),
    };
    faults.report(sink);
    document
}

/// The string arguments of the top-level `include` nodes, in order; nothing is reported.
pub(crate) fn include_targets(text: &str) -> Vec<String> {
    const NAME: &str = "include";
    // Most texts have none.
    if !text.contains(NAME) {
        return Vec::new();
    }
    let is_include = |name: &str| string::inside(name) == NAME;
    let document = read(text, &token::tokens(text), &mut Faults::new(FileId::default()), is_include);
    let arguments = document.nodes.into_iter().filter(|n| n.name.value == NAME).flat_map(|n| n.arguments);
    arguments
        .filter_map(|argument| match argument.value.value {
            Value::Text(target) => Some(target),
            _ => None,
        })
        .collect()
}

/// Reads the pieces whose first token is wanted.
fn read(text: &str, tokens: &[Token], faults: &mut Faults, wanted: impl Fn(&str) -> bool) -> Document {
    let mut document = Document::default();
    for (piece, read) in pieces(text, tokens, faults, (true, &wanted)) {
        let tokens = tokens.get(piece.first..piece.end).unwrap_or_default();
        let (start, end) = extent(tokens);
        match read {
            Some(nodes) => document.nodes.extend(nodes),
            None => document.broken.push(Broken { span: faults.span(start, end), words: words(text, tokens) }),
        }
    }
    document
}

/// A text as it is laid out: its tokens, and what was read of each top-level piece.
pub(crate) struct Layout {
    /// Every token, blanks included.
    pub(crate) tokens: Vec<Token>,
    /// The pieces in order: their tokens, and their nodes where they could be read.
    pub(crate) pieces: Vec<(Range<usize>, Option<Vec<Node>>)>,
}

/// The layout of a text; nothing is reported. While its braces do not add up it is one piece that is not read: where one was
/// forgotten is told by how the lines stand, so they stay as they are.
pub(crate) fn layout(text: &str) -> Layout {
    let tokens = token::tokens(text);
    if !cut::adds_up(&tokens) {
        let first = tokens.iter().position(|token| !token.is_blank() || token.flaw.is_some()).unwrap_or_default();
        let whole = first..tokens.len();
        return Layout { tokens, pieces: vec![(whole, None)] };
    }
    // Which pieces are doubtful depends on how they are laid out.
    let pieces = pieces(text, &tokens, &mut Faults::new(FileId::default()), (false, &|_| true));
    let pieces = pieces.into_iter().map(|(piece, nodes)| (piece.first..piece.end, nodes)).collect();
    Layout { tokens, pieces }
}

/// The pieces whose first token is wanted, each with its nodes; `None` where it is broken, or doubtful where those are left
/// out.
fn pieces(
    text: &str,
    tokens: &[Token],
    faults: &mut Faults,
    (leaves_out, wanted): (bool, &dyn Fn(&str) -> bool),
) -> Vec<(Piece, Option<Vec<Node>>)> {
    faults.doubt_unpaired(text, tokens);
    let forbidden = forbidden_characters(text, tokens, faults);
    let mut read = Vec::new();
    for piece in cut::cut(text, tokens, faults) {
        let tokens = tokens.get(piece.first..piece.end).unwrap_or_default();
        if !tokens.first().is_some_and(|t| wanted(t.text(text))) {
            continue;
        }
        if leaves_out && piece.state == State::Doubtful {
            read.push((piece, None));
            continue;
        }
        let (start, end) = extent(tokens);
        let spoilt = forbidden.partition_point(|at| *at < start) < forbidden.partition_point(|at| *at < end);
        read.push((piece, nodes(text, tokens, (piece, spoilt), faults)));
    }
    read
}

/// First and last byte of a piece, blanks at its end left out.
fn extent(tokens: &[Token]) -> (usize, usize) {
    let start = tokens.first().map_or(0, |t| t.start);
    (start, tokens.iter().rfind(|t| !t.is_blank() || t.flaw.is_some()).map_or(start, |t| t.end))
}

/// The nodes of a piece; `None` where it is broken. `spoilt` is one with a character that may stand nowhere.
fn nodes(text: &str, tokens: &[Token], (piece, spoilt): (Piece, bool), faults: &mut Faults) -> Option<Vec<Node>> {
    if piece.state == State::Lost {
        return None;
    }
    let before = faults.count();
    let reading = grammar::read(text, tokens, faults);
    if faults.count() > before || piece.state == State::Unbalanced || spoilt {
        return None;
    }
    let nodes = plain::nodes(text, tokens, faults).or_else(|| by_kdl(text, tokens, &reading, faults))?;
    duplicates(&nodes, faults);
    Some(nodes)
}

/// The nodes of a piece without a fault as kdl reads them.
fn by_kdl(text: &str, tokens: &[Token], reading: &Reading, faults: &mut Faults) -> Option<Vec<Node>> {
    let (start, end) = extent(tokens);
    let mut bytes = text.get(start..end)?.as_bytes().to_vec();
    for (from, to) in &reading.blanks {
        if let Some(blank) = bytes.get_mut(from.saturating_sub(start)..(*to.min(&end)).saturating_sub(start)) {
            blank.fill(b' ');
        }
    }
    let seen = String::from_utf8(bytes).ok()?;
    match KdlDocument::parse_v2(&seen) {
        Ok(document) => Some(convert::nodes(&document, text.get(..end)?, (&seen, start), faults)),
        Err(error) => {
            let place = error.diagnostics.first().map_or(0, |d| d.span.offset());
            let at = seen.floor_char_boundary(place.min(seen.len()));
            let length = seen.get(at..).and_then(|r| r.chars().next()).map_or(0, char::len_utf8);
            let found = faults
                .at(&rules::TEXT_NOT_UNDERSTOOD, start + at, start + at + length, "this node is not understood")
                .why("The text from here on is no node of the spec language.")
                .help("compare it with a node that is understood; put text with marks in it in quotes");
            faults.push(found);
            None
        }
    }
}

/// Reports the properties that a node has twice.
fn duplicates(nodes: &[Node], faults: &mut Faults) {
    for node in nodes {
        let mut first: BTreeMap<&str, Span> = BTreeMap::new();
        for Spanned { value: name, span } in node.properties.iter().map(|property| &property.name) {
            let Some(earlier) = first.get(name.as_str()) else {
                first.insert(name, *span);
                continue;
            };
            let title = format!("{name} is given twice on one {}", node.name.value);
            let found = faults
                .at(&rules::DUPLICATE_PROPERTY, span.start, span.end, title)
                .here("given again here")
                .also(*earlier, "given here first")
                .why("Only one of the two values could count, and nothing says which one is meant.")
                .help("remove one of them");
            faults.push(found);
        }
        duplicates(node.children.as_deref().unwrap_or_default(), faults);
    }
}

/// Reports the characters that may stand nowhere, a run of them once; gives those outside comments.
fn forbidden_characters(text: &str, tokens: &[Token], faults: &mut Faults) -> Vec<usize> {
    let mut outside = Vec::new();
    for token in tokens {
        let mut previous = None;
        for (at, c) in token.text(text).char_indices().filter(|(_, c)| characters::is_forbidden(*c)) {
            let (start, end) = (token.start + at, token.start + at + c.len_utf8());
            if !matches!(token.kind, Kind::LineComment | Kind::BlockComment) {
                outside.push(start);
            }
            if previous.replace(end) != Some(start) {
                let found = faults
                    .at(&rules::CHARACTER_NOT_ALLOWED, start, end, format!("the character U+{:04X} may not stand in a spec", u32::from(c)))
                    .here("here, without being seen")
                    .why("Control characters and those that turn the direction of writing make a text look other than it is.")
                    .help("delete it");
                faults.push(found);
            }
        }
    }
    outside
}

/// Every word and string in a broken piece, sorted, each once.
fn words(text: &str, tokens: &[Token]) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for token in tokens {
        let written = token.text(text);
        match token.kind {
            Kind::Word => words.push(written.to_owned()),
            Kind::Quoted | Kind::Raw | Kind::OldRaw => words.push(string::inside(written).to_owned()),
            _ => {}
        }
        // What an unclosed string or comment took in may be names.
        if token.flaw.is_some() {
            words.extend(
                written
                    .split(|c| !characters::is_word(c))
                    .filter(|w| w.contains(char::is_alphanumeric))
                    .map(str::to_owned),
            );
        }
    }
    words.sort();
    words.dedup();
    words
}

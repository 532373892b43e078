//! Text → the same text, laid out: only white space changes.
//!
//! A text is printed from its tokens ([`print`]), with columns where somebody has made some ([`columns`]), and the result
//! is held against what it was made from ([`same`]). What is set: a step in for each brace, one space between entries, at
//! most one blank line, `\n` at the end of each line. Line breaks stay where they are; where something in braces takes
//! several lines, the braces open at the end of a line and close at the start of one. A piece that is not understood stays
//! as it is, with the lines that it shares with others. Strings stay byte for byte.
//!
//! Out: breaking or joining lines by their length, the order of anything, the form of values.

#![allow(
    clippy::wildcard_enum_match_arm,
    reason = "a printer names the tokens that it treats differently; every other is a word of its line"
)]

mod columns;
pub(crate) mod differences;
mod line;
mod print;
mod same;

#[cfg(test)]
mod tests;

use crate::syntax;

/// A text that has been laid out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Formatted {
    /// The new text.
    pub(crate) text: String,
    /// The lines of the old text, from 1, on which a piece starts that is not understood and stays as it is.
    pub(crate) kept: Vec<usize>,
}

/// Why a text is left as it is. Both are faults of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unsure {
    /// The result says something else, or has lost a comment.
    #[error("more than white space would change")]
    Changed,
    /// The result laid out again would be another.
    #[error("it would not come to rest")]
    Restless,
}

/// Lays out a text.
///
/// # Errors
/// Where the result is not what was promised.
pub(crate) fn format(text: &str) -> Result<Formatted, Unsure> {
    let old = syntax::layout(text);
    let printed = print::print(text, &old);
    let new = syntax::layout(&printed);
    if !same::same((text, &old), (&printed, &new)) {
        return Err(Unsure::Changed);
    }
    if print::print(&printed, &new) != printed {
        return Err(Unsure::Restless);
    }
    let broken = old.pieces.iter().filter(|(_, nodes)| nodes.is_none());
    let starts = broken.filter_map(|(piece, _)| old.tokens.get(piece.start)).map(|token| token.start);
    let lines = starts.scan((0, 1), |(from, line), start| {
        *line += text.get(*from..start).unwrap_or_default().matches('\n').count();
        *from = start;
        Some(*line)
    });
    Ok(Formatted { kept: lines.collect(), text: printed })
}

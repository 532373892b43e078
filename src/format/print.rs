//! Tokens → lines → text.

use std::ops::Range;

use unicode_width::UnicodeWidthStr;

use super::columns;
use super::line::{Cell, Line};
use crate::syntax::Layout;
use crate::syntax::characters::{is_newline, is_space};
use crate::syntax::token::{Kind, Token};

/// The text of a layout. Its columns depend on where the text it is made from has some.
pub(super) fn print(text: &str, layout: &Layout) -> String {
    let verbatim = verbatim(layout);
    let mut printer = Printer::new(text, &layout.tokens, spread(text, &layout.tokens, &verbatim));
    let mut copies = verbatim.into_iter().peekable();
    let mut at = 0;
    while let Some(token) = layout.tokens.get(at) {
        if let Some(copy) = copies.next_if(|copy| copy.start == at) {
            printer.copy(layout.tokens.get(copy.clone()).unwrap_or_default());
            at = copy.end;
        } else {
            printer.token(at, token);
            at += 1;
        }
    }
    printer.end_line();
    columns::align(&mut printer.lines);
    let mut printed = String::with_capacity(text.len());
    printer.lines.iter().for_each(|line| line.write(&mut printed));
    printed
}

/// The tokens that are copied: whole lines on which something stands that is not understood.
fn verbatim(layout: &Layout) -> Vec<Range<usize>> {
    let is_newline = |token: &Token| token.kind == Kind::Newline;
    let newlines: Vec<usize> =
        layout.tokens.iter().enumerate().filter(|(_, token)| is_newline(token)).map(|(at, _)| at).collect();
    let empty = |token: &Token| matches!(token.kind, Kind::Space | Kind::Newline);
    let mut groups: Vec<(Range<usize>, bool)> = Vec::new();
    for (piece, nodes) in &layout.pieces {
        let before = newlines.partition_point(|at| *at < piece.start).checked_sub(1);
        let start = before.and_then(|nth| newlines.get(nth)).map_or(0, |at| at + 1);
        // A piece whose brace is never closed reaches to the next one.
        let own = layout.tokens.get(piece.clone()).unwrap_or_default();
        let end = own.iter().rposition(|token| !empty(token)).map_or(piece.end, |last| piece.start + last + 1);
        let behind = newlines.get(newlines.partition_point(|at| *at < end));
        let end = behind.map_or(layout.tokens.len(), |at| at + 1);
        match groups.last_mut().filter(|(last, _)| start < last.end) {
            Some((last, broken)) => {
                last.end = end;
                *broken |= nodes.is_none();
            }
            None => groups.push((start..end, nodes.is_none())),
        }
    }
    groups.into_iter().filter(|(_, broken)| *broken).map(|(group, _)| group).collect()
}

/// For each token whether it is a brace whose contents take several lines.
fn spread(text: &str, tokens: &[Token], verbatim: &[Range<usize>]) -> Vec<bool> {
    let mut spread = vec![false; tokens.len()];
    // The braces that are open, and how many line ends came before each.
    let mut open: Vec<(usize, usize)> = Vec::new();
    let mut ends = 0;
    let mut copies = verbatim.iter().flat_map(Clone::clone).peekable();
    for (at, token) in tokens.iter().enumerate() {
        ends += usize::from(token.text(text).contains(is_newline));
        if copies.next_if_eq(&at).is_some() {
            continue;
        }
        match token.kind {
            Kind::OpenBrace => open.push((at, ends)),
            Kind::CloseBrace => {
                if let Some((brace, _)) = open.pop().filter(|(_, before)| *before < ends) {
                    for brace in [brace, at] {
                        if let Some(brace) = spread.get_mut(brace) {
                            *brace = true;
                        }
                    }
                }
            }
            _ => {}
        }
    }
    spread
}

#[derive(Default)]
struct Printer<'a> {
    text: &'a str,
    tokens: &'a [Token],
    spread: Vec<bool>,
    lines: Vec<Line>,
    line: Line,
    /// What was put on the line last, if the line has something.
    last: Option<Kind>,
    /// How many columns of space came since.
    spaces: usize,
    /// The column of the next token in the text, counted from the first of its line.
    column: usize,
    /// True where a tab on the line makes that meaningless.
    lost: bool,
    depth: usize,
    /// Line ends since something was printed.
    ends: usize,
    /// True where the next line goes on with a node.
    goes_on: bool,
    /// True where a blank line ends a node.
    blank_counts: bool,
    /// True behind a brace whose contents start on the next line.
    opened: bool,
}

impl<'a> Printer<'a> {
    fn new(text: &'a str, tokens: &'a [Token], spread: Vec<bool>) -> Self {
        Self { text, tokens, spread, ..Self::default() }
    }

    fn token(&mut self, at: usize, token: &Token) {
        let written = token.text(self.text);
        match token.kind {
            Kind::Space => {
                self.spaces += written.width();
                self.lost |= written.contains(|c| c != ' ');
            }
            Kind::Newline => self.newline(),
            Kind::LineComment if self.last.is_some() => {
                self.line.comment = Some(Cell::new(written.trim_end_matches(is_space), self.column(), self.spaces));
            }
            kind => {
                let braces = self.spread.get(at) == Some(&true);
                if (braces && kind == Kind::CloseBrace) || (self.opened && !self.trails(at)) {
                    self.end_line();
                }
                if braces && kind == Kind::CloseBrace {
                    self.depth = self.depth.saturating_sub(1);
                }
                self.put(token, braces && kind == Kind::CloseBrace);
                if braces && kind == Kind::OpenBrace {
                    self.depth += 1;
                    self.opened = true;
                }
            }
        }
        if self.last.is_some() {
            self.column += written.width();
        }
    }

    /// True for a comment that stays behind an opening brace, because only comments follow it on its line.
    fn trails(&self, at: usize) -> bool {
        let rest = self.tokens.get(at..).unwrap_or_default();
        let past = rest.iter().find(|token| !matches!(token.kind, Kind::Space | Kind::BlockComment));
        past.is_some_and(|token| matches!(token.kind, Kind::Newline | Kind::LineComment))
    }

    fn newline(&mut self) {
        let continued = self.last == Some(Kind::Continuation);
        // The first end of a line that goes on is none; a second one ends the node.
        self.blank_counts |= self.goes_on && self.last.is_none();
        self.end_line();
        self.goes_on = continued;
        self.ends += usize::from(!continued);
    }

    fn end_line(&mut self) {
        if self.last.take().is_some() {
            self.lines.push(std::mem::take(&mut self.line));
            (self.ends, self.goes_on) = (0, false);
        }
        (self.spaces, self.column, self.lost) = (0, 0, false);
    }

    /// The column of the next token, if it can be told.
    fn column(&self) -> Option<usize> {
        (!self.lost).then_some(self.column)
    }

    /// Begins a line, if nothing stands on it yet.
    fn begin(&mut self, closes: bool) {
        if self.last.is_some() {
            return;
        }
        let parted = self.ends > 1 && !self.opened && !closes && !self.lines.is_empty();
        self.line.apart = parted || self.blank_counts;
        self.line.depth = self.depth + usize::from(self.goes_on);
        self.lost = false;
        self.opened = false;
        self.blank_counts = false;
    }

    fn put(&mut self, token: &Token, closes: bool) {
        self.begin(closes);
        let joined = self.last.is_some_and(|last| joins(last, token.kind, self.spaces > 0));
        let was = (self.column(), self.spaces);
        self.line.push(self.text, token, was, joined);
        if token.kind == Kind::LineComment
            && let Some(cell) = self.line.cells.last_mut()
        {
            cell.text.truncate(cell.text.trim_end_matches(is_space).len());
        }
        (self.last, self.spaces) = (Some(token.kind), 0);
    }

    /// Copies lines as they are, with their ends.
    fn copy(&mut self, tokens: &[Token]) {
        self.end_line();
        self.begin(false);
        let (start, end) = (tokens.first().map_or(0, |token| token.start), tokens.last().map_or(0, |token| token.end));
        self.line = Line { apart: self.line.apart, verbatim: true, ..Line::default() };
        self.line.cells.push(Cell::new(self.text.get(start..end).unwrap_or_default(), None, 0));
        self.last = Some(Kind::Newline);
        self.end_line();
        self.ends = 1;
    }
}

/// True where no space stands between two tokens; `spaced` says whether one did.
fn joins(last: Kind, next: Kind, spaced: bool) -> bool {
    let atom =
        |kind| matches!(kind, Kind::Word | Kind::Keyword | Kind::Quoted | Kind::Raw | Kind::OldRaw | Kind::Other);
    match (last, next) {
        (_, Kind::BlockComment | Kind::Continuation | Kind::LineComment) => false,
        (_, Kind::Semicolon | Kind::CloseParen | Kind::Equals) => true,
        (Kind::OpenParen | Kind::Equals | Kind::CloseParen | Kind::Slashdash, _) => true,
        (Kind::OpenBrace, Kind::CloseBrace) => true,
        (last, next) => atom(last) && atom(next) && !spaced,
    }
}

//! A line on its way from its tokens to its text.

use unicode_width::UnicodeWidthStr;

use crate::syntax::characters::is_newline;
use crate::syntax::token::{Kind, Token};

/// How far a step goes in.
const STEP: usize = 4;

/// What stands between two spaces: a name, a value with its unit, a property, a brace, a comment.
#[derive(Debug)]
pub(super) struct Cell {
    pub(super) text: String,
    /// How many bytes of the text are a property's name.
    pub(super) key: Option<usize>,
    /// The column in which it stood, counted from the first character of its line, if that can be told.
    pub(super) was_at: Option<usize>,
    /// How many spaces came before it.
    pub(super) was_apart: usize,
    /// How many columns it takes.
    pub(super) width: usize,
    /// How many spaces come before it.
    pub(super) gap: usize,
}

/// A line of the result.
#[derive(Debug, Default)]
pub(super) struct Line {
    /// True where a blank line stands before it.
    pub(super) apart: bool,
    /// How many steps it is set in.
    pub(super) depth: usize,
    pub(super) cells: Vec<Cell>,
    /// How many of the cells, from the first, are a node's name and plain entries.
    pub(super) entries: usize,
    /// The comment at its end, where something stands before it.
    pub(super) comment: Option<Cell>,
    /// True where a text or comment of several lines makes columns meaningless.
    pub(super) ragged: bool,
    /// True where it is copied as it was.
    pub(super) verbatim: bool,
}

impl Cell {
    pub(super) fn new(text: &str, was_at: Option<usize>, was_apart: usize) -> Self {
        Self { text: text.to_owned(), key: None, was_at, was_apart, width: text.width(), gap: 1 }
    }

    fn append(&mut self, text: &str) {
        self.text.push_str(text);
        self.width += text.width();
    }
}

impl Line {
    /// Adds a token, to the last cell or as one of its own.
    pub(super) fn push(&mut self, text: &str, token: &Token, was: (Option<usize>, usize), joined: bool) {
        let written = token.text(text);
        self.ragged |= written.contains(is_newline);
        let plain = token.is_atom() || matches!(token.kind, Kind::OpenParen | Kind::CloseParen | Kind::Equals);
        let starts_well = !self.cells.is_empty() || matches!(token.kind, Kind::Word | Kind::Quoted);
        match self.cells.last_mut().filter(|_| joined) {
            Some(cell) => {
                if token.kind == Kind::Equals && cell.key.is_none() {
                    cell.key = Some(cell.text.len());
                }
                cell.append(written);
                // What a semicolon or a comment joins is no entry any more.
                if !plain {
                    self.entries = self.entries.min(self.cells.len().saturating_sub(1));
                }
            }
            None => {
                if plain && starts_well && self.entries == self.cells.len() {
                    self.entries += 1;
                }
                self.cells.push(Cell::new(written, was.0, was.1));
            }
        }
    }

    /// How many columns it takes without its comment, from its first character on.
    pub(super) fn width(&self) -> usize {
        self.width_of(self.cells.len())
    }

    /// How many columns its first cells take.
    pub(super) fn width_of(&self, cells: usize) -> usize {
        let cells = self.cells.iter().take(cells).enumerate();
        cells.map(|(nth, cell)| cell.width + if nth == 0 { 0 } else { cell.gap }).sum()
    }

    /// True where its last word opens a brace.
    pub(super) fn opens(&self) -> bool {
        self.cells.last().is_some_and(|cell| cell.text.ends_with('{'))
    }

    /// Writes it, with its end.
    pub(super) fn write(&self, text: &mut String) {
        if self.apart {
            text.push('\n');
        }
        if self.verbatim {
            self.cells.iter().for_each(|cell| text.push_str(&cell.text));
            return;
        }
        text.push_str(&" ".repeat(STEP * self.depth));
        for (nth, cell) in self.cells.iter().chain(&self.comment).enumerate() {
            text.push_str(&" ".repeat(if nth == 0 { 0 } else { cell.gap }));
            text.push_str(&cell.text);
        }
        text.push('\n');
    }
}

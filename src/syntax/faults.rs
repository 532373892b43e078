//! The diagnostics of one file, with a cap: a file that is no spec at all gives a few and a count.

use crate::base::wording::count;
use crate::base::{FileId, Span};
use crate::diag::{Diagnostic, Rule, Sink};

/// How many diagnostics one file's text may give.
const AT_MOST: usize = 50;

/// Collects the diagnostics of one file.
pub struct Faults {
    file: FileId,
    found: Vec<Diagnostic>,
    left_out: usize,
}

impl Faults {
    /// None yet.
    pub fn new(file: FileId) -> Self {
        Self { file, found: Vec::new(), left_out: 0 }
    }

    /// A diagnostic of `rule` at these bytes of the file.
    pub fn at(&self, rule: &'static Rule, start: usize, end: usize, title: impl Into<String>) -> Diagnostic {
        Diagnostic::new(rule, self.span(start, end), title)
    }

    /// These bytes of the file.
    pub fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start, end)
    }

    /// Takes in one.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        if self.found.len() < AT_MOST {
            self.found.push(diagnostic);
        } else {
            self.left_out += 1;
        }
    }

    /// How many there have been, those past the cap among them.
    pub fn count(&self) -> usize {
        self.found.len() + self.left_out
    }

    /// Hands them over; the last one says how many more there were.
    pub fn report(mut self, sink: &mut Sink) {
        self.found.sort_by_key(|d| d.span().start);
        if let Some(last) = self.found.last_mut()
            && self.left_out > 0
        {
            last.figures.push(format!("{} more in this file", count(self.left_out, "fault", None)));
        }
        sink.extend(self.found);
    }
}

//! The lines that hold a secret for certain. Each has its finding about that; what else is found there may come only from
//! the mask, and is not told.

use super::rules::SECRET_IN_SPEC;
use crate::base::Span;
use crate::diag::{Diagnostic, Sink};

/// See the module's head.
#[derive(Debug, Default)]
pub(crate) struct SecretLines {
    /// In order, apart from each other.
    lines: Vec<Span>,
}

impl SecretLines {
    /// Takes in the lines of the next secret of a file; files come in order.
    pub(crate) fn add(&mut self, lines: Span) {
        let behind = self.lines.partition_point(|line| (line.file, line.end) <= (lines.file, lines.end));
        self.lines.insert(behind, lines);
    }

    /// What was found, in order, without what may come only from the mask.
    pub(crate) fn tell(&self, sink: Sink) -> Vec<Diagnostic> {
        let mut found = sink.into_sorted();
        found.retain(|found| found.rule == &SECRET_IN_SPEC || !found.labels.iter().any(|label| self.holds(label.span)));
        found
    }

    fn holds(&self, place: Span) -> bool {
        let passed = self.lines.partition_point(|line| (line.file, line.end) <= (place.file, place.start));
        let end = place.end.max(place.start + 1);
        self.lines.get(passed).is_some_and(|line| line.file == place.file && line.start < end)
    }
}

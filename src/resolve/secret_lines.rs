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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::FileId;

    fn span(file: u32, start: usize, end: usize) -> Span {
        Span { file: FileId(file), start, end }
    }

    #[test]
    fn a_place_is_held_where_it_shares_a_byte_with_a_line() {
        let mut lines = SecretLines::default();
        lines.add(span(0, 10, 20));
        lines.add(span(1, 0, 5));
        for (place, held) in [
            (span(0, 0, 10), false),
            (span(0, 10, 10), true),
            (span(0, 0, 11), true),
            (span(0, 19, 25), true),
            (span(0, 20, 25), false),
            (span(0, 20, 20), false),
            (span(1, 4, 4), true),
            (span(1, 5, 9), false),
            (span(2, 0, 9), false),
        ] {
            assert_eq!(lines.holds(place), held, "{place:?}");
        }
    }
}

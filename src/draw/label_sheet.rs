//! Labels of cables on paper.

use super::role::Role;
use super::text;

/// What is kept free at the left and the right of a label, for a printer that feeds askew, in millimetres.
const SIDE: f64 = 2.0;

/// The labels that are printed on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Grid {
    /// The width of one in millimetres.
    pub(crate) label: f64,
}

impl Grid {
    /// True where a line below the first is no longer than the label.
    pub(crate) fn holds_end(self, line: &str) -> bool {
        text::width(line, Role::CableEnd.style().text) <= self.label - 2.0 * SIDE
    }
}

//! Coverage plan: each level from above with what is watched, how far detectors reach, and the openings that nothing
//! watches.
//!
//! It shows where a house is weakest, so it is for its owner and the installer alone. Out of scope: cables, which are the
//! floor plan's, and the same in words, which is the detection sheet's.

use serde_json::Value;

use super::floor_plan::level::{self, Purpose};
use super::{Document, Drawings, Orientation, View, value};
use crate::compiled::Compiled;

/// The coverage plan.
pub(crate) static DOCUMENT: Document = Document {
    name: "coverage-plan",
    title: "Coverage plan",
    about: "each level from above: what watches each opening, how far detectors reach, what nothing watches",
    orientation: Orientation::Landscape,
    template: crate::template!("coverage-plan"),
    view: View::Drawn(view),
    table: None,
};

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    value(&level::sheet(compiled, &DOCUMENT, Purpose::Watching, drawings))
}

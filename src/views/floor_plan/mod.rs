//! Floor plan: each level from above, with what hangs where and the cable that comes to it. The same in rows is the rough-in
//! sheet's.
//!
//! For whoever pulls cables too, so that nothing of it tells what is left out. Out of scope: what is watched and how far
//! detectors reach, which is the coverage plan's.

pub(crate) mod hanging;
pub(crate) mod level;

use serde_json::Value;

use super::{Document, Drawings, Orientation, View, value};
use crate::compiled::Compiled;

use level::Purpose;

/// The floor plan.
pub(crate) static DOCUMENT: Document = Document {
    name: "floor-plan",
    title: "Floor plan",
    about: "each level from above: rooms, openings, where each thing hangs and which cable comes to it",
    orientation: Orientation::Landscape,
    template: crate::template!("floor-plan"),
    view: View::Drawn(view),
    table: None,
};

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    value(&level::sheet(compiled, &DOCUMENT, Purpose::Wiring, drawings))
}

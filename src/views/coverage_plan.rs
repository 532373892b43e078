//! Coverage plan: each level from above with what is watched, how far detectors reach, and the openings that nothing
//! watches.
//!
//! It shows where a house is weakest, so it is for its owner and the installer alone. Out of scope: cables, which are the
//! floor plan's, and the same in words, which is the detection sheet's.

use serde::Serialize;
use serde_json::Value;

use super::floor_plan::hanging;
use super::floor_plan::level::{self, Purpose};
use super::{Document, Drawings, Orientation, Shown, View, value};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::Level;

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

#[derive(Serialize)]
struct Sheet {
    levels: Vec<LevelSheet>,
}

#[derive(Serialize)]
struct LevelSheet {
    title: String,
    drawings: Vec<Shown>,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let (site, all) = (&compiled.site, hanging::all(compiled));
    let sheet = |(number, id): (usize, Id<Level>)| LevelSheet {
        title: site.levels[id].title.clone(),
        drawings: drawings.show(level::drawings(compiled, &DOCUMENT, Purpose::Watching, (number, id), &all)),
    };
    value(&Sheet { levels: level::levels(site).into_iter().map(sheet).collect() })
}

//! Floor plan: each level from above, with what hangs where and the cable that comes to it. The same in rows is the rough-in
//! sheet's.
//!
//! For whoever pulls cables too, so that nothing of it tells what is left out. Out of scope: what is watched and how far
//! detectors reach, which is the coverage plan's.

pub(crate) mod hanging;
pub(crate) mod level;

use serde::Serialize;
use serde_json::Value;

use super::{Document, Drawings, Orientation, Shown, View, value};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::Level;

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

#[derive(Serialize)]
struct Sheet {
    levels: Vec<LevelSheet>,
}

#[derive(Serialize)]
struct LevelSheet {
    title: String,
    drawings: Vec<Shown>,
    /// Rooms without measures.
    unmeasured: String,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let site = &compiled.site;
    let all = hanging::all(compiled);
    let sheet = |(number, id): (usize, Id<Level>)| LevelSheet {
        title: site.levels[id].title.clone(),
        drawings: drawings.show(level::drawings(compiled, &DOCUMENT, Purpose::Wiring, (number, id), &all)),
        unmeasured: level::unmeasured(site, id),
    };
    value(&Sheet { levels: level::levels(site).into_iter().map(sheet).collect() })
}

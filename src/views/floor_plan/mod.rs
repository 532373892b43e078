//! Floor plan: each level from above, with what hangs where and the cable that comes to it, and the same as a table.
//!
//! For whoever pulls cables too, so that nothing of it tells what is left out. Out of scope: what is watched and how far
//! detectors reach, which is the coverage plan's.

pub(crate) mod hanging;
pub(crate) mod level;

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::{Document, Drawings, Orientation, Shown, View, value};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::Level;
use crate::quantity::print;

use hanging::Hanging;
use level::Purpose;

/// The floor plan.
pub(crate) static DOCUMENT: Document = Document {
    name: "floor-plan",
    title: "Floor plan",
    about: "each level from above: rooms, openings, where each thing hangs and which cable comes to it",
    orientation: Orientation::Landscape,
    template: include_str!("../../../templates/floor-plan.md.hbs"),
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
    rows: Vec<Row>,
}

/// A thing.
#[derive(Serialize)]
struct Row {
    room: String,
    mark: String,
    what: String,
    title: String,
    zone: String,
    spot: String,
    height: String,
    cables: String,
    from: String,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let site = &compiled.site;
    let all = hanging::all(compiled);
    let on = |level: Id<Level>| {
        let here = all.iter().filter(|hanging| hanging.room.is_some_and(|room| site.rooms[room].level == level));
        let mut rows: Vec<Row> = here.map(|hanging| row(compiled, hanging)).collect();
        rows.sort_by(|one, other| natural(&one.room, &other.room));
        rows
    };
    let sheet = |(number, id): (usize, Id<Level>)| LevelSheet {
        title: site.levels[id].title.clone(),
        drawings: drawings.show(level::drawings(compiled, &DOCUMENT, Purpose::Wiring, (number, id), &all)),
        unmeasured: level::unmeasured(site, id),
        rows: on(id),
    };
    value(&Sheet { levels: level::levels(site).into_iter().map(sheet).collect() })
}

fn row(compiled: &Compiled, hanging: &Hanging) -> Row {
    let site = &compiled.site;
    let joined = |of: fn(&hanging::Comes) -> &String| {
        hanging.cables.iter().map(|comes| of(comes).as_str()).collect::<Vec<_>>().join("; ")
    };
    Row {
        room: hanging.room.map(|room| site.rooms[room].title.clone()).unwrap_or_default(),
        mark: hanging.mark.clone(),
        what: hanging.sign.meaning(),
        title: if hanging.title.is_empty() { "joint".to_owned() } else { hanging.title.clone() },
        zone: hanging.zone.map(|zone| zone.to_string()).unwrap_or_default(),
        spot: level::spot(site, hanging),
        height: hanging.mount.map(|mount| print::length(mount, site.lengths)).unwrap_or_default(),
        cables: joined(|comes| &comes.label),
        from: joined(|comes| &comes.from),
    }
}

//! Rough-in sheet: what hangs where, on which box and how high, with the cables that come there, before walls are closed.
//!
//! For whoever drills and pulls, so that nothing of it tells what is left out. The holes on the way between rooms are those of
//! the sheet of bundles. Out of scope: what lands where (installation order).

use serde::Serialize;
use serde_json::Value;

use super::bundles::thickness;
use super::closed_holes;
use super::floor_plan::hanging::{self, Hanging};
use super::floor_plan::level;
use super::natural::natural;
use super::safety_notes::{Facts, facts};
use super::{Document, Orientation, Table, View, value};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Level, Part, Site};
use crate::profiles::framing::PLATE;
use crate::profiles::holes::{self, Drill};
use crate::quantity::{LengthUnit, Metres, print};
use crate::template;
use crate::terms::MountingBox;

/// The rough-in sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "rough-in",
    title: "Rough-in sheet",
    about: "what hangs where: box, height and cables of each thing, room by room, and which holes are closed again",
    orientation: Orientation::Landscape,
    template: template!("rough-in"),
    view: View::Plain(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Sheet {
    levels: Vec<LevelSheet>,
    /// Holes through what holds back fire, into spaces that move air, through floors, and to the outside.
    /// Cables in risers and plenums, each with its jacket.
    jackets: Vec<String>,
    closed: Vec<String>,
    /// Why some bored holes take a plate; empty where no cable passes timber.
    plate: String,
}

#[derive(Serialize)]
struct LevelSheet {
    title: String,
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
    mounting: String,
    height: String,
    /// Those that end here and those that start here.
    cables: String,
    /// Of each where it comes from or goes.
    ways: String,
}

fn view(compiled: &Compiled) -> Value {
    let Compiled { site, wiring, .. } = compiled;
    let facts = Facts::of(site, wiring);
    let timber = [facts::studs(facts), facts::joists(facts)].iter().any(|found| !found.is_empty());
    let closed = [facts::fire_walls(facts), closed_holes::of(compiled)];
    value(&Sheet {
        levels: levels(compiled),
        jackets: facts::plenums_and_risers(facts),
        closed: closed.concat(),
        plate: if timber { PLATE.cited() } else { String::new() },
    })
}

fn levels(compiled: &Compiled) -> Vec<LevelSheet> {
    let site = &compiled.site;
    let all = hanging::all(compiled);
    let on = |level: Option<Id<Level>>| {
        let here = all.iter().filter(|hanging| hanging.room.map(|room| site.rooms[room].level) == level);
        let mut rows: Vec<Row> = here.map(|hanging| row(site, hanging)).collect();
        rows.sort_by(|one, other| natural(&one.room, &other.room));
        rows
    };
    let known = level::levels(site).into_iter().map(|(_, id)| (site.levels[id].title.clone(), on(Some(id))));
    let levels = known.chain([("No place given".to_owned(), on(None))]);
    levels.filter(|(_, rows)| !rows.is_empty()).map(|(title, rows)| LevelSheet { title, rows }).collect()
}

/// The most cables that start at a thing and are listed with it; those of a panel stand on the label list.
const MOST_LEAVING: usize = 6;

fn row(site: &Site, hanging: &Hanging) -> Row {
    let comes = hanging.cables.iter().map(|comes| (comes.label.clone(), format!("from {}", comes.starts_at)));
    let leave = hanging.leaving.iter().map(|leaves| (leaves.label.clone(), format!("to {}", leaves.to)));
    let many = hanging.leaving.len();
    let (cables, ways): (Vec<String>, Vec<String>) = match many {
        0..=MOST_LEAVING => comes.chain(leave).unzip(),
        _ => comes.chain([(format!("{many} that start here"), "the wire-label list names them".to_owned())]).unzip(),
    };
    Row {
        room: hanging.room.map(|room| site.rooms[room].title.clone()).unwrap_or_default(),
        mark: hanging.mark.clone(),
        what: hanging.sign.meaning(),
        title: if hanging.title.is_empty() { "joint".to_owned() } else { hanging.title.clone() },
        zone: hanging.zone.map(|zone| zone.to_string()).unwrap_or_default(),
        spot: level::spot(site, hanging),
        mounting: hanging.part.map(|part| mounting(&site.parts[part], site.lengths)).unwrap_or_default(),
        height: hanging.mount.map(|mount| print::height(mount, site.lengths)).unwrap_or_default(),
        cables: cables.join("; "),
        ways: ways.join("; "),
    }
}

/// "box, one gang"; "hole 3/8 in"; empty where the part says neither.
fn mounting(part: &Part, unit: LengthUnit) -> String {
    let on = part.mounting_box.map(MountingBox::printed).map(str::to_owned);
    let hole = part.hole.map(|hole| format!("hole {}", drilled(hole, unit)));
    match (on, hole) {
        (Some(_), Some(hole)) if part.mounting_box == Some(MountingBox::NoBox) => hole,
        (on, hole) => on.into_iter().chain(hole).collect::<Vec<_>>().join(", "),
    }
}

/// The size of a hole: "3/8 in", "9.5 mm"; by its drill where there is one.
fn drilled(hole: Metres, unit: LengthUnit) -> String {
    let same = |drill: &Drill| (drill.diameter.0 - hole.0).abs() < 1e-4;
    holes::drills(unit).into_iter().find(same).map_or_else(|| thickness(hole, unit), |drill| drill.name)
}

fn table(compiled: &Compiled) -> Table {
    let columns =
        vec!["level", "room", "what", "called", "zone", "where", "box or hole", "height", "cables", "from or to"];
    let mut rows = Vec::new();
    for LevelSheet { title: level, rows: things } in levels(compiled) {
        for Row { room, mark: _, what, title, zone, spot, mounting, height, cables, ways } in things {
            rows.push(vec![level.clone(), room, what, title, zone, spot, mounting, height, cables, ways]);
        }
    }
    Table { columns, rows }
}

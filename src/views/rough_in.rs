//! Rough-in sheet: what hangs where, on which box and how high, with the cables that come there, before walls are closed.
//!
//! For whoever drills and pulls, so that nothing of it tells what is left out. The holes on the way between rooms are those of
//! the sheet of bundles. Out of scope: what lands where (installation order).

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::bundles::thickness;
use super::floor_plan::hanging::{self, Hanging};
use super::floor_plan::level;
use super::natural::natural;
use super::safety_notes::{Facts, facts};
use super::{Document, Orientation, Table, View, value};
use crate::base::Id;
use crate::base::wording::list;
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
    /// Holes through what holds back fire, through floors, and into spaces that move air.
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
    cables: String,
    from: String,
}

fn view(compiled: &Compiled) -> Value {
    let Compiled { site, wiring, .. } = compiled;
    let facts = Facts::of(site, wiring);
    let timber = [facts::studs(facts), facts::joists(facts)].iter().any(|found| !found.is_empty());
    let closed = [facts::fire_walls(facts), facts::plenums_and_risers(facts), floors(compiled)];
    value(&Sheet {
        levels: levels(compiled),
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

fn row(site: &Site, hanging: &Hanging) -> Row {
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
        mounting: hanging.part.map(|part| mounting(&site.parts[part], site.lengths)).unwrap_or_default(),
        height: hanging.mount.map(|mount| print::length(mount, site.lengths)).unwrap_or_default(),
        cables: joined(|comes| &comes.label),
        from: joined(|comes| &comes.from),
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

/// Cables from one level to another: they pass a floor, of which the spec need not say that it holds back fire.
fn floors(compiled: &Compiled) -> Vec<String> {
    let Compiled { site, wiring, .. } = compiled;
    let mut found: BTreeMap<[Id<Level>; 2], Vec<&str>> = BTreeMap::new();
    for cable in wiring.cables.iter().filter(|cable| !site.runs[cable.run].existing) {
        let rooms = [site.start_room(cable.run), site.runs[cable.run].room];
        let [Some(from), Some(to)] = rooms.map(|room| room.map(|room| site.rooms[room].level)) else { continue };
        if site.levels[from].storey != site.levels[to].storey {
            found.entry([from.min(to), from.max(to)]).or_default().push(&cable.label);
        }
    }
    let line = |(levels, labels): ([Id<Level>; 2], Vec<&str>)| {
        let [from, to] = levels.map(|level| site.levels[level].title.as_str());
        format!("between {from} and {to}: {}", list(&labels, "and"))
    };
    found.into_iter().map(line).collect()
}

fn table(compiled: &Compiled) -> Table {
    let columns = vec!["level", "room", "what", "called", "zone", "where", "box or hole", "height", "by cable", "from"];
    let mut rows = Vec::new();
    for LevelSheet { title: level, rows: things } in levels(compiled) {
        for Row { room, mark: _, what, title, zone, spot, mounting, height, cables, from } in things {
            rows.push(vec![level.clone(), room, what, title, zone, spot, mounting, height, cables, from]);
        }
    }
    Table { columns, rows }
}

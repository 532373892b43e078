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
use crate::words;

/// The rough-in sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "rough-in",
    title: "Rough-in sheet",
    about: "what hangs where: box, height and cables of each thing, room by room, and which holes are closed again",
    orientation: Orientation::Portrait,
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
    /// Its number on the plan of its level.
    number: String,
    what: String,
    title: String,
    /// What it is, where its title does not say so.
    kind: String,
    zone: String,
    spot: String,
    /// The same, without the opening where the title names it.
    place: String,
    mounting: String,
    height: String,
    /// Those that end here and those that start here.
    cables: Vec<CableEnd>,
}

/// A cable that ends or starts at a thing.
#[derive(Serialize)]
struct CableEnd {
    label: String,
    /// Where it comes from or goes.
    way: String,
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
        let mut here: Vec<&Hanging> = here.collect();
        here.sort_by_key(|hanging| hanging.number);
        here.into_iter().map(|hanging| row(site, hanging)).collect::<Vec<Row>>()
    };
    let known = level::levels(site).into_iter().map(|(_, id)| (site.levels[id].title.clone(), on(Some(id))));
    let levels = known.chain([("No place given".to_owned(), on(None))]);
    levels.filter(|(_, rows)| !rows.is_empty()).map(|(title, rows)| LevelSheet { title, rows }).collect()
}

/// The most cables that start at a thing and are listed with it; of those of a panel their number.
const MOST_LEAVING: usize = 6;

fn row(site: &Site, hanging: &Hanging) -> Row {
    let end = |label: &str, way: String| CableEnd { label: label.to_owned(), way };
    let mut cables: Vec<CableEnd> =
        hanging.cables.iter().map(|comes| end(&comes.label, format!("from {}", comes.starts_at))).collect();
    match hanging.leaving.len() {
        0..=MOST_LEAVING => {
            let to = |to: &str| if to == words::END_NOT_FOUND { to.to_owned() } else { format!("to {to}") };
            cables.extend(hanging.leaving.iter().map(|leaves| end(&leaves.label, to(&leaves.to))));
        }
        many => cables.push(end(&format!("{many} cables"), "start here".to_owned())),
    }
    let what = hanging.sign.meaning();
    let mounting = if hanging.existing {
        "is there".to_owned()
    } else {
        hanging.part.map(|part| mounting(&site.parts[part], site.lengths)).unwrap_or_default()
    };
    let title = if hanging.title.is_empty() { "joint".to_owned() } else { hanging.title.clone() };
    let spot = level::spot(site, hanging);
    let opening = hanging.opening.map(|id| site.openings[id].title.as_str()).filter(|opening| title.contains(opening));
    let place = opening.and_then(|opening| spot.strip_prefix(opening)).unwrap_or(&spot).trim_start_matches(", ");
    Row {
        place: place.to_owned(),
        room: hanging.room.map(|room| site.rooms[room].title.clone()).unwrap_or_default(),
        mark: hanging.mark.clone(),
        number: hanging.number.to_string(),
        kind: if is_told(&what, &title) { String::new() } else { what.clone() },
        what,
        title,
        zone: hanging.zone.map(|zone| zone.to_string()).unwrap_or_default(),
        spot,
        mounting,
        height: hanging.mount.map(|mount| print::height(mount, site.lengths)).unwrap_or_default(),
        cables,
    }
}

/// True where a title says what a thing is: "Motion, hall" of a motion detector, not of a wireless one.
fn is_told(what: &str, title: &str) -> bool {
    let title = title.to_lowercase();
    let (noun, rest) = what.split_once(',').unwrap_or((what, ""));
    let first = noun.split_whitespace().next().unwrap_or_default();
    // "preheater room" is no heat detector; "yard lamps" are a lamp.
    let is_said = words::says(&title, first) || words::says(&title, &format!("{first}s"));
    is_said && (!rest.contains("wireless") || words::says(&title, "wireless"))
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
        for Row { room, mark: _, number: _, what, title, kind: _, zone, spot, place: _, mounting, height, cables } in
            things
        {
            let (labels, ways): (Vec<_>, Vec<_>) = cables.into_iter().map(|end| (end.label, end.way)).unzip();
            let (labels, ways) = (labels.join("; "), ways.join("; "));
            rows.push(vec![level.clone(), room, what, title, zone, spot, mounting, height, labels, ways]);
        }
    }
    Table { columns, rows }
}

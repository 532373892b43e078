//! The plan of a level: its rooms as the spec has them, with what hangs there.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::{count, list};
use crate::compiled::Compiled;
use crate::draw::Link;
use crate::draw::plan::{self, Coverage, Leaf, Line, Outline, Part, Plan, Side, Sign, Thing, Way};
use crate::draw::sheet::TitleBlock;
use crate::model::{Level, Opening, OpeningKind, Room, Site};
use crate::quantity::{LengthUnit, Metres, print};
use crate::terms::{Bearing, Wall};
use crate::views::natural::natural;
use crate::views::{Document, Drawing, Drawings, Shown, document, rough_in, title_block};

use super::hanging::{self, Hanging};

/// What a plan is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// Where things hang and which cables come to them.
    Wiring,
    /// What is watched, how far detectors reach, and what is left out. Not for whoever pulls cables.
    Watching,
}

impl Purpose {
    /// What the plan of a level is called, so that a page of one is not taken for one of the other.
    fn titled(self, level: &str) -> String {
        match self {
            Self::Wiring => level.to_owned(),
            Self::Watching => format!("Coverage of {level}"),
        }
    }
}

/// The levels that have rooms, from the ground up, each with its number among all.
pub(crate) fn levels(site: &Site) -> Vec<(usize, Id<Level>)> {
    let mut levels: Vec<(Id<Level>, &Level)> = site.levels.entries().collect();
    levels
        .sort_by(|(_, one), (_, other)| one.storey.cmp(&other.storey).then_with(|| natural(&one.title, &other.title)));
    let numbered = (1..).zip(levels.into_iter().map(|(id, _)| id));
    numbered.filter(|(_, level)| site.rooms.iter().any(|room| room.level == *level)).collect()
}

/// What the head of a sheet takes of its first page, in millimetres: the first drawing stands below it.
const HEAD: f64 = 13.0;

/// The drawings of a plan.
#[derive(Serialize)]
pub(crate) struct Sheet {
    sections: Vec<Section>,
}

/// A level, or the rooms of all levels that stand in lists.
#[derive(Serialize)]
struct Section {
    title: String,
    drawings: Vec<Shown>,
    /// Rooms without measures.
    unmeasured: String,
}

/// The drawings of all levels.
pub(crate) fn sheet(compiled: &Compiled, document: &Document, purpose: Purpose, drawings: &mut Drawings) -> Sheet {
    let site = &compiled.site;
    let all = hanging::all(compiled);
    let levels = levels(site);
    let plan = |(_, level): &(usize, Id<Level>)| {
        let block = title_block::of(compiled, document, &purpose.titled(&site.levels[*level].title), "");
        of(compiled, purpose, *level, &all, block)
    };
    let plans: Vec<Plan> = levels.iter().map(plan).collect();
    let sheets = plan::draw(&plans, document.orientation.room(), HEAD);
    let mut sections: Vec<Section> = levels
        .iter()
        .zip(&plans)
        .zip(sheets.levels)
        .map(|(((number, id), plan), parts)| Section {
            title: purpose.titled(&site.levels[*id].title),
            drawings: drawings.show(named(parts, &format!("{}-{number}", document.name), &words(plan))),
            unmeasured: unmeasured(site, *id),
        })
        .collect();
    if !sheets.rooms.is_empty() {
        let of_rooms = "What has no place for its words on the plan of its level. What each room holds is told there.";
        let drawings = drawings.show(named(sheets.rooms, &format!("{}-rooms", document.name), of_rooms));
        let lists = Section { title: "Rooms in lists".to_owned(), drawings, unmeasured: String::new() };
        sections.insert(if sheets.rooms_first { 0 } else { sections.len() }, lists);
    }
    Sheet { sections }
}

/// Sheets as drawings, each with its number behind the name.
fn named(parts: Vec<Part>, name: &str, words: &str) -> Vec<Drawing> {
    let title = parts.first().map(|part| part.title.clone()).unwrap_or_default();
    document::parts(name, &title, words, parts.into_iter().map(|part| part.scene).collect())
}

/// "Porch: 1 opening, 3 things; …".
fn words(plan: &Plan) -> String {
    let room = |room: &plan::Room| {
        let at_openings: usize = room.openings.iter().map(|opening| opening.things.len()).sum();
        let things = count(room.things.len() + at_openings, "sign", None);
        format!("{}: {}, {things}", room.title, count(room.openings.len(), "opening", None))
    };
    let rooms: Vec<String> = plan.rooms.iter().map(room).collect();
    format!("Seen from above, north up. {}.", rooms.join("; "))
}

fn of(compiled: &Compiled, purpose: Purpose, level: Id<Level>, all: &[Hanging], block: TitleBlock) -> Plan {
    let site = &compiled.site;
    let mut rooms: Vec<(Id<Room>, &Room)> = site.rooms.entries().filter(|(_, room)| room.level == level).collect();
    rooms.sort_by(|(_, one), (_, other)| natural(&one.title, &other.title));
    let mut in_rooms: BTreeMap<Id<Room>, Vec<&Hanging>> = BTreeMap::new();
    for hanging in all {
        if let Some(room) = hanging.room {
            in_rooms.entry(room).or_default().push(hanging);
        }
    }
    let room = |(id, room): (Id<Room>, &Room)| {
        let here = in_rooms.get(&id).map(Vec::as_slice).unwrap_or_default();
        let free = here.iter().filter(|hanging| hanging.opening.is_none());
        plan::Room {
            title: room.title.clone(),
            outline: room.rect.map(|[x, y, width, depth]| Outline { x: x.0, y: y.0, width: width.0, depth: depth.0 }),
            outdoors: room.is_outdoors(),
            openings: openings(site, purpose, id, here),
            things: free.filter_map(|hanging| thing(site, purpose, hanging)).collect(),
        }
    };
    Plan {
        block,
        feet: site.lengths == LengthUnit::Feet,
        rooms: rooms.into_iter().map(room).collect(),
        ways: if purpose == Purpose::Wiring { ways(compiled, level) } else { Vec::new() },
        has_rows: purpose == Purpose::Wiring,
        told_in_rows: purpose == Purpose::Watching
            && !all.iter().any(|hanging| reaches_unmeasured(site, level, hanging)),
    }
}

/// True of a detector on a level in a room without measures: the list of that room has its reach, and no other sheet.
fn reaches_unmeasured(site: &Site, level: Id<Level>, hanging: &Hanging) -> bool {
    let unmeasured = |room: Id<Room>| site.rooms[room].level == level && site.rooms[room].rect.is_none();
    hanging.room.is_some_and(unmeasured)
        && hanging.device.and_then(|device| site.device_part(device)).is_some_and(|part| part.coverage.is_some())
}

/// The cables that end on a level and whose way is given.
fn ways(compiled: &Compiled, level: Id<Level>) -> Vec<Way> {
    let Compiled { site, wiring, .. } = compiled;
    let ends_here = wiring.cables.iter().filter(|cable| {
        let run = &site.runs[cable.run];
        !run.way.is_empty() && run.room.is_some_and(|room| site.rooms[room].level == level)
    });
    ends_here
        .map(|cable| Way {
            label: cable.label.clone(),
            points: site.runs[cable.run].way.iter().map(|point| (point.x, point.y)).collect(),
        })
        .collect()
}

/// The openings of a room by title, for what finds a place on the plan must not follow from the order of a text. Those of one wall
/// whose place along it is not given stand apart.
fn openings(site: &Site, purpose: Purpose, room: Id<Room>, here: &[&Hanging]) -> Vec<plan::Opening> {
    let mut own: Vec<(Id<Opening>, &Opening)> =
        site.openings.entries().filter(|(_, opening)| opening.room == room).collect();
    own.sort_by(|(_, one), (_, other)| natural(&one.title, &other.title));
    let free = |wall: Wall| own.iter().filter(move |(_, other)| other.wall == Some(wall) && other.at.is_none());
    let along = |id: Id<Opening>, wall: Wall| {
        let [_, _, width, depth] = site.rooms[room].rect?;
        let length = if matches!(wall, Wall::North | Wall::South) { width } else { depth };
        let before = free(wall).take_while(|(other, _)| *other != id).count();
        let parts = free(wall).count() + 1;
        let share = |count: usize| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
        Some(site.openings[id].at.map_or(length.0 * share(before + 1) / share(parts), |at| at.0))
    };
    let opening = |&(id, opening): &(Id<Opening>, &Opening)| {
        let here = here.iter().filter(|hanging| hanging.opening == Some(id));
        let mut things: Vec<Thing> = here.filter_map(|hanging| thing(site, purpose, hanging)).collect();
        let unwatched = site.is_within_reach(opening) && !site.is_guarded(id);
        if purpose == Purpose::Watching && unwatched {
            things.push(plain(Sign::Unwatched, vec!["not watched".to_owned(), opening.title.clone()]));
        }
        plan::Opening {
            leaf: match opening.kind {
                OpeningKind::Door => Leaf::Door,
                OpeningKind::Window => Leaf::Window,
                OpeningKind::Hatch => Leaf::Hatch,
            },
            title: opening.title.clone(),
            wall: opening.wall.and_then(|wall| Some((side(wall), along(id, wall)?))),
            things,
        }
    };
    // Whoever wires is not shown where nothing hangs: that is where the house is weakest.
    let shown = |(id, _): &&(Id<Opening>, &Opening)| {
        purpose == Purpose::Watching || here.iter().any(|hanging| hanging.opening == Some(*id))
    };
    own.iter().filter(shown).map(opening).collect()
}

fn side(wall: Wall) -> Side {
    match wall {
        Wall::North => Side::North,
        Wall::East => Side::East,
        Wall::South => Side::South,
        Wall::West => Side::West,
    }
}

fn plain(sign: Sign, words: Vec<String>) -> Thing {
    let lines = words.into_iter().map(Line::Words).collect();
    Thing { sign, lines, spot: None, coverage: None, number: None, link: Link::default() }
}

/// What a plan shows of a thing; nothing where it is not what the plan is for.
fn thing(site: &Site, purpose: Purpose, hanging: &Hanging) -> Option<Thing> {
    let words = match purpose {
        Purpose::Wiring => wiring_words(site, hanging),
        Purpose::Watching => watching_words(site, hanging)?,
    };
    let tags = hanging.cables.iter().map(|comes| Line::Tag { label: comes.label.clone(), from: comes.from.clone() });
    let lines = words.into_iter().filter(|words| !words.is_empty()).map(Line::Words);
    Some(Thing {
        lines: if purpose == Purpose::Wiring { lines.chain(tags).collect() } else { lines.collect() },
        spot: hanging.hung.map(|hung| (hung.at.value.x, hung.at.value.y)),
        coverage: if purpose == Purpose::Watching { coverage(site, hanging) } else { None },
        number: (purpose == Purpose::Wiring).then_some(hanging.number),
        link: if purpose == Purpose::Wiring {
            Link { to: format!("{}.html#{}", rough_in::DOCUMENT.name, hanging.mark), id: hanging.mark.clone() }
        } else {
            Link::default()
        },
        ..plain(hanging.sign, Vec::new())
    })
}

/// "zone 7, 7.5 ft"; what no zone reports goes by its name. A height is never cut off with a long name.
fn wiring_words(site: &Site, hanging: &Hanging) -> Vec<String> {
    let what = hanging.zone.map_or_else(|| hanging.title.clone(), |zone| format!("zone {zone}"));
    let height = hanging.mount.map(|mount| print::height(mount, site.lengths));
    let words: Vec<String> = [what].into_iter().filter(|what| !what.is_empty()).chain(height).collect();
    let line = words.join(", ");
    if Line::has_room_for(&line) { vec![line] } else { words }
}

/// Of what watches for people: "zone 7", what the dispatcher reads, and the reach where no outline can show it.
fn watching_words(site: &Site, hanging: &Hanging) -> Option<Vec<String>> {
    let device = hanging.device?;
    let zone = site.devices[device].zone?;
    if !site.notices(&site.devices[device]) {
        return None;
    }
    let zone = &site.zones[zone];
    let mut words = vec![format!("zone {}", zone.number.value), zone.description.value.clone()];
    if let Some(covers) = site.device_part(device).and_then(|part| part.coverage)
        && coverage(site, hanging).is_none()
    {
        words.push(format!("reaches {}, {}", print::length(covers.range, site.lengths), angle(covers.angle)));
    }
    Some(words)
}

fn angle(degrees: u32) -> String {
    if degrees == 360 { "all around".to_owned() } else { format!("{degrees}° wide") }
}

/// What a detector covers, where its sheet, its place and its direction are known.
fn coverage(site: &Site, hanging: &Hanging) -> Option<Coverage> {
    let part = site.device_part(hanging.device?)?;
    let (covers, hung) = (part.coverage?, hanging.hung?);
    let toward = match hung.looks {
        Some(looks) => degrees(looks),
        None if covers.angle == 360 => 0,
        None => return None,
    };
    Some(Coverage { range: covers.range.0, angle: covers.angle, toward })
}

/// From the right of the plan towards its upper side.
fn degrees(looks: Bearing) -> u32 {
    match looks {
        Bearing::East => 0,
        Bearing::NorthEast => 45,
        Bearing::North => 90,
        Bearing::NorthWest => 135,
        Bearing::West => 180,
        Bearing::SouthWest => 225,
        Bearing::South => 270,
        Bearing::SouthEast => 315,
    }
}

/// Where on the plan a thing is, in words: "window, south wall, 7 ft", "6 ft, 14 ft".
pub(crate) fn spot(site: &Site, hanging: &Hanging) -> String {
    let length = |metres: f64| print::length(Metres(metres), site.lengths);
    if let Some(id) = hanging.opening {
        let opening = &site.openings[id];
        let wall = opening.wall.map(|wall| format!("{} wall", wall.word()));
        let at = opening.at.map(|at| length(at.0));
        return [Some(opening.title.clone()), wall, at].into_iter().flatten().collect::<Vec<_>>().join(", ");
    }
    let Some(hung) = hanging.hung else { return String::new() };
    let looks = hung.looks.map(|looks| format!("looks {}", looks.word()));
    let (left, lower) = corner(site, hanging);
    let place = [format!("{} right, {} up", length(hung.at.value.x - left), length(hung.at.value.y - lower))];
    place.into_iter().chain(looks).collect::<Vec<_>>().join(", ")
}

/// The left and the lower edge of what is drawn of a level, from which a place on it is measured: the rooms of an upper floor
/// need not begin where those below do.
fn corner(site: &Site, hanging: &Hanging) -> (f64, f64) {
    let level = hanging.room.map(|room| site.rooms[room].level);
    let drawn = || site.rooms.iter().filter(|room| Some(room.level) == level).filter_map(|room| room.rect);
    let least = |edges: &mut dyn Iterator<Item = Metres>| edges.map(|edge| edge.0).reduce(f64::min).unwrap_or_default();
    (least(&mut drawn().map(|[x, ..]| x)), least(&mut drawn().map(|[_, y, ..]| y)))
}

/// "Porch and Front hall", of rooms without measures.
pub(crate) fn unmeasured(site: &Site, level: Id<Level>) -> String {
    let rooms = site.rooms.iter().filter(|room| room.level == level && room.rect.is_none());
    list(&rooms.map(|room| room.title.clone()).collect::<Vec<_>>(), "and")
}

//! A level of a house from above: rooms, openings, what hangs where, and the cables as tags.
//!
//! Rooms with measures stand at a usual scale, north up. A *thing* is a device, a board, a joint or the end of a cable. One
//! whose place is known has its *sign* there and its words beside it or at a leader; one that is only known to be in a room
//! stands in that room's list. A room whose words do not fit is drawn once more by itself; what does not fit there, and
//! rooms without measures, stand as boxes in the order given. A cable is a line only where its way is given as points.
//!
//! Not known and not drawn: the thickness of walls, the width of openings, the way that a door swings.

mod at_scale;
mod coverage;
mod key;
mod label;
mod scale;
mod schematic;
mod sign;
#[cfg(test)]
mod tests;
mod walls;
mod words;

use std::collections::BTreeSet;

use super::placing::Edges;
use super::scene::{Link, Scene, Size};
use super::sheet::{self, INSET, TitleBlock};
pub(crate) use coverage::Coverage;
use key::Key;
use label::Item;
pub(crate) use label::Line;
use schematic::Listed;
pub(crate) use sign::Sign;

/// A level.
#[derive(Clone, Debug, Default)]
pub(crate) struct Plan {
    /// Its title block; title, scale and part are set for each sheet.
    pub(crate) block: TitleBlock,
    /// Lengths are told in feet.
    pub(crate) feet: bool,
    /// Its rooms, in the order of the lists.
    pub(crate) rooms: Vec<Room>,
    /// The cables whose way is known.
    pub(crate) ways: Vec<Way>,
}

/// A room or another place.
#[derive(Clone, Debug, Default)]
pub(crate) struct Room {
    /// What it is called.
    pub(crate) title: String,
    /// Where it is, where that is known.
    pub(crate) outline: Option<Outline>,
    /// In open air.
    pub(crate) outdoors: bool,
    /// Its openings.
    pub(crate) openings: Vec<Opening>,
    /// What is in it and at no opening.
    pub(crate) things: Vec<Thing>,
}

/// Where a room is, in metres from the plan's left and lower edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Outline {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) width: f64,
    pub(crate) depth: f64,
}

/// A side of a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    North,
    East,
    South,
    West,
}

/// What an opening is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Leaf {
    Door,
    Window,
    Hatch,
}

/// An opening.
#[derive(Clone, Debug)]
pub(crate) struct Opening {
    /// What it is.
    pub(crate) leaf: Leaf,
    /// What it is called.
    pub(crate) title: String,
    /// Its wall, and where along it its middle is, in metres from the wall's left or lower end; `None` where the wall is
    /// not known.
    pub(crate) wall: Option<(Side, f64)>,
    /// What is at it.
    pub(crate) things: Vec<Thing>,
}

/// A device, a board, a joint or the end of a cable.
#[derive(Clone, Debug)]
pub(crate) struct Thing {
    /// How it is shown.
    pub(crate) sign: Sign,
    /// What is said of it.
    pub(crate) lines: Vec<Line>,
    /// Where it is on the plan, in metres, where that is known of what is at no opening.
    pub(crate) spot: Option<(f64, f64)>,
    /// What it covers.
    pub(crate) coverage: Option<Coverage>,
    /// Where its words lead; empty where nowhere.
    pub(crate) link: Link,
}

/// The way of a cable.
#[derive(Clone, Debug)]
pub(crate) struct Way {
    /// The text on its ends.
    pub(crate) label: String,
    /// Its points on the plan, in metres.
    pub(crate) points: Vec<(f64, f64)>,
}

impl Outline {
    /// The shortest line to another, in metres.
    fn gap(&self, other: &Self) -> f64 {
        let apart =
            |from: f64, size: f64, to: f64, to_size: f64| (to - (from + size)).max(from - (to + to_size)).max(0.0);
        apart(self.x, self.width, other.x, other.width).max(apart(self.y, self.depth, other.y, other.depth))
    }
}

impl Room {
    /// What is in it, at its openings too.
    fn all_things(&self) -> impl Iterator<Item = &Thing> {
        self.things.iter().chain(self.openings.iter().flat_map(|opening| &opening.things))
    }
}

impl Way {
    /// True where all of it is within what some rooms cover together: then it is drawn with them.
    fn is_among(&self, rooms: &[Outline]) -> bool {
        let (left, low, right, high) = scale::extent(rooms);
        self.points.iter().all(|(x, y)| left <= *x && *x <= right && low <= *y && *y <= high)
    }
}

/// One of the sheets of a level.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    /// What it is called.
    pub(crate) title: String,
    /// Its scale.
    pub(crate) scale: String,
    /// True for a room that is drawn again by itself, and for lists of what the others have no place for.
    pub(crate) is_detail: bool,
    /// The drawing.
    pub(crate) scene: Scene,
}

/// A sheet before it is known how many there are.
struct Drawn {
    title: String,
    scale: String,
    /// How many times smaller than the house it is drawn; none where it is not to scale.
    times: Option<f64>,
    is_detail: bool,
    scene: Scene,
    /// The lower edge of what is drawn.
    bottom: f64,
    /// The width of its frame.
    width: f64,
}

/// Beside and above the rooms, for words.
const MARGINS: (f64, f64) = (19.0, 9.0);

/// Height of the drawing of a room alone, so that two stand on one page.
const HALF: f64 = 66.0;

/// Between two drawings beside one another.
const BESIDE: f64 = 2.0;

/// Where more rooms than this are crowded, a list of each tells more than so many sheets.
const MOST_ALONE: usize = 12;

/// The level, on as many sheets of some size as it needs.
pub(crate) fn draw(plan: &Plan, size: Size) -> Vec<Part> {
    let inside = Edges::at((INSET, INSET), sheet::room(size));
    let mut drawn: Vec<Drawn> = Vec::new();
    let mut lists: Vec<Listed> = Vec::new();
    let measured = plan.rooms.iter().filter_map(|room| Some((room, room.outline?))).collect();
    let width = key::COLUMN + key::BESIDE;
    let mut told: Vec<&Room> = Vec::new();
    for group in scale::groups(measured, &Edges { right: inside.right - width, ..inside }, MARGINS, plan.feet) {
        let (sheet, crowded) = at_scale::draw(plan, &group, &inside, "");
        let times = sheet.as_ref().and_then(|sheet| sheet.times);
        if sheet.is_some() {
            told.extend(group.iter().map(|(room, _)| *room));
        }
        drawn.extend(sheet);
        let mut alone_drawn: Vec<Drawn> = Vec::new();
        let alone_too = group.len() > 1 && crowded.iter().filter(|room| room.is_standing).count() <= MOST_ALONE;
        for room in crowded {
            let alone: Vec<_> = group.iter().filter(|(other, _)| std::ptr::eq(*other, room.of)).copied().collect();
            let left = if room.is_standing && alone_too {
                let on = |area: &Edges| at_scale::draw(plan, &alone, area, &room.of.title);
                let mut tried = on(&inside);
                // As small as it can be without another scale and with a place for everything.
                for area in smaller(&inside) {
                    let (sheet, left) = on(&area);
                    let scale = |sheet: &Option<Drawn>| sheet.as_ref().and_then(|sheet| sheet.times);
                    // Drawn again it is no smaller than among the others.
                    let as_large = scale(&sheet) <= times;
                    let fits = left.is_empty() && as_large || scale(&sheet) == scale(&tried.0);
                    if left.len() <= tried.1.len() && fits {
                        tried = (sheet, left);
                        break;
                    }
                }
                alone_drawn.extend(tried.0);
                tried.1
            } else {
                vec![room]
            };
            lists.extend(left.into_iter().map(|room| Listed::of(room.of, room.items)));
        }
        // What is alike in size stands beside one another on a page.
        alone_drawn.sort_by(|one, other| other.bottom.total_cmp(&one.bottom).then(other.width.total_cmp(&one.width)));
        drawn.extend(alone_drawn);
    }
    let unmeasured = plan.rooms.iter().filter(|room| room.outline.is_none());
    lists.extend(unmeasured.map(|room| Listed::of(room, items(room))));
    drawn.extend(in_lists(plan, &lists, &inside, &told));
    let of = drawn.len();
    let has_whole = drawn.iter().any(|drawn| !drawn.is_detail);
    // A room that is drawn again by itself has its things again: who looks for one is led to the first.
    let mut led_to = BTreeSet::new();
    let part = |(number, drawn): (usize, Drawn)| {
        let Drawn { title, scale, times: _, is_detail, mut scene, bottom, width } = drawn;
        for link in scene.marks.iter_mut().filter_map(|mark| mark.link.as_mut()) {
            if !link.id.is_empty() && !led_to.insert(link.id.clone()) {
                link.id.clear();
            }
        }
        let block = TitleBlock { title: title.clone(), scale: scale.clone(), part: (number, of), ..plan.block.clone() };
        Part { title, scale, is_detail: is_detail && has_whole, scene: sheet::finish(scene, width, bottom, &block) }
    };
    (1..).zip(drawn).map(part).collect()
}

/// Smaller areas for a room alone: a quarter of a page, half of it upright, half of it lying.
fn smaller(inside: &Edges) -> [Edges; 3] {
    let right = (inside.right + INSET - BESIDE) / 2.0 - INSET;
    let bottom = inside.top + HALF;
    [Edges { right, bottom, ..*inside }, Edges { right, ..*inside }, Edges { bottom, ..*inside }]
}

/// All of a room, as a list.
fn items(room: &Room) -> Vec<Item> {
    let of_opening = |opening: &Opening| match opening.things.as_slice() {
        [] => vec![Item::words(opening.title.clone())],
        things => things.iter().flat_map(|thing| Item::listed(thing, &opening.title)).collect(),
    };
    let openings = room.openings.iter().flat_map(of_opening);
    openings.chain(room.things.iter().flat_map(|thing| Item::listed(thing, ""))).collect()
}

impl Listed {
    fn of(room: &Room, items: Vec<Item>) -> Self {
        Self { title: room.title.clone(), outdoors: room.outdoors, items }
    }
}

/// The sheets of lists, with the key beside the first: what no plan's key tells, which `told` says of which rooms.
fn in_lists(plan: &Plan, lists: &[Listed], inside: &Edges, told: &[&Room]) -> Vec<Drawn> {
    let key = Key::of_lists(plan, told);
    let beside = Edges { left: inside.right - key.width(inside.bottom - inside.top), ..*inside };
    let right = if key.is_empty() { inside.right } else { beside.left - key::BESIDE };
    let pages = schematic::pages(lists, &Edges { right, ..*inside });
    let frame = inside.right + INSET;
    let title = if plan.rooms.iter().all(|room| room.outline.is_none()) { "" } else { ": rooms in lists" };
    let scale = if told.is_empty() { "not to scale" } else { "signs as on part 1, not to scale" };
    let with_key = |(mut scene, bottom): (Scene, f64)| {
        let bottom = bottom.max(key.add(&mut scene, &beside));
        Drawn {
            title: format!("{}{title}", plan.block.title),
            scale: scale.to_owned(),
            times: None,
            is_detail: true,
            scene,
            bottom,
            width: frame,
        }
    };
    pages.into_iter().map(with_key).collect()
}

/// Gives words a place to lead to, where they have one.
fn lead(scene: &mut Scene, link: &Link, draw: impl FnOnce(&mut Scene)) {
    if link.to.is_empty() {
        draw(scene);
    } else {
        scene.linked(link.clone(), draw);
    }
}

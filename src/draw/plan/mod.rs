//! A level of a house from above: rooms, openings, what hangs where, and the cables as tags.
//!
//! Rooms with measures stand at a usual scale, north up. A *thing* is a device, a board, a joint or the end of a cable. One
//! whose place is known has its *sign* there and its words beside it or at a leader; one that is only known to be in a room
//! stands in that room's list. What has no place for its words on the plan has them in such a list
//! beside the plans, with a number where its sign stands; rooms without measures are lists as well. Those of all levels are
//! packed on as few pages as hold them. A cable is a line only where its way is given as points.
//!
//! Not known and not drawn: the thickness of walls, the width of openings, the way that a door swings.

mod at_scale;
mod coverage;
mod key;
mod label;
mod panel;
mod scale;
mod schematic;
mod sign;
#[cfg(test)]
mod tests;
mod walls;
mod words;

use super::placing::Edges;
use super::scene::{Link, Scene, Size};
use super::sheet::{self, INSET, TitleBlock};
pub(crate) use coverage::Coverage;
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
    /// True where all that its lists say stands in numbered rows of another sheet as well.
    pub(crate) has_rows: bool,
    /// True where all that the lists of its rooms without measures say stands in rows of another sheet, without numbers.
    pub(crate) told_in_rows: bool,
}

impl Plan {
    /// True where paper that has the other sheet too needs none of the lists.
    fn is_told(&self, lists: &[Listed]) -> bool {
        let measured = |list: &Listed| self.rooms.iter().any(|room| room.outline.is_some() && room.title == list.title);
        self.has_rows || self.told_in_rows && !lists.iter().any(measured)
    }
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
    /// The number that it has on other sheets; a thing without one is counted where it needs one.
    pub(crate) number: Option<usize>,
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

/// One of the sheets.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    /// What it is called.
    pub(crate) title: String,
    /// The drawing.
    pub(crate) scene: Scene,
}

/// The sheets of a house.
#[derive(Clone, Debug)]
pub(crate) struct Sheets {
    /// Of each level.
    pub(crate) levels: Vec<Vec<Part>>,
    /// Of rooms of all levels that stand in lists.
    pub(crate) rooms: Vec<Part>,
    /// True where these stand before the levels, for the first level takes all of its page.
    pub(crate) rooms_first: bool,
}

/// Rooms at scale, before it is known how many sheets there are.
struct Drawn {
    scale: String,
    scene: Scene,
}

/// Beside and above the rooms, for words.
const MARGINS: (f64, f64) = (19.0, 9.0);

/// The levels, on as many sheets of some size as they need. Above the first there is so much in its head that it is drawn
/// lower, where that makes nothing smaller and moves nothing to a list that only the plan has; else the lists of rooms
/// stand there.
pub(crate) fn draw(plans: &[Plan], size: Size, head: f64) -> Sheets {
    let mut levels: Vec<Level> = plans.iter().map(|plan| Level::of(plan, size)).collect();
    // Where no level is drawn, lists stand first.
    let mut has_room = false;
    if let Some((first, plan)) = levels.iter_mut().zip(plans).find(|(level, _)| !level.drawn.is_empty()) {
        let below = Level::of(plan, Size { height: size.height - head, ..size });
        let (scales, listed) = below.told();
        let (wanted, listed_before) = first.told();
        has_room = scales == wanted && (plan.has_rows || listed == listed_before);
        if has_room {
            *first = below;
        }
    }
    let inside = Edges::at((INSET, INSET), sheet::room(size));
    let is_told = levels.iter().all(|level| level.plan.is_told(&level.lists));
    let has_one = levels.len() == 1;
    let named = |level: &mut Level| {
        let level_title = if has_one { String::new() } else { format!("{}: ", level.plan.block.title) };
        let lists = std::mem::take(&mut level.lists).into_iter();
        lists.map(move |list| Listed { title: format!("{level_title}{}", list.title), ..list }).collect::<Vec<_>>()
    };
    let lists: Vec<Listed> = levels.iter_mut().flat_map(named).collect();
    let pages = panel::pages(&lists, &inside, if has_room { 0.0 } else { head });
    let rooms_first = !has_room && !pages.is_empty();
    let part = |scene: Scene, bottom: f64, block: TitleBlock| Part {
        title: block.title.clone(),
        scene: sheet::finish(scene, size.width, bottom, &block),
    };
    let of_level = |level: Level| {
        let of = level.drawn.len();
        let numbered = (1..).zip(level.drawn);
        let parts = numbered.map(|(number, Drawn { scale, scene })| {
            part(scene, level.bottom, TitleBlock { scale, part: (number, of), ..level.plan.block.clone() })
        });
        parts.collect()
    };
    let of = pages.len();
    let block = plans.first().map(|plan| plan.block.clone()).unwrap_or_default();
    let rooms = (1..).zip(pages).map(|(number, (scene, bottom))| {
        let (title, scale) = ("Rooms in lists".to_owned(), "not to scale".to_owned());
        let mut sheet = part(scene, bottom, TitleBlock { title, scale, part: (number, of), ..block.clone() });
        // Before the levels they fill the first page, which has the sheet's head.
        sheet.scene.lists_rooms = !rooms_first && is_told;
        sheet
    });
    Sheets { rooms: rooms.collect(), rooms_first, levels: levels.into_iter().map(of_level).collect() }
}

/// A level as it is drawn.
struct Level<'p> {
    plan: &'p Plan,
    drawn: Vec<Drawn>,
    /// The lower edge of each drawing.
    bottom: f64,
    lists: Vec<Listed>,
}

impl<'p> Level<'p> {
    fn of(plan: &'p Plan, size: Size) -> Self {
        let inside = Edges::at((INSET, INSET), sheet::room(size));
        let mut level = Self { plan, drawn: Vec::new(), bottom: inside.bottom, lists: Vec::new() };
        let measured = plan.rooms.iter().filter_map(|room| Some((room, room.outline?))).collect();
        let width = key::COLUMN + key::BESIDE;
        let mut numbers = 0;
        for group in scale::groups(measured, &Edges { right: inside.right - width, ..inside }, MARGINS, plan.feet) {
            let (drawn, crowded) = at_scale::draw(plan, &group, &inside, &mut numbers);
            level.drawn.extend(drawn);
            level.lists.extend(crowded.into_iter().map(|room| Listed::of(room.of, room.items)));
        }
        let unmeasured = plan.rooms.iter().filter(|room| room.outline.is_none());
        level.lists.extend(unmeasured.map(|room| Listed::of(room, items(room))));
        level
    }

    /// At which scales it is drawn, and how much each list has.
    fn told(&self) -> (Vec<&str>, Vec<usize>) {
        let scales = self.drawn.iter().map(|drawn| drawn.scale.as_str());
        (scales.collect(), self.lists.iter().map(|list| list.items.len()).collect())
    }
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

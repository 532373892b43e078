//! Rooms at scale, with what is in them: first what has a place of its own, then the words, each where it is free.

use super::key::{self, Key, Sample};
use super::label::Item;
use super::scale::Scale;
use super::walls::{self, Gap};
use super::{Drawn, Leaf, MARGINS, Outline, Plan, Room, Thing, Way, coverage};
use crate::draw::placing::{Edges, Named, Places, Spot, Toward};
use crate::draw::role::Role;
use crate::draw::scene::{Scene, Size};

/// A room with what found no place.
pub(crate) struct Crowded<'p> {
    pub(crate) of: &'p Room,
    pub(crate) items: Vec<Item>,
}

/// A sign that stands on the plan and still wants its words.
pub(super) struct Standing<'p> {
    pub(super) room: usize,
    pub(super) thing: &'p Thing,
    /// The opening that it is at.
    pub(super) at: String,
    pub(super) named: Named,
}

/// The longest leader.
pub(super) const LONGEST: f64 = 110.0;
/// So many things in one room are listed and not placed: nobody finds one of them on a plan.
const MOST_IN_ROOM: usize = 60;

/// What is being drawn.
pub(super) struct Sheet<'p> {
    pub(super) rooms: &'p [(&'p Room, Outline)],
    pub(super) scale: Scale,
    pub(super) scene: Scene,
    pub(super) places: Places,
    /// What has no place, by room.
    pub(super) left: Vec<Vec<Item>>,
    /// How many things of the level have a number instead of words.
    pub(super) numbers: usize,
}

/// The drawing of rooms, and those of them in which something found no place. `numbers`: how many things of the level have
/// a number so far.
pub(crate) fn draw<'p>(
    plan: &Plan,
    rooms: &[(&'p Room, Outline)],
    inside: &Edges,
    numbers: &mut usize,
) -> (Option<Drawn>, Vec<Crowded<'p>>) {
    let occurring = key::in_rooms(plan, &rooms.iter().map(|(room, _)| *room).collect::<Vec<_>>());
    // Room for all of it: what is drawn, and what goes to a list, is known only once all is placed.
    let key = Key::of(&occurring);
    let high = inside.bottom - inside.top - key::HEAD - key::NOTES;
    let width = key.width(high);
    let area = Edges { right: inside.right - width - key::BESIDE, ..*inside };
    let outlines: Vec<Outline> = rooms.iter().map(|(_, outline)| *outline).collect();
    let crowded = |(of, items): (&(&'p Room, Outline), Vec<Item>)| Crowded { of: of.0, items };
    let Some(scale) = Scale::fitting(&outlines, &area, MARGINS, plan.feet) else {
        return (None, rooms.iter().map(|room| crowded((room, super::items(room.0)))).collect());
    };
    let left = rooms.iter().map(|_| Vec::new()).collect();
    let mut sheet = Sheet { rooms, scale, scene: Scene::default(), places: Places::new(area), left, numbers: *numbers };
    sheet.add_all(plan);
    let sample = if plan.has_rows { Sample::Row } else { Sample::Number };
    let numbered = (sheet.numbers > std::mem::replace(numbers, sheet.numbers)).then_some(sample);
    let gaps = |(room, outline): &(&Room, Outline)| {
        let openings = room.openings.iter().filter(|opening| Gap::of(opening, outline, &sheet.scale).is_some());
        openings.map(|opening| opening.leaf).collect::<Vec<_>>()
    };
    let openings: Vec<Leaf> = rooms.iter().flat_map(gaps).collect();
    let key = Key::of(&key::drawn(occurring, &sheet.scene, &openings, &sheet.left));
    let crowded: Vec<Crowded> =
        rooms.iter().zip(sheet.left).filter(|(_, items)| !items.is_empty()).map(crowded).collect();
    let mut scene = sheet.scene;
    let moved = scene.marks.iter().any(|mark| mark.role == Role::LeaderEnd).then_some(Sample::Place);
    let key = key.with(&numbered.into_iter().chain(moved).collect::<Vec<_>>(), high);
    let (left, notes) = (inside.right - width, inside.bottom - key::NOTES);
    key::add_head(&mut scene, (left, inside.top), &scale, plan.feet);
    key.add(&mut scene, &Edges { left, top: inside.top + key::HEAD, bottom: notes, ..*inside });
    let more: Vec<&str> = crowded.iter().map(|room| room.of.title.as_str()).collect();
    key::add_notes(&mut scene, (left, inside.right), notes, plan.has_rows, &more);
    (Some(Drawn { scale: scale.ratio.words(), scene }), crowded)
}

impl<'p> Sheet<'p> {
    fn add_all(&mut self, plan: &Plan) {
        walls::add_walls(&mut self.scene, &mut self.places, self.rooms, &self.scale);
        for (room, outline) in self.rooms {
            for opening in &room.openings {
                if let Some(gap) = Gap::of(opening, outline, &self.scale) {
                    walls::add_opening(&mut self.scene, &mut self.places, &gap, opening.leaf);
                }
            }
        }
        let outlines: Vec<Outline> = self.rooms.iter().map(|(_, outline)| *outline).collect();
        let ways: Vec<&Way> = plan.ways.iter().filter(|way| way.is_among(&outlines)).collect();
        for way in &ways {
            let points = self.on_paper(way);
            self.scene.line(Role::Way, &points);
            walls::take_path(&mut self.places, &points, Role::Way);
        }
        self.add_coverage();
        let mut standing = Vec::new();
        let mut listed: Vec<Vec<Item>> = Vec::new();
        for (position, (room, outline)) in self.rooms.iter().enumerate() {
            listed.push(self.stand(position, room, outline, &mut standing));
        }
        let mut rest = Vec::new();
        for position in self.smallest_first() {
            let items = listed.get_mut(position).map(std::mem::take).unwrap_or_default();
            rest.extend(self.add_in_room(position, items));
        }
        for sign in &standing {
            self.add_words(sign, &standing);
        }
        for rest in rest {
            self.add_rest(rest);
        }
        for way in ways {
            self.add_flag(way);
        }
    }

    /// The most crowded first.
    fn smallest_first(&self) -> Vec<usize> {
        let size = |outline: &Outline| outline.width * outline.depth;
        let mut order: Vec<(usize, f64)> =
            self.rooms.iter().enumerate().map(|(nth, (_, outline))| (nth, size(outline))).collect();
        order.sort_by(|(_, one), (_, other)| one.total_cmp(other));
        order.into_iter().map(|(nth, _)| nth).collect()
    }

    /// True where words would stand in another room than their own.
    pub(super) fn is_in_other_room(&self, own: usize, words: &Edges) -> bool {
        let others = self.rooms.iter().enumerate().filter(|(nth, (room, _))| *nth != own && !room.outdoors);
        others.map(|(_, (_, outline))| self.scale.edges(outline)).any(|room| room.meets(words))
    }

    pub(super) fn on_paper(&self, way: &Way) -> Vec<Spot> {
        way.points.iter().map(|point| self.scale.place(*point)).collect()
    }

    fn add_coverage(&mut self) {
        for (room, outline) in self.rooms {
            for thing in &room.things {
                let (Some(covers), Some(spot)) = (&thing.coverage, thing.spot) else { continue };
                let (at, range) = (self.scale.place(spot), self.scale.length(covers.range));
                let points = coverage::outline(covers, at, range, &self.scale.edges(outline));
                if points.len() > 2 {
                    self.scene.polygon(Role::Coverage, &points);
                    let closed: Vec<Spot> = points.iter().chain(points.first()).copied().collect();
                    walls::take_path(&mut self.places, &closed, Role::Coverage);
                }
            }
        }
    }

    /// Adds the signs of a room whose place is known; what is to stand in its list.
    fn stand(
        &mut self,
        position: usize,
        room: &'p Room,
        outline: &Outline,
        standing: &mut Vec<Standing<'p>>,
    ) -> Vec<Item> {
        let count = room.things.len() + room.openings.iter().map(|opening| opening.things.len()).sum::<usize>();
        if count > MOST_IN_ROOM {
            if let Some(left) = self.left.get_mut(position) {
                left.extend(super::items(room));
            }
            return Vec::new();
        }
        let mut listed = Vec::new();
        for thing in &room.things {
            match thing.spot.and_then(|spot| self.stand_near(thing, self.scale.place(spot))) {
                Some(at) => standing.push(Standing {
                    room: position,
                    thing,
                    at: String::new(),
                    named: self.named(thing, at, None),
                }),
                None => listed.extend(Item::listed(thing, "")),
            }
        }
        for opening in &room.openings {
            let gap = Gap::of(opening, outline, &self.scale);
            if opening.things.is_empty() && gap.is_none() {
                listed.push(Item::words(opening.title.clone()));
            }
            for thing in &opening.things {
                match gap.and_then(|gap| self.stand_at(thing, &gap)) {
                    Some(named) => standing.push(Standing { room: position, thing, at: opening.title.clone(), named }),
                    None => listed.extend(Item::listed(thing, &opening.title)),
                }
            }
        }
        listed
    }

    /// Adds the sign of a thing at an opening: outside where no room is, else inside, else beside it.
    fn stand_at(&mut self, thing: &Thing, gap: &Gap) -> Option<Named> {
        let reach = thing.sign.reach();
        let step = 2.0 * reach + 0.8;
        let off = |nth: f64| reach + 1.6 + nth * step;
        let aside = (gap.to - gap.from) / 2.0 + reach + 0.8;
        let out = [(0.0, -off(0.0)), (0.0, -off(1.0)), (0.0, -off(2.0))];
        let within = [(0.0, off(0.0)), (aside, off(0.0)), (-aside, off(0.0)), (0.0, off(1.0)), (0.0, off(2.0))];
        let place = |(along, inward): (f64, f64)| gap.wall.place(gap.middle() + along, inward);
        let in_room =
            |at: Spot| self.rooms.iter().any(|(room, outline)| !room.outdoors && self.scale.edges(outline).has(at));
        let out = out.into_iter().map(place).filter(|at| !in_room(*at)).map(|at| (at, true));
        let tries: Vec<(Spot, bool)> = out.chain(within.into_iter().map(|at| (place(at), false))).collect();
        let (at, outside) = tries.into_iter().find(|(at, _)| self.places.is_free(&thing.sign.edges(*at)))?;
        self.add_sign(thing, at);
        let (x, y) = gap.wall.inward;
        let best = if outside { (-x, -y) } else { (x, y) };
        Some(self.named(thing, at, Some(best)))
    }

    /// Adds the sign of a thing at its place, or near it at the end of a line.
    fn stand_near(&mut self, thing: &Thing, spot: Spot) -> Option<Spot> {
        const NEAR: f64 = 20.0;
        if self.places.is_free(&thing.sign.edges(spot)) {
            self.add_sign(thing, spot);
            return Some(spot);
        }
        if !self.places.may_end(spot) {
            return None;
        }
        let reach = thing.sign.reach();
        let size = Size { width: 2.0 * reach, height: 2.0 * reach };
        let found = self.places.led(&Named { at: spot, reach: 0.0, best: Toward::Up }, size, NEAR, &|_| false)?;
        self.add_leader(&found, size);
        self.scene.circle(Role::LeaderEnd, spot, 0.4);
        self.places.take_line(spot, spot, 0.8);
        let at = (found.corner.0 + reach, found.corner.1 + reach);
        thing.sign.add(&mut self.scene, at);
        Some(at)
    }

    fn add_sign(&mut self, thing: &Thing, at: Spot) {
        thing.sign.add(&mut self.scene, at);
        self.places.take(thing.sign.edges(at));
    }

    /// A sign by its place, its words best in a direction, else away from the middle of the plan.
    fn named(&self, thing: &Thing, at: Spot, best: Option<Spot>) -> Named {
        let best = best.map_or_else(|| self.outwards(at), toward);
        Named { at, reach: thing.sign.reach(), best }
    }

    /// The side on which a place is nearest to the edge of the plan.
    pub(super) fn outwards(&self, at: Spot) -> Toward {
        let middle = self.places.middle();
        toward((at.0 - middle.0, at.1 - middle.1))
    }
}

fn toward((x, y): Spot) -> Toward {
    match (x.abs() >= y.abs(), x >= 0.0, y >= 0.0) {
        (true, true, _) => Toward::Right,
        (true, false, _) => Toward::Left,
        (false, _, true) => Toward::Down,
        (false, _, false) => Toward::Up,
    }
}

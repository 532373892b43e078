//! The words of a plan, each where it is free: the list of a room inside it, else at a leader; those of a sign beside it,
//! else at a leader. A sign whose words are free nowhere has a number, at which they stand in the list of its room.

use super::Way;
use super::at_scale::{LONGEST, Sheet, Standing};
use super::label::{self, Block, Form, Item};
use crate::draw::placing::{Edges, Foreign, Found, Named, Spot, Toward};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Size};
use crate::draw::text;

/// The longest leader to words in another room.
const LONGEST_ABROAD: f64 = 40.0;
/// From a wall to the words of its room.
const OFF_WALL: f64 = 1.2;

/// What did not fit into its room.
pub(super) struct Rest {
    position: usize,
    within: Edges,
    block: Block,
    items: Vec<Item>,
}

/// Words so near to a sign are taken for its own, unless what they belong to is nearer.
const NEAR_SIGN: f64 = 9.0;

/// True where words would stand beside the sign of something else.
fn is_beside_another(own: &Named, signs: &[Standing], words: &Edges) -> bool {
    let away = |named: &Named| words.distance(named.at) - named.reach;
    let own_way = away(own);
    signs.iter().map(|sign| away(&sign.named)).any(|way| way < NEAR_SIGN && way + 0.01 < own_way)
}

impl Sheet<'_> {
    /// Adds a room's name and its list where they fit into the room, else the name alone; what is left to be placed.
    pub(super) fn add_in_room(&mut self, position: usize, items: Vec<Item>) -> Option<Rest> {
        let (room, outline) = self.rooms.get(position)?;
        let within = self.scale.edges(outline).inside(OFF_WALL);
        let whole = Block::new(&room.title, items.clone());
        if self.add_inside(&whole, &within) {
            return None;
        }
        let has_name = self.add_inside(&whole.name(f64::MAX), &within)
            || self.add_inside(&whole.name(within.size().width), &within);
        // Nothing but its name is left to be told of a room without things.
        let block = if has_name && items.is_empty() { Block::new("", Vec::new()) } else { whole };
        Some(Rest { position, within, block, items })
    }

    /// Adds what did not fit into its room at a leader, under the room's name. The leader ends without a dot: where in the room
    /// each thing is, nobody knows.
    pub(super) fn add_rest(&mut self, rest: Rest) {
        let parts = [(0.5, 0.5), (0.25, 0.75), (0.75, 0.75), (0.25, 0.25), (0.75, 0.25)];
        let Edges { left, top, right, bottom } = rest.within;
        let ends = parts.map(|(along, down)| (left + along * (right - left), top + down * (bottom - top)));
        let end = ends.into_iter().find(|end| self.places.may_end(*end));
        let named = end.map(|at| Named { at, reach: 0.0, best: self.outwards(at) });
        let mut led = |block: &Block| named.is_some_and(|named| self.add_led(block, &named, rest.position));
        if rest.block.is_empty() || led(&rest.block) {
            return;
        }
        let name = rest.block.name(f64::MAX);
        if !name.is_empty() {
            led(&name);
        }
        if let Some(left) = self.left.get_mut(rest.position) {
            left.extend(rest.items);
        }
    }

    fn add_inside(&mut self, block: &Block, within: &Edges) -> bool {
        for form in [Form::Flat, Form::Stacked] {
            let size = block.size(form);
            if let Some(corner) = self.places.inside(within, size) {
                self.places.take(Edges::at(corner, size));
                block.add(&mut self.scene, corner, form);
                return true;
            }
        }
        false
    }

    fn add_led(&mut self, block: &Block, named: &Named, own: usize) -> bool {
        for form in [Form::Stacked, Form::Flat] {
            let size = block.size(form);
            let other = |words: &Edges| self.is_in_other_room(own, words);
            if let Some(found) = self.places.led(named, size, LONGEST, &other) {
                self.add_leader(&found, size);
                block.add(&mut self.scene, found.corner, form);
                return true;
            }
        }
        false
    }

    /// Adds the words of a sign that stands on the plan.
    pub(super) fn add_words(&mut self, sign: &Standing, signs: &[Standing]) {
        let item = Item::beside(sign.thing);
        let size = item.size(Form::Stacked);
        let another = |words: &Edges| is_beside_another(&sign.named, signs, words);
        let other = |words: &Edges| self.is_in_other_room(sign.room, words) || another(words);
        let beside = self.places.beside(&sign.named, size, LONGEST, &other);
        // Where it has to be, in another room: the leader tells whose they are.
        let abroad = || self.places.led(&sign.named, size, LONGEST_ABROAD, &another);
        if let Some(found) = beside.or_else(abroad) {
            self.add_leader(&found, size);
            item.add(&mut self.scene, found.corner, Form::Stacked);
            return;
        }
        let items = Item::listed(sign.thing, &sign.at);
        let number = self.add_number(sign, &another);
        if let Some(left) = self.left.get_mut(sign.room) {
            left.extend(items.into_iter().enumerate().map(|(nth, item)| item.numbered(number.filter(|_| nth == 0))));
        }
    }

    /// Adds a number instead of the words of a sign, which stand at it in the list of the room.
    fn add_number(&mut self, sign: &Standing, another: Foreign) -> Option<usize> {
        let number = sign.thing.number.unwrap_or(self.numbers + 1);
        let words = number.to_string();
        let size = label::number_size(&words);
        let other = |words: &Edges| self.is_in_other_room(sign.room, words) || another(words);
        let beside = self.places.beside(&sign.named, size, LONGEST_ABROAD, &other);
        let found = beside.or_else(|| self.places.led(&sign.named, size, LONGEST_ABROAD, another))?;
        self.add_leader(&found, size);
        let middle = (found.corner.0 + size.width / 2.0, found.corner.1 + size.height / 2.0);
        label::add_number(&mut self.scene, middle, &words);
        self.numbers += 1;
        Some(number)
    }

    /// Takes the place of words and adds the leader to it, where there is one.
    pub(super) fn add_leader(&mut self, found: &Found, size: Size) {
        self.places.take_found(found, size);
        if let Some((from, to)) = found.leader {
            self.scene.line(Role::Leader, &[from, to]);
        }
    }

    /// Adds the label of a cable whose way is known, at the middle of its longest piece.
    pub(super) fn add_flag(&mut self, way: &Way) {
        let points = self.on_paper(way);
        let length = |(from, to): &(&Spot, &Spot)| (from.0 - to.0).abs() + (from.1 - to.1).abs();
        let pieces = points.iter().zip(points.iter().skip(1));
        let Some((from, to)) = pieces.max_by(|one, other| length(one).total_cmp(&length(other))) else { return };
        let middle = (f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1));
        let words = [label::cut(&way.label, label::MOST_WIDTH, Role::Label)];
        let size = text::size(&words, Role::Label);
        let named = Named { at: middle, reach: Role::Way.style().line / 2.0, best: Toward::Up };
        if let Some(found) = self.places.beside(&named, size, LONGEST, &|_| false) {
            self.add_leader(&found, size);
            self.scene.text(Role::Label, found.corner, Anchor::Start, &words);
        }
    }
}

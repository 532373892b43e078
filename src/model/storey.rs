//! Which levels are above one another, and which stand beside.
//!
//! The spec gives a level its storey. Of several on one storey the house's own is that with a panel, else that with the
//! most rooms indoors; the others stand beside it.

use crate::base::Id;

use super::place::Level;
use super::site::Site;

/// The levels of one storey.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Storey {
    /// Its number, 0 at the ground.
    pub(crate) number: i64,
    /// The house's own.
    pub(crate) house: Id<Level>,
    /// Those that stand beside it, by name.
    pub(crate) beside: Vec<Id<Level>>,
}

impl Site {
    /// The storeys that have levels, the highest first.
    pub(crate) fn storeys(&self) -> Vec<Storey> {
        let mut numbers: Vec<i64> = self.levels.iter().map(|level| level.storey).collect();
        numbers.sort_unstable_by(|one, other| other.cmp(one));
        numbers.dedup();
        numbers.into_iter().filter_map(|number| self.storey(number)).collect()
    }

    fn storey(&self, number: i64) -> Option<Storey> {
        let of_storey = self.levels.entries().filter(|(_, level)| level.storey == number);
        let levels: Vec<Id<Level>> = of_storey.map(|(id, _)| id).collect();
        let rank = |level: Id<Level>| {
            let rooms = self.rooms.iter().filter(|room| room.level == level);
            let indoors = rooms.filter(|room| !room.is_outdoors()).count();
            let panels = self.boards.iter().filter(|board| board.kind.is_panel()).filter_map(|board| board.room);
            (panels.filter(|room| self.rooms[*room].level == level).count(), indoors)
        };
        // Of equal ones the first by name.
        let house = levels.iter().rev().copied().max_by_key(|level| rank(*level))?;
        Some(Storey { number, house, beside: levels.into_iter().filter(|level| *level != house).collect() })
    }
}

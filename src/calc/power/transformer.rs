//! What a board asks of its transformer, through the cable between them.
//!
//! The currents are those of an alarm on mains with a charger at its full current, see [`from_mains`]. The alternating
//! current is the direct current over the rectifier's factor, whatever the cable takes of the volts: what it turns to heat
//! is part of the transformer's volts times that current.

use super::Power;
use super::own_supply::float;
use super::standby::{RECTIFIER, currents_on_mains, from_mains, transformer_power};
use crate::base::Id;
use crate::calc::pair::Pair;
use crate::model::{Board, Site};
use crate::profiles::battery;
use crate::quantity::{Amperes, VoltAmperes, Volts};

/// What is asked of a transformer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Asked {
    /// What the board takes in alarm.
    pub(crate) alarm: Amperes,
    /// That and what the charger takes.
    pub(crate) direct: Amperes,
    /// Volts lost in both conductors of the cable, with hot wire; none where the spec has no cable.
    pub(crate) drop: Volts,
    /// Volts left at the board.
    pub(crate) at_board: Volts,
    /// The rating that is enough.
    pub(crate) power: VoltAmperes,
}

impl Asked {
    /// The volts behind the bridge that charge at the best: the peak of what reaches the board, less its diodes.
    pub(crate) fn rectified(&self) -> Volts {
        Volts(self.at_board.0 * std::f64::consts::SQRT_2 - battery::BRIDGE_DROP.value)
    }

    /// The least volts that charge a board's battery, where fewer are behind the bridge: nothing fills it then. `None`
    /// where the board's sheet says what its port needs, which is judged instead, or there is no battery.
    pub(crate) fn flat(&self, site: &Site, board: Id<Board>) -> Option<Volts> {
        let part = site.part_of(board).filter(|_| site.boards[board].battery.is_some())?;
        let by_sheet = part.ac_port.as_ref().is_some_and(|port| port.min.is_some());
        let (least, _) = float(part);
        (!by_sheet && self.rectified() < least).then_some(least)
    }
}

/// How [`Asked::rectified`] is computed, in words.
pub(crate) fn rectified_words() -> String {
    format!("peak √2, less {} for its diodes: {}", Volts(battery::BRIDGE_DROP.value), battery::BRIDGE_DROP.source())
}

/// What a board asks of its transformer; `None` where it has none, or its part is not known.
pub(crate) fn asked(site: &Site, power: &Power, board: Id<Board>) -> Option<Asked> {
    let transformer = site.boards[board].transformer.as_ref()?;
    let currents = currents_on_mains(site, power, board);
    let direct = from_mains(site.part_of(board)?, currents);
    let volts = transformer.volts.value;
    let alternating = direct.0 / RECTIFIER;
    let run = transformer.run.map(|run| &site.runs[run]);
    let ohms = run.and_then(|run| Some(Pair::of_run(site, run)?.ohms().greatest / f64::from(run.pairs.max(1))));
    let drop = Volts(alternating * ohms.unwrap_or_default());
    Some(Asked {
        alarm: currents.alarm,
        direct,
        drop,
        at_board: Volts(volts.0 - drop.0),
        power: transformer_power(volts, direct),
    })
}

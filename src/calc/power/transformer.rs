//! What a board asks of its transformer, through the cable between them.
//!
//! The currents are those of an alarm on mains with a charger at its full current, see [`from_mains`]. The alternating
//! current is the direct current over the rectifier's factor, whatever the cable takes of the volts: what it turns to heat
//! is part of the transformer's volts times that current.

use super::Power;
use super::standby::{RECTIFIER, currents_on_mains, from_mains, transformer_power};
use crate::base::Id;
use crate::calc::pair::Pair;
use crate::model::{Board, Site};
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

//! A board with a supply of its own, by its sheet: what it takes itself, the cells of its battery, and the volts at which it
//! lets go of it.

use std::ops::Add;

use super::case::Supply;
use super::tree::RAISED;
use crate::base::Id;
use crate::calc::two_wire;
use crate::model::{Board, Output, Part, Site};
use crate::profiles::battery;
use crate::quantity::{Amperes, Volts};

const END_OF_CELL: f64 = battery::END_OF_CELL.value;
/// Volts of a charged cell on float, from and to (maker handbooks, from memory), widened as a meter in a warm or cold
/// house needs it.
const FLOAT_OF_CELL: (f64, f64) = (2.20, 2.35);

/// What a board's battery must carry.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Currents {
    /// At rest.
    pub(crate) idle: Amperes,
    /// In alarm.
    pub(crate) alarm: Amperes,
}

impl Add for Currents {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { idle: self.idle + other.idle, alarm: self.alarm + other.alarm }
    }
}

/// What the two-wire loops of a board take from its supply: their current, and as much more as their voltage is above
/// that of the supply.
pub(crate) fn loops(site: &Site, board: Id<Board>, supply: Supply) -> Currents {
    let (idle, alarm) = two_wire::currents(site, board);
    let raised = raised(site, board, supply).map_or(1.0, |(own, loops)| loops.0 / own.0);
    Currents { idle: Amperes(idle.0 * raised), alarm: Amperes(alarm.0 * raised) }
}

/// The volts of a board's supply and those of its two-wire loops, where it must raise them.
pub(crate) fn raised(site: &Site, board: Id<Board>, supply: Supply) -> Option<(Volts, Volts)> {
    let part = site.part_of(board)?;
    let supplies = part.sensings().filter(|sensing| sensing.feed.is_some()).filter_map(|sensing| sensing.supply);
    let (own, loops) = (own_volts(part, supply), Volts(supplies.map(|supply| supply.0).fold(0.0, f64::max)));
    (loops.0 > own.0).then_some((own, loops))
}

/// How many times the current of one of a board's outputs or ports flows in its own supply, by the volts of that output: more
/// than once where it raises them, as if nothing were lost in the conversion.
pub(super) fn takes_times(part: &Part, supply: Supply, gives: Volts) -> f64 {
    let factor = gives.0 / own_volts(part, supply).0;
    if factor > RAISED { factor } else { 1.0 }
}

/// True where an output has the volts of the battery, less what is lost on the way: its sheet gives no least for it, and no fewer
/// volts than a full battery at rest has, nor so many that it must raise them.
pub(crate) fn follows_battery(part: &Part, output: &Output) -> bool {
    let full = cells(part) * battery::RESTING_CELL.value;
    output.least.is_none() && output.volts.0 >= full && takes_times(part, Supply::Mains, output.volts) <= 1.0
}

/// The volts of which a board makes all others: those of the battery at its end, or on mains what its charger holds.
fn own_volts(part: &Part, supply: Supply) -> Volts {
    let (greatest, float) = (greatest_volts(part), float(part).1);
    match supply {
        Supply::Battery => end_of_battery(part),
        Supply::Mains if greatest.0 > 0.0 && greatest < float => greatest,
        Supply::Mains => float,
    }
}

/// What a board takes itself, at the end of the battery; nothing where its sheet does not say.
pub(crate) fn own(site: &Site, board: Id<Board>) -> Currents {
    site.part_of(board).map_or_else(Currents::default, |part| draws(part, end_of_battery(part)))
}

/// What a board takes itself at some volts.
pub(super) fn draws(part: &Part, volts: Volts) -> Currents {
    let draw = part.draw.as_ref();
    draw.map_or_else(Currents::default, |draw| Currents { idle: draw.idle.at(volts), alarm: draw.alarm.at(volts) })
}

/// Battery volts at which a board lets go: its charger's cut-off, else the end of discharge of its cells.
pub(crate) fn end_of_battery(part: &Part) -> Volts {
    let cut_off = part.charger.as_ref().and_then(|charger| charger.cut_off);
    cut_off.unwrap_or_else(|| Volts(cells(part) * END_OF_CELL))
}

/// What a board loses between its battery and its outputs; nothing where its sheet does not say.
pub(crate) fn own_drop(part: &Part) -> Volts {
    part.charger.as_ref().and_then(|charger| charger.drop).unwrap_or_default()
}

/// The cells of a board's battery: of 6, 12 or 24 V by the volts at which its charger lets go, which are the battery's own.
/// Where the sheet does not say, by the greatest volts that it gives, for few boards make more of their battery's volts.
pub(crate) fn cells(part: &Part) -> f64 {
    let by_outputs = match greatest_volts(part).0 {
        20.0.. => 12.0,
        6.0..=7.6 => 3.0,
        _ => 6.0,
    };
    match part.charger.as_ref().and_then(|charger| charger.cut_off).map(|cut_off| cut_off.0) {
        // Between those of flat batteries of 6, 12 and 24 V.
        Some(..8.0) | None => by_outputs,
        Some(8.0..16.0) => 6.0,
        Some(_) => 12.0,
    }
}

/// What a charged battery of a board has on float, from and to.
pub(crate) fn float(part: &Part) -> (Volts, Volts) {
    let cells = cells(part);
    (Volts(cells * FLOAT_OF_CELL.0), Volts(cells * FLOAT_OF_CELL.1))
}

/// The greatest volts that a board gives on mains; none where its sheet does not say.
pub(crate) fn greatest_volts(part: &Part) -> Volts {
    let ports = part.bus_ports.iter().filter_map(|port| port.volts);
    Volts(part.outputs.iter().map(|output| output.volts).chain(ports).map(|volts| volts.0).fold(0.0, f64::max))
}

/// How many of the trade's blocks a board needs in series: they have 12 V at most.
pub(crate) fn blocks(part: &Part) -> u32 {
    if cells(part) > 6.0 { 2 } else { 1 }
}

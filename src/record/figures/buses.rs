//! What is computed of a bus.

use schemars::JsonSchema;
use serde::Serialize;

use super::super::names::Names;
use super::super::number::Number;
use crate::base::Id;
use crate::calc::Spread;
use crate::calc::bus::{Fitting, formulas, idle};
use crate::calc::power::{Demand, Supply};
use crate::compiled::Compiled;
use crate::model::{self, Bus};
use crate::profiles::bus::THRESHOLD;

/// The figures of a bus. Lengths in metre.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct BusFigures {
    /// Between its two ends.
    pub(crate) length: Number,
    /// The longest that its rate allows; absent where no rate is written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) longest: Option<Number>,
    /// The longest of its stubs, 0 where it has none; absent of a bus that is not differential, as all that follows but its places.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) longest_stub: Option<Number>,
    /// Unit loads (TIA-485-A) of all its ports.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) unit_loads: Option<Number>,
    /// Least volts between A and B anywhere when nobody sends; absent where no board gives its bias resistors.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) idle_volts_least: Option<Number>,
    /// What that is above the receivers' threshold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) idle_margin_volts: Option<Number>,
    /// Ohms between A and B at the first end with everything off: least, usual, most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) ohms_at_first_end: Option<Range>,
    /// Ohms between A and B at the last end with everything off: least, usual, most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) ohms_at_last_end: Option<Range>,
    /// Places in the order along the cable; those of a stub stand behind its junction.
    pub(crate) places: Vec<BusPlace>,
}

/// Least, usual and most of a quantity.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct Range {
    /// The least it can be; null without bound.
    pub(crate) least: Option<Number>,
    /// With everything at its nominal value; null without bound.
    pub(crate) usual: Option<Number>,
    /// The most it can be; null without bound, as ohms across a bus without terminators.
    pub(crate) most: Option<Number>,
}

/// A place of a bus.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct BusPlace {
    /// Its number along the cable; with a letter on a stub.
    pub(crate) position: String,
    /// Names of the boards here.
    pub(crate) boards: Vec<String>,
    /// Label of the cable that comes here; absent at the board that the bus starts at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) cable: Option<String>,
    /// Way from the first end.
    pub(crate) from_first_end: Number,
    /// Terminators here, in ohm, built-in ones included.
    pub(crate) terminators: Vec<BusTerminator>,
    /// Volts between A and B when nobody sends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) idle_volts: Option<Range>,
    /// Least volts of the supply that arrives, by case; absent where they are not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) supply_volts: Option<SupplyVolts>,
    /// The most that the minus here may stand above that of the board that the bus starts at, in volt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) minus_shift_volts: Option<Number>,
}

/// A terminator of a bus.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct BusTerminator {
    /// Its resistance.
    pub(crate) ohms: Number,
    /// Whether a board has it built in.
    pub(crate) built_in: bool,
}

/// Least volts of a supply, with hot wire.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct SupplyVolts {
    /// On mains, at rest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) mains_idle: Option<Number>,
    /// On mains, everything in alarm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) mains_alarm: Option<Number>,
    /// At the end of the battery, at rest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) battery_idle: Option<Number>,
    /// At the end of the battery, everything in alarm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) battery_alarm: Option<Number>,
}

impl Range {
    fn of(spread: Spread) -> Self {
        Self { least: Number::of(spread.least), usual: Number::of(spread.nominal), most: Number::of(spread.greatest) }
    }
}

/// The figures of a bus; `None` where they could not be computed.
pub(crate) fn figures(names: &Names<'_>, compiled: &Compiled, id: Id<Bus>, bus: &model::Bus) -> Option<BusFigures> {
    let figures = compiled.buses.get(&id)?;
    let layout = &figures.layout;
    let (first, last) = layout.ends();
    let least = figures.idle.as_ref().map(|idle| idle.worst().1);
    let holds = bus.differential;
    let stub = layout.stubs().iter().map(|stub| stub.length.0).fold(0.0, f64::max);
    Some(BusFigures {
        length: Number::of(layout.length().0)?,
        longest: bus.rate.as_ref().filter(|_| holds).and_then(|rate| Number::of(formulas::longest(rate.value).0)),
        longest_stub: if holds { Some(Number::of(stub)?) } else { None },
        unit_loads: if holds { Some(Number::of(layout.unit_loads())?) } else { None },
        idle_volts_least: least.and_then(Number::of),
        idle_margin_volts: least.and_then(|least| Number::of(least - THRESHOLD.value)),
        ohms_at_first_end: holds.then(|| Range::of(idle::resistance(layout, first))),
        ohms_at_last_end: holds.then(|| Range::of(idle::resistance(layout, last))),
        places: places(names, compiled, figures),
    })
}

fn places(names: &Names<'_>, compiled: &Compiled, figures: &crate::calc::bus::BusFigures) -> Vec<BusPlace> {
    let layout = &figures.layout;
    let from = layout.distances(layout.ends().0);
    let one = |(at, position): (usize, String)| {
        let place = layout.places.get(at)?;
        let volts = |supply, demand| {
            let volts = figures.supply_volts(&compiled.site, &compiled.power, at, (supply, demand));
            volts.and_then(|volts| Number::of(volts.0))
        };
        let supply = SupplyVolts {
            mains_idle: volts(Supply::Mains, Demand::Idle),
            mains_alarm: volts(Supply::Mains, Demand::Alarm),
            battery_idle: volts(Supply::Battery, Demand::Idle),
            battery_alarm: volts(Supply::Battery, Demand::Alarm),
        };
        let here = layout.terminators.iter().filter(|terminator| terminator.place == at);
        let terminators = here.filter_map(|terminator| {
            let built_in = matches!(terminator.fitting, Fitting::BuiltIn(_));
            Some(BusTerminator { ohms: Number::of(terminator.ohms.0)?, built_in })
        });
        Some(BusPlace {
            position,
            boards: place.boards.iter().map(|board| names.board(*board).text).collect(),
            cable: place.run.and_then(|run| names.label(run)),
            from_first_end: Number::of(from.get(at)?.0)?,
            terminators: terminators.collect(),
            idle_volts: figures.idle.as_ref().and_then(|idle| idle.volts.get(at)).copied().map(Range::of),
            supply_volts: supply.mains_idle.is_some().then_some(supply),
            minus_shift_volts: figures.shifts.worst(at).and_then(|shift| Number::of(shift.0)),
        })
    };
    layout.in_order().into_iter().filter_map(one).collect()
}

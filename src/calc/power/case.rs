//! The cases in which every supply is looked at: what feeds it, what its loads take, and how much its cables resist.

use crate::calc::spread::Spread;

/// What feeds the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Supply {
    /// Mains, with the battery full.
    Mains,
    /// The battery alone, just before the board lets go of it.
    Battery,
}

/// What the loads take.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Demand {
    /// Everything at rest.
    Idle,
    /// Everything in alarm at once.
    Alarm,
}

/// Which of a cable's resistances counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wire {
    /// Coldest: least resistance.
    Cold,
    /// At 20 °C.
    Usual,
    /// Hottest: greatest resistance.
    Hot,
}

impl Wire {
    /// The volts of a supply with a tolerance: the least where the wire has most, for the worst case is both.
    pub(crate) fn supply(self, volts: Spread) -> f64 {
        match self {
            Self::Cold => volts.greatest,
            Self::Usual => volts.nominal,
            Self::Hot => volts.least,
        }
    }

    /// The resistance of a cable.
    pub(crate) fn of(self, ohms: Spread) -> f64 {
        match self {
            Self::Cold => ohms.least,
            Self::Usual => ohms.nominal,
            Self::Hot => ohms.greatest,
        }
    }
}

/// One case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Case {
    /// What feeds the board.
    pub supply: Supply,
    /// What the loads take.
    pub demand: Demand,
    /// Which resistance of the cables.
    pub wire: Wire,
}

/// The eight cases.
pub const CASES: [Case; 8] = {
    use Demand::{Alarm, Idle};
    use Supply::{Battery, Mains};
    use Wire::{Cold, Hot};
    const fn case(supply: Supply, demand: Demand, wire: Wire) -> Case {
        Case { supply, demand, wire }
    }
    [
        case(Mains, Idle, Cold),
        case(Mains, Idle, Hot),
        case(Mains, Alarm, Cold),
        case(Mains, Alarm, Hot),
        case(Battery, Idle, Cold),
        case(Battery, Idle, Hot),
        case(Battery, Alarm, Cold),
        case(Battery, Alarm, Hot),
    ]
};

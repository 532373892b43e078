//! Two-wire detectors, and what boards say of those that their inputs feed.

use super::item::{Resistor, record};
use crate::model;
use crate::quantity::{Amperes, Volts};
use crate::terms::Side;

record! {
    /// A two-wire detector.
    LoopFed {
        /// Least voltage at which it works.
        min_volts: Volts => "least volts",
        /// Most voltage that it stands.
        max_volts: Option<Volts> => "most volts",
        /// The most current at rest.
        idle_amperes: Amperes => "at rest",
        /// Least voltage across it in alarm.
        alarm_min_volts: Volts => "least volts in alarm",
        /// Most voltage across it in alarm.
        alarm_max_volts: Volts => "most volts in alarm",
        /// The most current that it stands in alarm.
        alarm_amperes: Option<Amperes> => "in alarm",
        /// Mark of its positive terminal.
        positive: Option<String> => "+ terminal",
        /// Mark of its negative terminal.
        negative: Option<String> => "− terminal",
        /// True where the two conductors may be exchanged.
        either_way: bool => "either way round",
        /// The identifier by which boards list it.
        identifier: Option<String> => "identifier",
    }

    /// What a board says of the two-wire detectors that an input feeds.
    LoopFeed {
        /// Most current at rest of all detectors together.
        limit_amperes: Option<Amperes> => "feeds at rest",
        /// The resistor at the far end.
        resistor: Option<Resistor> => "feeds with resistor",
        /// Which terminal of the input is positive: "signal" or "return".
        positive: Option<&'static str> => "feeds + at",
        /// Whether contacts may be on the same input.
        contacts: bool => "feeds with contacts",
        /// The detectors that it lists.
        listed: Vec<Listed> => "lists",
    }

    /// A detector that a board lists.
    Listed by identifier {
        /// Its identifier.
        identifier: String => "",
        /// How many of them an input takes.
        most: Option<u32> => "",
    }
}

impl LoopFed {
    /// What the sheet of a two-wire detector says.
    pub(crate) fn of(sheet: &model::LoopFed) -> Self {
        let model::LoopFed {
            place: _,
            min,
            max,
            idle,
            alarm_volts: (alarm_min, alarm_max),
            alarm,
            positive,
            negative,
            either_way,
            identifier,
        } = sheet;
        Self {
            min_volts: *min,
            max_volts: *max,
            idle_amperes: *idle,
            alarm_min_volts: *alarm_min,
            alarm_max_volts: *alarm_max,
            alarm_amperes: *alarm,
            positive: positive.clone(),
            negative: negative.clone(),
            either_way: *either_way,
            identifier: identifier.as_ref().map(|identifier| identifier.value.clone()),
        }
    }
}

impl LoopFeed {
    /// What the sheet of a board says of them.
    pub(crate) fn of(sheet: &model::LoopFeed) -> Self {
        let model::LoopFeed { place: _, limit, resistor, positive, contacts, listed } = sheet;
        Self {
            limit_amperes: limit.as_ref().map(|limit| limit.value),
            resistor: resistor.as_ref().map(|resistor| resistor.value.into()),
            positive: positive.map(Side::word),
            contacts: *contacts,
            listed: listed
                .iter()
                .map(|model::Listed { identifier, most }| Listed { identifier: identifier.value.clone(), most: *most })
                .collect(),
        }
    }
}

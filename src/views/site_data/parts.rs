//! Parts in the JSON.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Number;
use crate::model::{self, Take};
use crate::terms::{Basis, Senses};

/// A part in use.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Part {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// What it detects.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub senses: Option<&'static str>,
    /// What its figures rest on: "generic" (invented), "sheet" or "measured".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub basis: Option<&'static str>,
    /// Which sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<String>,
    /// The supply that it needs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply: Option<Supply>,
    /// How many are in use.
    pub count: usize,
}

/// The supply that a part needs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Supply {
    /// Least voltage.
    pub min_volts: Option<Number>,
    /// Most voltage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_volts: Option<Number>,
    /// Current at rest; absent where the sheet gives a power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub idle_amperes: Option<Number>,
    /// Power at rest in watt; absent where the sheet gives a current.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub idle_watts: Option<Number>,
    /// Current in alarm; absent where the sheet gives a power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alarm_amperes: Option<Number>,
    /// Power in alarm in watt; absent where the sheet gives a current.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alarm_watts: Option<Number>,
}

fn amperes(take: Take) -> Option<Number> {
    if let Take::Current(current) = take { Number::of(current.0) } else { None }
}

fn watts(take: Take) -> Option<Number> {
    if let Take::Power(power) = take { Number::of(power.0) } else { None }
}

/// The parts that a board or device is, by name.
pub fn parts(site: &model::Site) -> Vec<Part> {
    let in_use =
        || site.boards.iter().map(|board| board.part).chain(site.devices.iter().map(|device| device.part)).flatten();
    let used: BTreeSet<_> = in_use().collect();
    used.into_iter()
        .map(|id| {
            let part = &site.parts[id];
            Part {
                name: part.name.value.clone(),
                title: part.title.clone(),
                senses: part.senses.map(Senses::word),
                basis: part.basis.map(Basis::word),
                reference: part.reference.clone(),
                supply: part.supply.as_ref().map(|supply| Supply {
                    min_volts: Number::of(supply.min.0),
                    max_volts: supply.max.and_then(|max| Number::of(max.0)),
                    idle_amperes: amperes(supply.idle),
                    idle_watts: watts(supply.idle),
                    alarm_amperes: amperes(supply.alarm),
                    alarm_watts: watts(supply.alarm),
                }),
                count: in_use().filter(|other| *other == id).count(),
            }
        })
        .collect()
}

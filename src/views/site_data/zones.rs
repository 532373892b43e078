//! Areas and zones in the JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::devices::{Device, devices};
use super::number::Number;
use super::states::{self, State};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{self, Mounted, Owner};
use crate::profiles::events;
use crate::terms::{LoopWiring, ZoneType};

/// A part of the house that arms as one.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Area {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// The number it reports with.
    pub number: u32,
    /// Entry delay in seconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub entry_seconds: Option<Number>,
    /// Exit delay in seconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exit_seconds: Option<Number>,
    /// Abort window in seconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub abort_seconds: Option<Number>,
}

/// What is reported by one number.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Zone {
    /// The number that is reported.
    pub number: u32,
    /// What the dispatcher reads, not cut.
    pub description: String,
    /// What happens when it is tripped.
    #[serde(rename = "type", skip_serializing_if = "Option::is_none")]
    pub kind: Option<&'static str>,
    /// Event code of ANSI/SIA DC-05: the spec's, or the usual one of the type.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub event: Option<u32>,
    /// Name of the area it belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// A remark for the installer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Its devices, in the order of the text.
    pub devices: Vec<Device>,
    /// Its wired loop; none for a wireless zone.
    #[serde(rename = "loop", skip_serializing_if = "Option::is_none")]
    pub wired: Option<Loop>,
}

/// A wired loop.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Loop {
    /// How it is supervised.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wiring: Option<&'static str>,
    /// Name of the board that senses it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board: Option<String>,
    /// The board's input.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub input: Option<u32>,
    /// True where the input is a proposal of the compiler.
    pub input_proposed: bool,
    /// Labels of its cables, in the order of the text.
    pub cables: Vec<String>,
    /// Its resistors, in the order of the text; those across contacts stand at the devices.
    pub resistors: Vec<Resistor>,
    /// What is read in each state and with each cable fault; empty where it cannot be calculated.
    pub states: Vec<State>,
}

/// A loop's resistor.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Resistor {
    /// Its value in ohm.
    pub ohms: Option<Number>,
    /// Label of the cable at whose far end it is; none at the board.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cable: Option<String>,
}

/// The areas, by name.
pub fn areas(site: &model::Site) -> Vec<Area> {
    let seconds = |time: &Option<crate::base::Spanned<crate::quantity::Seconds>>| {
        time.as_ref().and_then(|time| Number::of(time.value.0))
    };
    site.areas
        .iter()
        .map(|area| Area {
            name: area.name.value.clone(),
            title: area.title.clone(),
            number: area.number,
            entry_seconds: seconds(&area.entry),
            exit_seconds: seconds(&area.exit),
            abort_seconds: seconds(&area.abort),
        })
        .collect()
}

/// The zones, by number.
pub fn zones(compiled: &Compiled) -> Vec<Zone> {
    let (site, wiring) = (&compiled.site, &compiled.wiring);
    site.zones
        .entries()
        .map(|(id, zone)| Zone {
            number: zone.number.value,
            description: zone.description.value.clone(),
            kind: zone.kind.as_ref().map(|kind| ZoneType::word(kind.value)),
            event: zone
                .event
                .as_ref()
                .map(|event| event.value)
                .or_else(|| zone.kind.as_ref().map(|kind| events::usual(kind.value).into())),
            area: site.area_of(zone).map(|area| area.name.value.clone()),
            note: zone.note.clone(),
            devices: devices(site, wiring, Owner::Zone(id)),
            wired: zone.wired.as_ref().map(|wired| of_loop(compiled, id, wired)),
        })
        .collect()
}

fn of_loop(compiled: &Compiled, zone: Id<model::Zone>, wired: &model::Loop) -> Loop {
    let (site, wiring) = (&compiled.site, &compiled.wiring);
    let own = || site.runs.entries().filter(|(_, run)| run.owner == Owner::Zone(zone));
    let label = |run| wiring.cable_of(run).map(|cable| cable.label.clone());
    let resistor = |item: &Mounted, cable: Option<String>| match item {
        Mounted::Resistor(value) => Some(Resistor { ohms: Number::of(value.value.nominal.0), cable }),
        _ => None,
    };
    let at_board = wired.chain.iter().filter_map(|item| resistor(item, None));
    let out_there = own().flat_map(|(id, run)| run.mounted.iter().filter_map(move |item| resistor(item, label(id))));
    Loop {
        wiring: wired.wiring.as_ref().map(|wiring| LoopWiring::word(wiring.value)),
        board: wired.board.as_ref().map(|board| site.boards[board.value].name.value.clone()),
        input: wiring.inputs.of_zone.get(&zone).copied(),
        input_proposed: wiring.inputs.proposed.contains(&zone),
        cables: own().filter_map(|(id, _)| label(id)).collect(),
        resistors: at_board.chain(out_there).collect(),
        states: states::states(site, wiring, compiled.loops.get(&zone)),
    }
}

//! Buses, circuits and communicators in the JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::buses::{self, BusFigures};
use super::devices::{Device, Output, devices, output};
use super::number::Number;
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{self, Mounted, Owner, Run};
use crate::register::Wiring;
use crate::terms::{JackKind, Path, Service};

/// A data bus.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Bus {
    /// The name that others refer to.
    pub name: String,
    /// Name of the board it starts at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board: Option<String>,
    /// Signalling rate in bit per second.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bits_per_second: Option<Number>,
    /// Labels of its cables, in the order of the text.
    pub cables: Vec<String>,
    /// Names of the boards on it, in the order of the text.
    pub boards: Vec<String>,
    /// Terminators added in the spec, in ohm; those built into boards stand with their parts.
    pub terminators: Vec<Number>,
    /// What is computed of it; absent where a length or a board is not known, or where nothing hangs on it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figures: Option<BusFigures>,
}

/// A powered circuit.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Circuit {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// What feeds it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub feed: Option<Output>,
    /// Labels of its cables, in the order of the text.
    pub cables: Vec<String>,
    /// Sounders on it, in the order of the text.
    pub devices: Vec<Device>,
    /// Names of the detectors that it feeds; they stand with their zones.
    pub feeds: Vec<String>,
}

/// A way to the monitoring service.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Communicator {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// What it goes over: "telephone", "internet" or "radio".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub path: Option<&'static str>,
    /// What kind of service comes in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub service: Option<&'static str>,
    /// How the board is put in the telephone line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub jack: Option<&'static str>,
    /// Name of the board whose line port it uses.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board: Option<String>,
    /// Name of the module that is the adapter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub module: Option<String>,
    /// Label of the cable to the jack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cable: Option<String>,
    /// Powered devices on the way, in order.
    pub hops: Vec<Hop>,
}

/// A powered device on the way.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Hop {
    /// What it is.
    pub name: String,
    /// The panel's output that feeds it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub output: Option<String>,
    /// How long its own backup lasts, in seconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub backup_seconds: Option<Number>,
}

/// The buses, by name.
pub fn buses(compiled: &Compiled) -> Vec<Bus> {
    let Compiled { site, wiring, .. } = compiled;
    site.buses
        .entries()
        .map(|(id, bus)| {
            let owner = Owner::Bus(id);
            let items: Vec<&Mounted> =
                bus.chain.iter().chain(runs(site, owner).flat_map(|(_, run)| &run.mounted)).collect();
            Bus {
                name: bus.name.value.clone(),
                board: bus.board.as_ref().map(|board| site.boards[board.value].name.value.clone()),
                bits_per_second: bus.rate.as_ref().and_then(|rate| Number::of(rate.value.0)),
                cables: labels(site, wiring, owner),
                boards: items
                    .iter()
                    .filter_map(|item| match item {
                        Mounted::Board(board) => Some(site.boards[*board].name.value.clone()),
                        _ => None,
                    })
                    .collect(),
                terminators: items
                    .iter()
                    .filter_map(|item| match item {
                        Mounted::Terminator(value) => Number::of(value.value.0),
                        _ => None,
                    })
                    .collect(),
                figures: buses::figures(compiled, id, bus),
            }
        })
        .collect()
}

/// The circuits, by name.
pub fn circuits(site: &model::Site, wiring: &Wiring) -> Vec<Circuit> {
    site.circuits
        .entries()
        .map(|(id, circuit)| {
            let owner = Owner::Circuit(id);
            Circuit {
                name: circuit.name.value.clone(),
                title: circuit.title.clone(),
                feed: circuit.feed.as_ref().and_then(|feed| output(site, feed.value)),
                cables: labels(site, wiring, owner),
                devices: devices(site, wiring, owner),
                feeds: runs(site, owner)
                    .flat_map(|(_, run)| &run.mounted)
                    .filter_map(|item| match item {
                        Mounted::Feed(device) => {
                            site.devices[device.value].name.as_ref().map(|name| name.value.clone())
                        }
                        _ => None,
                    })
                    .collect(),
            }
        })
        .collect()
}

/// The ways to the monitoring service, by name.
pub fn communicators(site: &model::Site, wiring: &Wiring) -> Vec<Communicator> {
    let board = |id: Id<model::Board>| site.boards[id].name.value.clone();
    site.communicators
        .iter()
        .map(|line| Communicator {
            name: line.name.value.clone(),
            title: line.title.clone(),
            path: line.path.as_ref().map(|path| Path::word(path.value)),
            service: line.service.map(Service::word),
            jack: line.jack.map(JackKind::word),
            board: line.port.map(|(id, _)| board(id)),
            module: line.module.as_ref().map(|module| board(module.value)),
            cable: line.run.and_then(|run| wiring.cable_of(run)).map(|cable| cable.label.clone()),
            hops: line
                .hops
                .iter()
                .map(|hop| Hop {
                    name: hop.name.value.clone(),
                    output: hop.output.clone(),
                    backup_seconds: hop.backup.and_then(|backup| Number::of(backup.0)),
                })
                .collect(),
        })
        .collect()
}

fn runs(site: &model::Site, owner: Owner) -> impl Iterator<Item = (Id<Run>, &Run)> {
    site.runs.entries().filter(move |(_, run)| run.owner == owner)
}

fn labels(site: &model::Site, wiring: &Wiring, owner: Owner) -> Vec<String> {
    runs(site, owner).filter_map(|(id, _)| wiring.cable_of(id)).map(|cable| cable.label.clone()).collect()
}

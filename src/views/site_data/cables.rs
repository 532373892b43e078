//! Cables and their conductors in the JSON.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::devices::{Output, device_id, output};
use super::number::Number;
use super::places::room_name;
use crate::base::Id;
use crate::model::{self, Owner};
use crate::register::{self, Function, Point, Wiring};
use crate::terms::Passage;

/// A type of cable in use.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct CableType {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// How many conductors.
    pub conductors: u32,
    /// Cross-section of one conductor in mm².
    pub square_millimetres: Option<Number>,
    /// The size as printed.
    pub size: String,
    /// Jacket type.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub jacket: Option<String>,
    /// Whether the conductors are stranded.
    pub stranded: bool,
}

/// A cable as pulled.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Cable {
    /// The text on both ends.
    pub label: String,
    /// Name of the cable type.
    #[serde(rename = "type")]
    pub kind: String,
    /// Length in metres, slack included.
    pub length: Option<Number>,
    /// The near end, towards the board.
    pub from: Place,
    /// The far end.
    pub to: Place,
    /// The hardest thing it passes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub passes: Option<&'static str>,
    /// The way it takes, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub route: Option<String>,
    /// Conductors in use, in the order in which they were given out.
    pub conductors: Vec<Conductor>,
    /// Positions of conductors that are left free, from 1.
    pub spare: Vec<usize>,
}

/// Where a cable ends.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Place {
    /// Name of the board, where it ends at the board that it starts from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub board: Option<String>,
    /// Name of the room.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
}

/// A conductor in use.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Conductor {
    /// Position in the cable, from 1.
    pub position: usize,
    /// Colour as a code of IEC 60757.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
    /// What it does: "supply-positive", "supply-negative", "loop-out", "loop-back", "bus-plus", "bus-minus", "bus-a",
    /// "bus-b", "line-in-tip", "line-in-ring", "line-out-tip" or "line-out-ring".
    pub function: &'static str,
    /// The zone whose loop it is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zone: Option<u32>,
    /// The output whose supply it carries.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub output: Option<Output>,
    /// What it meets at the near end.
    pub near: Vec<End>,
    /// What it meets at the far end.
    pub far: Vec<End>,
}

/// What a conductor meets at an end.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum End {
    /// A terminal of a board.
    Terminal {
        /// Name of the board.
        board: String,
        /// Mark of the terminal.
        terminal: String,
    },
    /// A device, at the terminals of that mark.
    Device {
        /// Its id in the list of devices.
        device: String,
        /// Mark of the terminals.
        mark: String,
    },
    /// A loop's resistor.
    Resistor {
        /// Its value in ohm.
        ohms: Option<Number>,
    },
    /// A bus terminator.
    Terminator {
        /// Its value in ohm.
        ohms: Option<Number>,
    },
    /// A cable that goes on from here.
    Cable {
        /// Its label.
        label: String,
    },
    /// A joint inside a board's enclosure, with another cable.
    Joint {
        /// Name of the board.
        board: String,
        /// Label of the other cable.
        label: String,
    },
}

/// The types of the cables that are pulled, by name.
pub fn types(site: &model::Site, wiring: &Wiring) -> Vec<CableType> {
    let used: BTreeSet<Id<model::CableType>> = wiring.cables.iter().map(|cable| cable.kind).collect();
    used.into_iter()
        .map(|id| {
            let cable = &site.cables[id];
            CableType {
                name: cable.name.value.clone(),
                title: cable.title.clone(),
                conductors: cable.count.value,
                square_millimetres: Number::of(cable.size.square_millimetres()),
                size: cable.size.to_string(),
                jacket: cable.jacket.as_ref().map(|jacket| jacket.value.clone()),
                stranded: cable.stranded,
            }
        })
        .collect()
}

/// The cables, in canonical order.
pub fn cables(site: &model::Site, wiring: &Wiring) -> Vec<Cable> {
    wiring.cables.iter().map(|cable| of_cable(site, wiring, cable)).collect()
}

fn of_cable(site: &model::Site, wiring: &Wiring, cable: &register::Cable) -> Cable {
    let run = &site.runs[cable.run];
    Cable {
        label: cable.label.clone(),
        kind: site.cables[cable.kind].name.value.clone(),
        length: run.length.as_ref().and_then(|length| Number::of(length.value.0)),
        from: near(site, cable.run),
        to: Place { board: None, room: room_name(site, run.room) },
        passes: run.passes.as_ref().map(|passes| Passage::word(passes.value)),
        route: run.route.clone(),
        conductors: cable
            .conductors
            .iter()
            .map(|conductor| Conductor {
                position: conductor.position + 1,
                colour: conductor.colour.map(crate::quantity::Colour::code),
                function: function_word(conductor.function),
                zone: match conductor.function {
                    Function::LoopOut(zone) | Function::LoopBack(zone) => Some(site.zones[zone].number.value),
                    _ => None,
                },
                output: match conductor.function {
                    Function::SupplyPositive(of) | Function::SupplyNegative(of) => output(site, of),
                    _ => None,
                },
                near: conductor.near.iter().map(|point| end(site, wiring, point)).collect(),
                far: conductor.far.iter().map(|point| end(site, wiring, point)).collect(),
            })
            .collect(),
        spare: cable.spare.iter().map(|position| position + 1).collect(),
    }
}

/// What a conductor does, in the words of the format.
pub fn function_word(function: Function) -> &'static str {
    match function {
        Function::SupplyPositive(_) => "supply-positive",
        Function::SupplyNegative(_) => "supply-negative",
        Function::LoopOut(_) => "loop-out",
        Function::LoopBack(_) => "loop-back",
        Function::BusPlus => "bus-plus",
        Function::BusMinus => "bus-minus",
        Function::BusA => "bus-a",
        Function::BusB => "bus-b",
        Function::LineInTip => "line-in-tip",
        Function::LineInRing => "line-in-ring",
        Function::LineOutTip => "line-out-tip",
        Function::LineOutRing => "line-out-ring",
    }
}

fn near(site: &model::Site, run: Id<model::Run>) -> Place {
    if let Some(upstream) = site.runs[run].upstream {
        return Place { board: None, room: room_name(site, site.runs[upstream].room) };
    }
    let board = match site.runs[run].owner {
        Owner::Zone(zone) => {
            site.zones[zone].wired.as_ref().and_then(|wired| wired.board.as_ref()).map(|board| board.value)
        }
        Owner::Bus(bus) => site.buses[bus].board.as_ref().map(|board| board.value),
        Owner::Circuit(circuit) => site.circuits[circuit].feed.as_ref().map(|feed| feed.value.board),
        Owner::Communicator(line) => site.communicators[line].port.map(|(board, _)| board),
    };
    Place {
        board: board.map(|board| site.boards[board].name.value.clone()),
        room: room_name(site, board.and_then(|board| site.boards[board].room)),
    }
}

fn end(site: &model::Site, wiring: &Wiring, point: &Point) -> End {
    let label = |run: Id<model::Run>| wiring.cable_of(run).map(|cable| cable.label.clone()).unwrap_or_default();
    match point {
        Point::Terminal(board, mark) => {
            End::Terminal { board: site.boards[*board].name.value.clone(), terminal: mark.clone() }
        }
        Point::Device(device, mark) => End::Device { device: device_id(site, *device), mark: mark.clone() },
        Point::Resistor(value) => End::Resistor { ohms: Number::of(value.nominal.0) },
        Point::Terminator(value) => End::Terminator { ohms: Number::of(value.0) },
        Point::Cable(run) => End::Cable { label: label(*run) },
        Point::Joint(board, run) => End::Joint { board: site.boards[*board].name.value.clone(), label: label(*run) },
    }
}

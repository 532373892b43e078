//! Cables and their conductors, and what a conductor does.

use super::Medium::{self, Screen};
use super::pins;
use crate::base::Id;
use crate::base::wording::list;
use crate::model::{CableType, Owner, Run, Site};
use crate::profiles::connectors;
use crate::quantity::{Colour, print};
use crate::register::{Cable, ConductorUse, DeadCable, DeadConductor, Function, Wiring};
use crate::terms::{Joining, SwitchedSide};

/// The label of the cable that a run is, or shares; empty where it has none.
pub(crate) fn cable(wiring: &Wiring, run: Id<Run>) -> &str {
    wiring.cable_of(run).map_or("", |cable| cable.label.as_str())
}

impl Medium {
    /// The cable that a run is, or shares: "cable `Z7`" on the screen, "cable Z7" on paper.
    pub fn cable(self, wiring: &Wiring, run: Id<Run>) -> String {
        format!("cable {}", self.name(cable(wiring, run)))
    }
}

/// A cable with length and size, on the screen: "cable `Z7`, 38 ft of 22 AWG".
pub(crate) fn sized_cable(site: &Site, wiring: &Wiring, run: Id<Run>) -> String {
    let item = &site.runs[run];
    let length = item.length.as_ref().map_or_else(String::new, |length| print::length(length.value, site.lengths));
    let size = item.cable.as_ref().map_or_else(String::new, |cable| site.cables[cable.value].sized().to_string());
    let pairs = if item.pairs > 1 { format!(", {} pairs joined", item.pairs) } else { String::new() };
    format!("{}, {length} of {size}{pairs}", Screen.cable(wiring, run))
}

/// The hardest thing that a run passes: "passes fire wall".
pub(crate) fn passes(run: &Run) -> Option<String> {
    run.passes.as_ref().map(|passage| format!("passes {}", passage.value.word().replace('-', " ")))
}

/// The colour of a conductor, where the cable type gives one.
pub(crate) fn colour(site: &Site, cable: &Cable, position: usize) -> Option<Colour> {
    site.cables[cable.kind].conductors.get(position).map(|conductor| conductor.colour.value)
}

/// "RD red", or "no. 3" where the cable type gives no colours; "WH no. 2 white" where another conductor has the same colour.
pub(crate) fn conductor(site: &Site, cable: &Cable, position: usize) -> String {
    let mark = conductor_mark(site, cable, position);
    match colour(site, cable, position) {
        Some(colour) => format!("{mark} {}", colour.name()),
        None => mark,
    }
}

/// What a conductor is joined to, with how: "joined to Z20: RD red (crimped)".
pub(crate) fn joined_by(joined_to: String, how: Option<Joining>) -> String {
    match how {
        Some(how) => format!("{joined_to} ({})", how.printed()),
        None => joined_to,
    }
}

/// "RD", or "no. 3": the conductor in the middle of a sentence. "WH no. 2" where a colour tells none alone: both ends of each are
/// marked by its number.
pub(crate) fn conductor_mark(site: &Site, cable: &Cable, position: usize) -> String {
    let all = site.cables[cable.kind].conductors.iter().map(|conductor| conductor.colour.value);
    mark(colour(site, cable, position), position + 1, all)
}

/// The mark of a conductor by its colour and its number from 1, among the colours of its cable.
fn mark(colour: Option<Colour>, number: usize, mut all: impl Iterator<Item = Colour>) -> String {
    match colour {
        None => format!("no. {number}"),
        Some(colour) if all.by_ref().filter(|other| *other == colour).nth(1).is_some() => {
            format!("{} no. {number}", colour.code())
        }
        Some(colour) => colour.code(),
    }
}

/// A conductor in use with its cable's label: "Z7: RD red".
pub(crate) fn labelled(site: &Site, cable: &Cable, used: &ConductorUse) -> String {
    format!("{}: {}", cable.label, conductor(site, cable, used.position))
}

/// Conductors of one cable that are joined to each other: "Z7: RD red and BU blue".
pub(crate) fn labelled_all(site: &Site, cable: &Cable, all: &[&ConductorUse]) -> String {
    let names: Vec<String> = all.iter().map(|used| conductor(site, cable, used.position)).collect();
    format!("{}: {}", cable.label, list(&names, "and"))
}

/// The conductors of a cable that are left free: "YE yellow, BU blue".
pub(crate) fn spare(site: &Site, cable: &Cable) -> String {
    cable.spare.iter().map(|position| conductor(site, cable, *position)).collect::<Vec<_>>().join(", ")
}

/// A conductor of a dead cable that was in use: "RD red", "no. 3", or "WH no. 2 white" as when it was in use. Where the spec no longer
/// has the type, the register knows of those alone that were in use.
pub(crate) fn dead_conductor(site: &Site, cable: &DeadCable, conductor: &DeadConductor) -> String {
    let number = usize::try_from(conductor.position).unwrap_or(usize::MAX);
    let mark = match kind_of_dead(site, cable) {
        Some(kind) => mark(conductor.colour, number, kind.conductors.iter().map(|one| one.colour.value)),
        None => mark(conductor.colour, number, cable.conductors.iter().filter_map(|one| one.colour)),
    };
    conductor.colour.map_or_else(|| mark.clone(), |colour| format!("{mark} {}", colour.name()))
}

fn kind_of_dead<'s>(site: &'s Site, cable: &DeadCable) -> Option<&'s CableType> {
    site.cables.iter().find(|kind| kind.name.value == cable.kind)
}

/// The title of a dead cable's type; its name where the spec no longer has the type.
pub(crate) fn dead_kind(site: &Site, cable: &DeadCable) -> String {
    kind_of_dead(site, cable).map_or_else(|| cable.kind.clone(), |kind| kind.title.clone())
}

/// What is to be done, or has been done, at the ends of a dead cable.
pub(crate) fn dead_end(cable: &DeadCable) -> &'static str {
    if cable.off { "capped and marked dead" } else { "take it off, cap it and mark it dead" }
}

/// What a conductor of a cable does: "zone 7 loop, out", "supply + from aux", "bus data A", "network, pin 3",
/// "network, pin 3, pair 3 by T568B".
pub(crate) fn function(site: &Site, cable: &Cable, used: &ConductorUse) -> String {
    let does = used.function.wire_use().printed();
    match used.function.pin() {
        Some(pin) => {
            let order = pins::wired_by(site, cable);
            let pair = order.and_then(|order| Some((connectors::pin(order, pin)?.0, order.word())));
            let pair = pair.map(|(pair, order)| format!(", pair {pair} by {order}")).unwrap_or_default();
            format!("{does}, pin {pin}{pair}")
        }
        None => whose(site, used.run, (used.function, true), does),
    }
}

/// What a conductor of a run does together with its partner: "zone 7 loop", "supply from aux", "bus data".
pub(crate) fn pair(site: &Site, run: Id<Run>, function: Function) -> String {
    whose(site, run, (function, false), pair_of(function.wire_use().printed()))
}

/// Of the word for one of two conductors that for both: "bus data" of "bus data A".
pub(super) fn pair_of(printed: &str) -> &str {
    printed.rsplit_once(' ').map_or(printed, |(pair, _)| pair.trim_end_matches(','))
}

/// The words of a function, of one conductor alone or of a pair, with the zone, output or bus that it is of.
fn whose(site: &Site, run: Id<Run>, (function, alone): (Function, bool), does: &str) -> String {
    if let Some(what) = function.kept_for(site, run) {
        return format!("{does} for {what}");
    }
    match (function.zone(), function.output_name(site), site.runs[run].owner) {
        (Some(zone), ..) => format!("zone {} {does}", site.zones[zone].number.value),
        (_, Some(from), _) => format!("{does} from {from}{}", through(site, run, alone.then_some(function))),
        (.., Owner::Circuit(circuit)) => match site.switched_by(&site.circuits[circuit]) {
            Some((_, switch, _)) => format!("{does} of {}", super::switch(switch)),
            None => does.to_owned(),
        },
        (_, _, Owner::Bus(bus)) if site.buses.len() > 1 => {
            format!("bus {}: {}", site.buses[bus].name.value, does.trim_start_matches("bus "))
        }
        _ => does.to_owned(),
    }
}

/// " through relay lamp": what switches the circuit that a run is of; empty where nothing does. Of one conductor alone only
/// where the switch lies in it.
fn through(site: &Site, run: Id<Run>, alone: Option<Function>) -> String {
    let switched = site.circuit_of(run).and_then(|circuit| site.switched_by(circuit));
    let broken = switched.filter(|(_, switch, _)| match alone {
        Some(Function::SupplyPositive(_)) => switch.side() == SwitchedSide::Plus,
        Some(Function::SupplyNegative(_)) => switch.side() != SwitchedSide::Plus,
        Some(_) | None => true,
    });
    broken.map_or_else(String::new, |(_, switch, _)| format!(" through {}", super::switch(switch)))
}

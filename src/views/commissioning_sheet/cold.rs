//! Before anything has a supply: what to look at, continuity, insulation.

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::State;
use crate::calc::bus::idle;
use crate::calc::conductor::LEAKAGE;
use crate::compiled::Compiled;
use crate::model::{Board, Bus, Communicator, Owner, Run, Zone};
use crate::quantity::Ohms;
use crate::register::Wiring;
use crate::terms::Path;
use crate::views::procedure;
use crate::words::{self, Paper};

/// A loop without supply: what a meter across its two conductors shows, where nothing in it needs one.
#[derive(Debug, Serialize)]
pub(crate) struct LoopRow {
    number: String,
    description: String,
    cables: String,
    ohms: String,
    /// Empty to write the reading in; a dash where it is read later.
    reading: &'static str,
}

/// A supply that nothing is connected to yet.
#[derive(Debug, Serialize)]
pub(crate) struct SupplyRow {
    supply: String,
    cables: String,
}

/// The data pair of a bus.
#[derive(Debug, Serialize)]
pub(crate) struct BusRow {
    pub(crate) bus: String,
    pub(crate) at: String,
    pub(crate) ohms: String,
}

/// What the eye finds, where the site has it.
pub(crate) fn look(compiled: &Compiled) -> Vec<&'static str> {
    let site = &compiled.site;
    let boards = |has: fn(&Board) -> bool| site.boards.iter().any(has);
    let zones = |has: fn(&Zone) -> bool| site.zones.iter().any(has);
    let goes_by = |path: Path| {
        let is = |way: &Communicator| way.path.as_ref().is_some_and(|by| by.value == path);
        let has_cable = |id| site.runs_of(Owner::Communicator(id)).next().is_some();
        site.communicators.entries().any(|(id, way)| is(way) && has_cable(id))
    };
    let lines = [
        (
            boards(|board| board.transformer.is_some()),
            "No transformer is plugged in, and its outlet is the one of the terminal schedule; no wall switch turns it off",
        ),
        (
            boards(|board| board.battery.is_some()),
            "Both leads of every battery are off and capped, and which of them goes to + is sure: by the terminal schedule, or traced to the board",
        ),
        (boards(|board| board.earth.is_some()), "Earth conductors are where the terminal schedule has them"),
        (
            true,
            "Every cable has its label at both ends; every conductor is under the screw of the terminal schedule, with no more of them than one screw takes, and stays there at a tug",
        ),
        (
            zones(|zone| zone.wired.is_some()),
            "Every resistor stands where the loop sheet has it, with its colours; none lies in a board's enclosure that belongs at the far end",
        ),
        (
            true,
            "Polarity of every detector, sounder and module: + to +; no bare copper, no strand beside a screw, lids go on without a pinch",
        ),
        (
            site.devices.iter().any(|device| device.diode),
            "The diodes across coils, as the device sketches have them: the banded end at +",
        ),
        (
            site.buses.iter().any(|bus| bus.differential),
            "Terminators at the two ends of each bus only, addresses set as the table Bus has them",
        ),
        (
            site.buses.iter().any(|bus| !bus.differential),
            "No terminator on a bus that the bus sheet calls not differential, addresses set as the table Bus has them",
        ),
        (
            goes_by(Path::Telephone),
            "The jack of the telephone line is where the terminal schedule has it, not plugged in yet",
        ),
        (goes_by(Path::Internet), "The network cable is where the terminal schedule has it, not plugged in yet"),
    ];
    lines.into_iter().filter(|(here, _)| *here).map(|(_, line)| line).collect()
}

/// The loops, by number.
pub(crate) fn loops(compiled: &Compiled) -> Vec<LoopRow> {
    let Compiled { site, wiring, loops, .. } = compiled;
    let row = |(id, zone): (Id<Zone>, &Zone)| {
        zone.wired.as_ref()?;
        let passive = procedure::is_passive(site, id);
        let rest = loops.get(&id).and_then(|of| of.states.iter().find(|reading| reading.state == State::Normal));
        let ohms = rest.map(|rest| words::ohms_read(&[rest.ohms]));
        let cables = labels(wiring, site.runs_of(Owner::Zone(id)).map(|(run, _)| run));
        Some(LoopRow {
            number: zone.number.value.to_string(),
            description: zone.description.value.clone(),
            cables: list(&cables, "and"),
            ohms: if passive { ohms.unwrap_or_default() } else { "under Loops".to_owned() },
            reading: if passive { "" } else { "–" },
        })
    };
    site.zones.entries().filter_map(row).collect()
}

/// The labels of the cables that runs are in, each once.
fn labels(wiring: &Wiring, runs: impl Iterator<Item = Id<Run>>) -> Vec<&str> {
    let mut labels: Vec<&str> = Vec::new();
    for label in runs.map(|run| words::cable(wiring, run)) {
        if !label.is_empty() && !labels.contains(&label) {
            labels.push(label);
        }
    }
    labels
}

/// What insulation is enough, with what that rests on.
pub(crate) fn insulation() -> String {
    format!("{} or more (common practice)", Ohms(LEAKAGE))
}

/// The supplies that leave a board by a cable.
pub(crate) fn supplies(compiled: &Compiled) -> Vec<SupplyRow> {
    let Compiled { site, wiring, power, .. } = compiled;
    let row = |feeding: &crate::calc::power::Feeding| {
        let tree = &feeding.tree;
        let cables = labels(wiring, tree.nodes.iter().filter_map(|node| node.run));
        (!cables.is_empty()).then(|| SupplyRow { supply: Paper.source(site, tree.source), cables: cables.join(", ") })
    };
    power.feedings.iter().filter_map(row).collect()
}

/// The data pairs of differential buses, at the boards that head them.
pub(crate) fn buses(compiled: &Compiled) -> Vec<BusRow> {
    let site = &compiled.site;
    let row = |(id, bus): (Id<Bus>, &Bus)| {
        let layout = &compiled.buses.get(&id)?.layout;
        // The first place of a layout is at the bus's board, wherever that stands on the trunk.
        let spread = idle::resistance(layout, 0);
        let board = bus.board.as_ref().map(|board| Paper.board(site, board.value)).unwrap_or_default();
        Some(BusRow { bus: bus.name.value.clone(), at: board, ohms: words::ohms_read(&[spread]) })
    };
    site.buses.entries().filter(|(_, bus)| bus.differential).filter_map(row).collect()
}

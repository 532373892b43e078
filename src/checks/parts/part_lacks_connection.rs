//! A part that is used for something that it has no terminals for.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, BoardKind, Communicator, Device, DeviceKind, Part, Site};

check!("part-lacks-connection", Basis::Contradiction, "a part used for something that it has no terminals for");

/// What a part lacks for its use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Lack {
    Contact,
    CoverContact,
    FaultContact,
    Supply,
    LoadSupply,
    OwnSupply,
    BusPort,
    Receiver,
    EarthTerminal,
    AcPort,
    BatteryPort,
    LinePort,
    Output,
    Anything,
}

/// How a part is used: the noun, what to write in the part, and why it is wanted.
struct Wanted {
    used_as: &'static str,
    lacks: &'static str,
    node: &'static str,
    why: &'static str,
}

impl Lack {
    fn words(self) -> Wanted {
        let (used_as, lacks, node, why) = match self {
            Self::Contact => (
                "in a loop",
                "an alarm contact",
                "contact",
                "A loop runs through a contact that opens or closes. Without one the part cannot be heard.",
            ),
            Self::CoverContact => (
                "with its cover in the loop",
                "a cover contact",
                "tamper",
                "The loop would be drawn through a contact that is not there.",
            ),
            Self::FaultContact => (
                "with its fault contact in a loop",
                "a fault contact",
                "fault-contact",
                "The loop would end at two screws that are not there, and no fault of the board would be told.",
            ),
            Self::Supply => (
                "as a sounder",
                "a supply",
                "supply",
                "A sounder sounds when it is given a voltage; without its current no battery can be sized.",
            ),
            Self::LoadSupply => (
                "as a load that an output feeds",
                "a supply",
                "supply",
                "Without its volts and its current nobody can say whether the output and its battery carry it.",
            ),
            Self::OwnSupply => (
                "as a load on a dry contact",
                "a supply of its own",
                "own-supply",
                "A dry contact gives nothing: what it opens and closes is the load's own supply, and the contact must stand its volts and its current.",
            ),
            Self::BusPort => (
                "on a bus",
                "a bus port",
                "bus-port",
                "A bus has four conductors, and each must have its terminal here.",
            ),
            Self::Receiver => ("as a receiver", "a receiver", "radio", "It could not hear a single detector."),
            Self::EarthTerminal => (
                "with an earth conductor",
                "an earth terminal",
                "earth-terminal",
                "The conductor would end nowhere. Which terminal takes it is on the board's sheet.",
            ),
            Self::AcPort => (
                "with a transformer",
                "terminals for one",
                "ac-port",
                "The transformer would be bought, and its cable would end nowhere.",
            ),
            Self::BatteryPort => (
                "with a battery",
                "terminals for one",
                "battery-port",
                "The battery would be bought, and its leads would end nowhere.",
            ),
            Self::LinePort => (
                "for a telephone line",
                "a line port",
                "line-port",
                "The cable of the line would end nowhere: it has no tip and no ring to land on.",
            ),
            Self::Output => {
                ("as a power supply", "an output", "output", "A power supply that gives nothing is a box on the wall.")
            }
            Self::Anything => (
                "as a panel",
                "any input, output or port",
                "input",
                "A panel that nothing can be connected to is a box on the wall.",
            ),
        };
        Wanted { used_as, lacks, node, why }
    }
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut found: BTreeMap<(Id<Part>, Lack), Vec<Span>> = BTreeMap::new();
    let devices = site.devices.iter().map(|device| (device.part, device.span(), device_lacks(site, device)));
    let boards = site.boards.iter().map(|board| (board.part, board.part_span, board_lacks(site, board)));
    let lines = site.communicators.iter().filter_map(|way| {
        let module = way.module.as_ref()?;
        Some((site.boards[module.value].part, module.span, line_lacks(site, way)))
    });
    for (part, span, lack) in devices.chain(boards).chain(lines) {
        if let (Some(part), Some(lack)) = (part, lack) {
            found.entry((part, lack)).or_default().push(span);
        }
    }
    for ((part, lack), spans) in found {
        let part = &site.parts[part];
        let wanted = lack.words();
        let title = format!("part `{}` is used {} and has no {}", part.name.value, wanted.used_as, bare(wanted.lacks));
        let mut spans = spans.into_iter();
        let mut finding = Diagnostic::new(&RULE, spans.next().unwrap_or(part.name.span), title)
            .here(format!("used {}", wanted.used_as))
            .also(part.name.span, format!("the part, without {}", wanted.lacks))
            .why(wanted.why)
            .help(format!("Take another part, or add `{}` to this one as its sheet says.", wanted.node))
            .about(&part.name.value);
        for span in spans {
            finding = finding.also(span, "and here");
        }
        sink.push(finding);
    }
}

fn bare(lacks: &str) -> &str {
    lacks
        .strip_prefix("an ")
        .or_else(|| lacks.strip_prefix("a "))
        .or_else(|| lacks.strip_prefix("any "))
        .unwrap_or(lacks)
}

fn device_lacks(site: &Site, device: &Device) -> Option<Lack> {
    let part = &site.parts[device.part?];
    if !part.whole {
        return None;
    }
    match device.kind {
        DeviceKind::Sounder if part.supply.is_some() => None,
        // A siren that a contact sets off has its own supply.
        DeviceKind::Sounder => (part.own_supply.is_none() || !is_dry(site, device)).then_some(Lack::Supply),
        DeviceKind::Load => load_lacks(site, device),
        DeviceKind::Contact | DeviceKind::Detector if device.tamper_in_loop => {
            part.tamper.is_none().then_some(Lack::CoverContact)
        }
        DeviceKind::Contact | DeviceKind::Detector => {
            (part.contacts.is_empty() && part.loop_fed.is_none()).then_some(Lack::Contact)
        }
        DeviceKind::Fault => part.fault.is_none().then_some(Lack::FaultContact),
        DeviceKind::Wireless => None,
    }
}

/// True for what hangs on a dry contact.
fn is_dry(site: &Site, device: &Device) -> bool {
    let circuit = device.run.and_then(|run| site.circuit_of(run));
    circuit.and_then(|circuit| circuit.switching.as_ref()).is_some_and(|switching| switching.dry)
}

/// What a load lacks for its circuit; nothing where what feeds that was reported, and where a supply is lacking on a
/// dry contact, which is told of the circuit.
fn load_lacks(site: &Site, device: &Device) -> Option<Lack> {
    let part = &site.parts[device.part?];
    let circuit = device.run.and_then(|run| site.circuit_of(run))?;
    match (is_dry(site, device), &circuit.feed) {
        (true, _) => (part.own_supply.is_none() && part.supply.is_none()).then_some(Lack::OwnSupply),
        (false, Some(_)) => part.supply.is_none().then_some(Lack::LoadSupply),
        (false, None) => None,
    }
}

/// What an adapter lacks for the cable of a telephone line. One without a cable, as one that takes a mobile network, needs none.
fn line_lacks(site: &Site, way: &Communicator) -> Option<Lack> {
    let telephone = way.is_telephone();
    way.run.filter(|_| telephone && way.board.is_none())?;
    let part = site.part_of(way.module.as_ref()?.value).filter(|part| part.whole)?;
    part.line_ports.is_empty().then_some(Lack::LinePort)
}

fn board_lacks(site: &Site, board: &Board) -> Option<Lack> {
    let part = Some(&site.parts[board.part?]).filter(|part| part.whole)?;
    let nothing = part.inputs.is_empty()
        && part.outputs.is_empty()
        && part.switches.is_empty()
        && part.bus_ports.is_empty()
        && part.line_ports.is_empty();
    let earth = board.earth.as_ref().filter(|earth| earth.terminal.is_none() && part.earth.is_none());
    if earth.is_some() {
        return Some(Lack::EarthTerminal);
    }
    // A panel that nothing can be connected to is told first.
    let first = match board.kind {
        BoardKind::Panel => nothing.then_some(Lack::Anything),
        BoardKind::PowerSupply => part.outputs.is_empty().then_some(Lack::Output),
        BoardKind::Strip { .. } | BoardKind::JointBox { .. } => None,
        BoardKind::Keypad { .. } | BoardKind::Module { .. } | BoardKind::Receiver if part.bus_ports.is_empty() => {
            Some(Lack::BusPort)
        }
        BoardKind::Receiver => (!part.hears()).then_some(Lack::Receiver),
        BoardKind::Keypad { .. } | BoardKind::Module { .. } => None,
    };
    // A part with neither of the two has its terminals left out, but for a module that its bus feeds.
    let hangs = board.bus.is_some() && part.charger.is_none();
    let listed = part.ac_port.is_some() || part.battery_port.is_some() || hangs;
    let transformer = (listed && board.transformer.is_some() && part.ac_port.is_none()).then_some(Lack::AcPort);
    // A battery that nothing charges is another rule's.
    let with_battery = listed && board.battery.is_some() && board.has_own_supply();
    let battery = (with_battery && part.battery_port.is_none()).then_some(Lack::BatteryPort);
    first.or(transformer).or(battery)
}

//! Zones with their loops.

use super::chain::{Mounted, chain};
use super::devices::{Device, devices};
use super::figures::states::State;
use super::item::{Reference, Resistor, record};
use super::lines::labels;
use super::names::Names;
use crate::base::Id;
use crate::events;
use crate::model::{self, Owner};
use crate::terms::{KeyAction, LoopWiring, ZoneType};

record! {
    /// What is reported by one number.
    Zone {
        /// Identifier for what connects next; it stays while the number does.
        id: String,
        /// The number that is reported.
        number: u32,
        /// What the dispatcher reads, not cut.
        description: String => "description",
        /// What happens when it is tripped.
        #[serde(rename = "type")]
        kind: Option<&'static str> => "type",
        /// Event code of ANSI/SIA DC-05: the spec's, or the usual one of the type.
        event: Option<u32>,
        /// The event code that the spec gives in place of the type's usual one.
        event_of_its_own: Option<u32> => "event code",
        /// Name of the area it belongs to.
        area: Option<Reference> => "area",
        /// What turning the key of a keyswitch does.
        action: Option<&'static str> => "action",
        /// True where it waits while the entry or exit delay runs.
        follows: bool => "follows the entry delay",
        /// True where the number is kept for later, and nothing is wired yet.
        reserved: bool => "reserved",
        /// A remark for the installer.
        note: Option<String> => "note",
        /// Its devices, in the order of the text.
        devices: Vec<Device>,
        /// Id of its wireless detector.
        wireless: Option<Reference> => "wireless detector",
        /// Its wired loop; none for a wireless zone.
        #[serde(rename = "loop")]
        wired: Option<Loop> => "",
    }

    /// A wired loop.
    Loop {
        /// How it is supervised.
        wiring: Option<&'static str> => "wiring",
        /// Name of the board that senses it.
        board: Option<Reference> => "board",
        /// The board's input, whether the spec says so or the register does.
        input: Option<u32> => "input",
        /// True where the input is a proposal of the compiler.
        input_proposed: bool,
        /// What stands in it, from the board on; what is not a cable is at the board.
        chain: Vec<Mounted> => "from the board on",
        /// Labels of its cables, in the order of the text.
        cables: Vec<String>,
        /// Its resistors, in the order of the text; those across contacts stand at the devices.
        resistors: Vec<PlacedResistor>,
        /// What is read in each state and with each cable fault; empty where it cannot be calculated.
        states: Vec<State>,
    }

    /// A loop's resistor.
    PlacedResistor {
        /// Its value.
        #[serde(flatten)]
        value: Resistor,
        /// Label of the cable at whose far end it is; none at the board.
        cable: Option<String>,
    }
}

/// The zones, by number; without the states of their loops.
pub(crate) fn zones(names: &Names<'_>) -> Vec<Zone> {
    let of_zone = |(id, zone): (Id<model::Zone>, &model::Zone)| {
        let model::Zone {
            number,
            description,
            kind,
            area,
            event,
            action,
            follows,
            reserved,
            note,
            wired,
            wireless,
            whole: _,
        } = zone;
        let kind = kind.as_ref().map(|kind| kind.value);
        let event = event.as_ref().map(|event| event.value);
        Zone {
            id: zone.identifier(),
            number: number.value,
            description: description.value.clone(),
            kind: kind.map(ZoneType::word),
            event: events::code(zone),
            event_of_its_own: event,
            area: area.map(|area| names.area(area)),
            action: action.as_ref().map(|action| KeyAction::word(action.value)),
            follows: *follows,
            reserved: reserved.is_some(),
            note: note.clone(),
            devices: devices(names, Owner::Zone(id)),
            wireless: wireless.map(|device| names.device(device)),
            wired: wired.as_ref().map(|wired| of_loop(names, id, wired)),
        }
    };
    names.site.zones.entries().map(of_zone).collect()
}

fn of_loop(names: &Names<'_>, zone: Id<model::Zone>, wired: &model::Loop) -> Loop {
    let model::Loop { wiring, board, input: _, input_written: _, chain: items, place: _ } = wired; // see `input` below
    let inputs = &names.wiring.inputs;
    let owner = Owner::Zone(zone);
    let resistors = names.site.all_mounted(owner).filter_map(|(run, item)| {
        let value = item.resistor()?.value.into();
        Some(PlacedResistor { value, cable: run.and_then(|run| names.label(run)) })
    });
    Loop {
        wiring: wiring.as_ref().map(|wiring| LoopWiring::word(wiring.value)),
        board: board.as_ref().map(|board| names.board(board.value)),
        input: inputs.of_zone.get(&zone).copied(),
        input_proposed: inputs.proposed.contains(&zone),
        chain: chain(names, items),
        cables: labels(names, owner),
        resistors: resistors.collect(),
        states: Vec::new(),
    }
}

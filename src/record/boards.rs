//! Boards, each with its terminals and what is on them.

use schemars::JsonSchema;
use serde::Serialize;

use super::chain::Output;
use super::item::{Item, Printed, Reference, Title, record};
use super::names::Names;
use super::places::Spot;
use crate::base::Id;
use crate::model::{self, BoardKind, terminal};
use crate::quantity::{
    AmpereHours, Amperes, Celsius, Colour, Metres, Ohms, Ratio, Seconds, VoltAmperes, Volts, WireSize,
};
use crate::register::{self, DeadConductor, FittedKind, Lead, OnTerminal};
use crate::terms::{Bank, Joining};

record! {
    /// A panel, keypad, module, receiver or strip.
    Board {
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// "panel", "power supply", "keypad", "module", "receiver", "strip" or "joint box".
        kind: &'static str => "kind",
        /// Name of the part it is; none for a strip.
        part: Option<Reference> => "part",
        /// Name of the room it is in.
        room: Option<Reference> => "room",
        /// Height above the floor in metres.
        mount: Option<Metres> => "height",
        /// True where it was there before.
        existing: bool => "was there before",
        /// Where it hangs on its level's plan.
        spot: Option<Spot> => "spot on the plan",
        /// Name of the bus it hangs on.
        bus: Option<Reference> => "bus",
        /// Name of its port that hangs on the bus.
        bus_port: Option<String>,
        /// Label of the cable that brings the bus.
        bus_cable: Option<Reference> => "bus",
        /// Its address on the bus.
        address: Option<u32> => "address",
        /// True where the terminator that its bus port has built in is taken off.
        built_in_terminator_off: bool => "built-in terminator taken off",
        /// The number by which the panel knows a module's first input.
        inputs_from: Option<u32> => "inputs from",
        /// What feeds a strip.
        feed: Option<Output> => "fed from",
        /// Pairs of terminals of a strip.
        ways: Option<u32> => "ways",
        /// Conductors that one terminal of a strip takes.
        wires_per_terminal: Option<u32> => "conductors a terminal",
        /// How conductors are joined in it, of a joint box: "screw", "crimp" or "solder".
        joined_by: Option<&'static str> => "joined by",
        /// Its standby battery.
        battery: Option<Battery> => "",
        /// Its mains transformer.
        transformer: Option<Transformer> => "",
        /// Its earth conductor.
        earth: Option<Earth> => "earth",
        /// The emergency keys of a keypad that are in use.
        emergency_keys: Vec<EmergencyKey> => "emergency key",
        /// Its terminals, in their order on the board.
        terminals: Vec<Terminal>,
        /// Resistors fitted across two of its terminals.
        fitted: Vec<Fitted>,
    }

    /// An emergency key of a keypad that is in use.
    EmergencyKey {
        /// "fire", "medical", "panic-audible" or "panic-silent".
        key: &'static str => "",
        /// The number that its report carries.
        number: Option<u32> => "number",
    }

    /// A standby battery.
    Battery {
        /// Rated capacity of one in ampere-hours.
        ampere_hours: AmpereHours => "battery",
        /// How many of these.
        count: u32 => "batteries",
        /// Further ones that are not like these.
        others: Vec<OtherBattery> => "further battery",
        /// How they are wired: "series", "parallel" or "series-pairs"; none where there is one or the spec does not say.
        wired: Option<&'static str> => "batteries wired",
        /// Rated voltage of one.
        volts: Option<Volts> => "battery volts",
        /// Rating of the fuse in its leads or on the board, in ampere.
        fuse_amperes: Option<Amperes> => "battery fuse",
        /// The most current that one may be charged with by its sheet, in ampere.
        max_charge_amperes: Option<Amperes> => "most charging current",
        /// Colour of the lead to its positive, as a code of IEC 60757.
        positive: Option<String> => "battery lead +",
        /// Colour of the lead to its negative.
        negative: Option<String> => "battery lead −",
        /// The coldest at which its sheet lets it be used, in degree Celsius.
        coldest: Option<Celsius> => "coldest for the battery",
        /// Day it was put in, as year-month-day.
        installed: Option<Printed<jiff::civil::Date>> => "battery put in",
        /// True where it was there before.
        existing: bool => "battery was there before",
        /// How long it serves by its sheet, in seconds.
        replace_after_seconds: Option<Seconds> => "battery serves",
    }

    /// A further battery.
    OtherBattery {
        /// Rated capacity in ampere-hours.
        ampere_hours: AmpereHours => "",
        /// Day it was put in, as year-month-day.
        installed: Option<Printed<jiff::civil::Date>> => "put in",
        /// True where it was there before.
        existing: bool => "was there before",
    }

    /// An earth conductor.
    Earth {
        /// Its size.
        size: Printed<WireSize> => "size",
        /// Where it is to be connected.
        to: String => "to",
        /// Its colour as a code of IEC 60757; GNYE where the spec does not say.
        colour: Option<String> => "colour",
        /// The board's terminal, where it is not the earth terminal of its part.
        terminal: Option<String> => "terminal",
        /// True where it was there before.
        existing: bool => "was there before",
    }

    /// A mains transformer.
    Transformer {
        /// Secondary voltage.
        volts: Volts => "transformer",
        /// Apparent power.
        volt_amperes: VoltAmperes => "transformer rating",
        /// Which outlet it is on.
        outlet: Option<String> => "outlet",
        /// Whether that outlet can be switched off.
        switched: bool => "outlet can be switched",
        /// True where it was there before.
        existing: bool => "transformer was there before",
        /// Rating of the fuse in its secondary or on the board, in ampere.
        fuse_amperes: Option<Amperes> => "transformer fuse",
    }

    /// A terminal and what is on it.
    Terminal {
        /// As printed on the board.
        mark: String,
        /// What lands here, in order of landing.
        holds: Vec<Held>,
    }

    /// A resistor fitted across two terminals.
    Fitted {
        /// The two marks.
        across: Vec<String>,
        /// True where it stands between the first terminal and the cable instead of across the two.
        in_series: bool,
        /// Its value in ohm.
        ohms: Option<Ohms>,
        /// Greatest deviation of a loop's resistor to either side; 0.05 is ±5 %.
        tolerance: Option<Ratio>,
        /// "resistor" for a loop's, "terminator" for a bus's.
        kind: &'static str,
        /// The zone whose loop it is in.
        zone: Option<u32>,
    }
}

/// What is on a terminal.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(crate) enum Held {
    /// A conductor of a cable.
    Conductor {
        /// Label of the cable.
        cable: String,
        /// Position in the cable, from 1.
        position: usize,
        /// Colour as a code of IEC 60757.
        #[serde(skip_serializing_if = "Option::is_none")]
        colour: Option<String>,
        /// What it does, in the words of the list of cables.
        function: &'static str,
    },
    /// A link to another terminal.
    Link {
        /// Name of the other board.
        board: String,
        /// Mark of the other terminal.
        terminal: String,
    },
    /// The shield of a cable.
    Shield {
        /// Label of the cable.
        cable: String,
    },
    /// A lead that powers or earths the board.
    Lead {
        /// "ac-a", "ac-b", "battery+", "battery-" or "earth".
        lead: &'static str,
    },
    /// A conductor of a dead cable, which is to come off.
    Dead {
        /// Label of the cable.
        cable: String,
        /// Position in the cable, from 1.
        position: u32,
    },
}

/// Landings are facts of the conductors.
impl Item for Held {}

/// The boards, by name.
pub(crate) fn boards(names: &Names<'_>) -> Vec<Board> {
    names.site.boards.entries().map(|(id, board)| of_board(names, id, board)).collect()
}

fn of_board(names: &Names<'_>, id: Id<model::Board>, board: &model::Board) -> Board {
    let model::Board {
        name,
        title,
        part,
        part_span: _,
        room,
        existing,
        kind,
        address,
        mount,
        hung,
        battery,
        transformer,
        earth,
        terminator_off,
        emergency_keys,
        bus,
    } = board;
    let (ways, wires) = match kind {
        BoardKind::Strip { feed: _, ways, wires } => (Some(*ways), Some(*wires)),
        BoardKind::Panel
        | BoardKind::PowerSupply
        | BoardKind::Module { inputs_from: _ }
        | BoardKind::Keypad { inputs_from: _ }
        | BoardKind::Receiver
        | BoardKind::JointBox { joined: _ } => (None, None),
    };
    Board {
        name: name.value.clone(),
        title: Title::new(title, &name.value),
        kind: kind.noun(),
        part: part.map(|part| names.part(part)),
        room: room.map(|room| names.room(room)),
        mount: *mount,
        existing: *existing,
        spot: hung.as_ref().map(Spot::of),
        bus: bus.map(|(bus, _)| names.bus(bus)),
        bus_port: bus.and_then(|(bus, _)| names.site.bus_port(bus, id)).map(|port| port.name.value.clone()),
        bus_cable: bus.map(|(_, run)| names.run(run)),
        address: address.as_ref().map(|address| address.value),
        built_in_terminator_off: *terminator_off,
        inputs_from: kind.inputs_from(),
        feed: kind.feed().map(|feed| names.output(feed)),
        ways,
        wires_per_terminal: wires,
        joined_by: kind.joined().map(Joining::word),
        battery: battery.as_ref().map(of_battery),
        transformer: transformer.as_ref().map(of_transformer),
        earth: earth.as_ref().map(of_earth),
        emergency_keys: emergency_keys
            .iter()
            .map(|model::KeyInUse { key, number }| EmergencyKey {
                key: key.value.word(),
                number: number.as_ref().map(|number| number.value),
            })
            .collect(),
        terminals: terminals(names, id),
        fitted: names
            .wiring
            .fitted
            .iter()
            .filter(|fitted| fitted.board == id)
            .map(|fit| of_fitted(names, fit))
            .collect(),
    }
}

fn of_battery(battery: &model::Battery) -> Battery {
    let model::Battery {
        capacity,
        count,
        others,
        wired,
        volts,
        fuse,
        max_charge,
        positive,
        negative,
        coldest,
        installed,
        existing,
        replace_after,
        written: _, // places
    } = battery;
    let of_other = |model::OtherBattery { capacity, installed, existing }: &model::OtherBattery| OtherBattery {
        ampere_hours: capacity.value,
        installed: installed.map(Printed),
        existing: *existing,
    };
    Battery {
        ampere_hours: capacity.value,
        count: *count,
        others: others.iter().map(of_other).collect(),
        wired: wired.as_ref().map(|wired| Bank::word(wired.value)),
        volts: *volts,
        fuse_amperes: fuse.as_ref().map(|fuse| fuse.value),
        max_charge_amperes: max_charge.as_ref().map(|most| most.value),
        positive: positive.as_ref().map(|colour| colour.value.code()),
        negative: negative.as_ref().map(|colour| colour.value.code()),
        coldest: *coldest,
        installed: installed.map(Printed),
        existing: *existing,
        replace_after_seconds: *replace_after,
    }
}

fn of_transformer(transformer: &model::Transformer) -> Transformer {
    // The run is a cable.
    let model::Transformer { volts, rating, outlet, switched, switched_written: _, existing, run: _, fuse } =
        transformer;
    Transformer {
        volts: volts.value,
        volt_amperes: rating.value,
        outlet: outlet.clone(),
        switched: *switched,
        existing: *existing,
        fuse_amperes: fuse.as_ref().map(|fuse| fuse.value),
    }
}

fn of_earth(earth: &model::Earth) -> Earth {
    let model::Earth { size, to, colour, terminal, existing } = earth;
    Earth {
        size: Printed(*size),
        to: to.value.clone(),
        colour: colour.map(Colour::code),
        terminal: terminal.as_ref().map(|mark| mark.value.clone()),
        existing: *existing,
    }
}

fn of_fitted(names: &Names<'_>, fitted: &register::Fitted) -> Fitted {
    let register::Fitted { board: _, across, kind } = fitted; // stands in its board
    let (ohms, tolerance, word, zone) = match kind {
        FittedKind::Resistor { value, zone, in_series: _ } => {
            (value.nominal, Some(value.tolerance), "resistor", Some(names.zone(*zone)))
        }
        FittedKind::Terminator(ohms) => (*ohms, None, "terminator", None),
    };
    Fitted {
        across: vec![across.0.clone(), across.1.clone()],
        in_series: fitted.in_series(),
        ohms: Some(ohms),
        tolerance,
        kind: word,
        zone,
    }
}

fn terminals(names: &Names<'_>, board: Id<model::Board>) -> Vec<Terminal> {
    let of_terminal = |terminal: terminal::Terminal| {
        let on = names.wiring.terminals.get(&(board, terminal.mark.clone()));
        let dead = names.wiring.dead.iter().flat_map(|cable| {
            let held = |wire: &DeadConductor| Held::Dead { cable: cable.label.clone(), position: wire.position };
            cable.on(board, &terminal.mark).map(held).collect::<Vec<_>>()
        });
        let holds = on.into_iter().flatten().filter_map(|item| held(names, item)).chain(dead).collect();
        Terminal { mark: terminal.mark, holds }
    };
    terminal::terminals(names.site, board).into_iter().map(of_terminal).collect()
}

fn held(names: &Names<'_>, item: &OnTerminal) -> Option<Held> {
    match item {
        OnTerminal::Conductor(cable, conductor) => {
            let cable = names.wiring.cables.get(*cable)?;
            let conductor = cable.conductors.get(*conductor)?;
            Some(Held::Conductor {
                cable: cable.label.clone(),
                position: conductor.position + 1,
                colour: conductor.colour.map(crate::quantity::Colour::code),
                function: conductor.function.wire_use().word(),
            })
        }
        OnTerminal::Shield(cable) => Some(Held::Shield { cable: names.wiring.cables.get(*cable)?.label.clone() }),
        OnTerminal::Lead(lead) => Some(Held::Lead {
            lead: match lead {
                Lead::AcA => "ac-a",
                Lead::AcB => "ac-b",
                Lead::BatteryPositive => "battery+",
                Lead::BatteryNegative => "battery-",
                Lead::Earth => "earth",
            },
        }),
        OnTerminal::Link(board, mark) => Some(Held::Link { board: names.board(*board).text, terminal: mark.clone() }),
    }
}

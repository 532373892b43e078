//! Parts: what their data sheets say.

use schemars::JsonSchema;
use serde::Serialize;

use super::item::{Atom, Item, Title, Value, figure, record};
use super::names::Names;
use super::ports::{BusPort, LinePort, SheetOutput};
use super::switching::{OwnSupply, SheetSwitch};
use super::two_wire::{LoopFed, LoopFeed};
use crate::base::Id;
use crate::model::{self, BandEdges, Take};
use crate::quantity::{Amperes, Celsius, Decibels, LengthUnit, Metres, Ohms, Ratio, Seconds, Volts, Watts};
use crate::terms::{Basis, BoardPart, Connect, Fails, MountingBox, Radio, Senses, SwitchedSide, Works};

record! {
    /// A part.
    Part {
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// What it detects.
        senses: Option<&'static str> => "senses",
        /// What it is as a board.
        board: Option<&'static str> => "board",
        /// What it is as a load.
        works: Option<&'static str> => "works",
        /// What it does without current, as a lock: "safe" (it opens) or "secure" (it stays shut).
        fails: Option<&'static str> => "without current",
        /// Temperature at which a heat detector trips, in degree Celsius.
        rating_celsius: Option<Celsius> => "rating",
        /// Age at which it is replaced, from the day on which it was made, in seconds.
        replace_after_seconds: Option<Seconds> => "replaced after",
        /// The box that it is mounted on, by its word in the language.
        mounting_box: Option<&'static str> => "box",
        /// Diameter of the hole that it is set into, in metres.
        hole_metres: Option<Metres> => "hole",
        /// What its figures rest on: "generic" (invented), "sheet" or "measured".
        basis: Option<&'static str> => "basis",
        /// Which sheet.
        reference: Option<String> => "sheet",
        /// True where it comes from the shared parts folder.
        shared: bool,
        /// How many are in use.
        count: usize,
        /// Marks of its terminals in their order; empty where the sheet does not give it.
        terminals: Vec<String> => "terminals",
        /// Conductors that one terminal takes.
        wires_per_terminal: Option<u32> => "conductors a terminal",
        /// Its alarm contacts.
        contacts: Vec<Contact> => "contact",
        /// Its cover contact.
        tamper: Option<Contact> => "cover contact",
        /// What its sheet says of a two-wire detector.
        loop_fed: Option<LoopFed> => "two-wire",
        /// The contact by which a board tells a fault of its own.
        fault_contact: Option<FaultContact> => "fault contact",
        /// The supply that it needs.
        supply: Option<SupplyNeed> => "",
        /// The supply of its own that a dry contact switches.
        own_supply: Option<OwnSupply> => "own supply",
        /// How loud it is, of a sounder.
        sound: Option<Sound> => "sound",
        /// What it covers, of a motion or glass-break detector.
        coverage: Option<Coverage> => "covers",
        /// What a board takes itself.
        draw: Option<Draw> => "",
        /// The terminals for its transformer.
        ac_port: Option<AcPort> => "AC port",
        /// The terminals for its battery.
        battery_port: Option<BatteryPort> => "battery port",
        /// Mark of the terminal for its earth conductor.
        earth_terminal: Option<String> => "earth terminal",
        /// Terminals of any other purpose, by mark.
        other_terminals: Vec<OtherTerminal> => "terminal",
        /// Its loop inputs, by number.
        inputs: Vec<Input> => "input",
        /// How it reads a loop.
        sensing: Option<Sensing> => "",
        /// How it reads one when an input is set for a wiring.
        settings: Vec<Setting> => "setting",
        /// Supplies that it gives, by name.
        outputs: Vec<SheetOutput> => "output",
        /// Its relays and transistors, by name.
        switches: Vec<SheetSwitch> => "relay or transistor",
        /// Its bus connections, by name.
        bus_ports: Vec<BusPort> => "bus port",
        /// Its telephone line connections, by name.
        line_ports: Vec<LinePort> => "line port",
        /// Its battery charger.
        charger: Option<Charger> => "",
        /// Its wireless side.
        radio: Option<RadioData> => "",
    }

    /// A contact.
    Contact {
        /// State at rest: "NC" (closed) or "NO" (open).
        form: &'static str => "form",
        /// The most resistance when closed, in ohm.
        closed_ohms: Ohms => "resistance",
        /// Mark at its pair of terminals.
        mark: String => "terminals",
    }

    /// The supply that a part needs.
    SupplyNeed {
        /// Least voltage at which it works.
        min_volts: Volts => "least supply",
        /// Most voltage that it stands.
        max_volts: Option<Volts> => "most supply",
        /// What it takes at rest.
        idle: Taken => "current at rest",
        /// What it takes in alarm.
        alarm: Taken => "current in alarm",
        /// Whether it must be "steady", "pulsed" or a "tone".
        form: &'static str => "needs",
        /// The side that is joined to others or to the housing: "plus" or "minus".
        common: Option<&'static str> => "common side",
        /// Whether it has a coil.
        coil: bool => "coil",
        /// Whether a diode across that coil is built in.
        diode: bool => "diode built in",
        /// Mark of the positive terminal.
        positive: String => "supply + terminal",
        /// Mark of the negative terminal.
        negative: String => "supply − terminal",
    }

    /// How loud a sounder is.
    Sound {
        /// Its level in dBA.
        level_dba: Decibels => "level",
        /// The distance at which it has that level, in metres.
        at_metres: Metres => "at",
    }

    /// What a motion or glass-break detector covers.
    Coverage {
        /// How far, in metres.
        range_metres: Metres => "range",
        /// How wide, in degrees; 360 is all around.
        angle_degrees: u32 => "angle",
    }

    /// What a board takes itself.
    Draw {
        /// At rest.
        idle: Taken => "draws at rest",
        /// In alarm.
        alarm: Taken => "draws in alarm",
        /// Least voltage at which it works.
        min_volts: Option<Volts> => "works from",
        /// Most voltage that it stands.
        max_volts: Option<Volts> => "stands",
    }

    /// The contact by which a board tells a fault of its own.
    FaultContact {
        /// State without a fault: "NC" or "NO".
        form: &'static str => "",
        /// The most it has when closed, in ohm.
        closed_ohms: Ohms => "closed",
        /// Mark of the one terminal.
        a: String => "",
        /// Mark of the other.
        b: String => "",
    }

    /// The terminals for a transformer.
    AcPort {
        /// Mark of the one.
        a: String => "",
        /// Mark of the other.
        b: String => "",
        /// Least alternating voltage there.
        min_volts: Option<Volts> => "least volts",
        /// Most alternating voltage there.
        max_volts: Option<Volts> => "most volts",
    }

    /// The terminals for a battery.
    BatteryPort {
        /// Mark of the positive.
        positive: String => "",
        /// Mark of the negative.
        negative: String => "",
        /// When it is connected, by the sheet: "first" (before the mains) or "last".
        connect: Option<&'static str> => "connect",
    }

    /// A terminal of another purpose.
    OtherTerminal by mark {
        /// Its mark.
        mark: String,
        /// Its purpose.
        purpose: String => "",
    }

    /// A loop input.
    Input by number {
        /// The number printed on the board.
        number: u32,
        /// Mark of the sensed terminal.
        signal: String => "",
        /// Mark of the return.
        back: String => "",
        /// Whether it can be set to feed two-wire detectors.
        two_wire: bool => "feeds two-wire detectors",
    }

    /// How a board reads a loop when the input is set for a wiring.
    Setting by wiring {
        /// The wiring.
        wiring: &'static str,
        /// How it then reads.
        sensing: Sensing => "",
    }

    /// How a board reads a loop.
    Sensing {
        /// The voltage behind the pull-up.
        supply_volts: Option<Volts> => "sensing supply",
        /// The pull-up in ohm.
        pull_up_ohms: Option<Ohms> => "pull-up",
        /// Its tolerance; 0.01 is ±1 %.
        pull_up_tolerance: Ratio => "pull-up tolerance",
        /// Tolerance of the voltage, where the bands do not follow it.
        supply_tolerance: Ratio => "sensing supply tolerance",
        /// The bands of readings, in the order of the text.
        bands: Vec<Band> => "band",
        /// What it says of two-wire detectors.
        feed: Option<LoopFeed> => "",
    }

    /// A battery charger.
    Charger {
        /// Charging current in ampere.
        amperes: Amperes => "charger",
        /// Battery voltage at which the board lets go.
        cut_off_volts: Option<Volts> => "lets the battery go at",
        /// Volts lost in the board between battery and outputs.
        drop_volts: Option<Volts> => "loses on battery",
    }

    /// A wireless side.
    RadioData {
        /// "receiver" or "transmitter".
        role: &'static str => "radio",
        /// Transmitters that a receiver can learn.
        capacity: Option<u32> => "learns",
        /// How long a transmitter's battery lasts, in seconds.
        battery_life_seconds: Option<Seconds> => "battery lasts",
    }
}

/// A band of readings.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct Band {
    /// What the board makes of it: "short", "normal", "alarm", "tamper" or "open".
    pub reads: &'static str,
    /// Its edges.
    #[serde(flatten)]
    pub edges: Edges,
}

/// The edges of a band, least and greatest; null where there is none.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Edges {
    /// In volt at the terminals.
    Volts([Option<Volts>; 2]),
    /// In ohm of the loop.
    Ohms([Option<Ohms>; 2]),
}

impl Item for Band {
    fn atoms(&self, _: LengthUnit) -> Value {
        let edges = match &self.edges {
            Edges::Volts(edges) => edges.map(|edge| edge.map(figure)),
            Edges::Ohms(edges) => edges.map(|edge| edge.map(figure)),
        };
        edges.map(|edge| edge.unwrap_or_else(|| Atom::Text("no edge".into()))).to_vec()
    }

    fn tell_entry(&self, field: &str, _: usize, lengths: LengthUnit, fields: &mut super::item::Fields) {
        self.tell(&format!("{field} {}", self.reads), lengths, fields);
    }
}

/// What is taken from a supply: one of the two.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Taken {
    /// The same current at any voltage.
    Amperes(Amperes),
    /// The same power at any voltage.
    Watts(Watts),
}

impl From<Take> for Taken {
    fn from(take: Take) -> Self {
        match take {
            Take::Current(current) => Self::Amperes(current),
            Take::Power(power) => Self::Watts(power),
        }
    }
}

impl Item for Taken {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![match self {
            Self::Amperes(current) => figure(current),
            Self::Watts(power) => figure(power),
        }]
    }
}

/// The parts of a site, by name.
pub(crate) fn parts(names: &Names<'_>) -> Vec<Part> {
    names.site.parts.entries().map(|(id, part)| of_part(names, id, part)).collect()
}

fn of_part(names: &Names<'_>, id: Id<model::Part>, part: &model::Part) -> Part {
    let site = names.site;
    let mounted = site.devices.iter().filter(|device| device.board.is_none());
    let in_use = site.boards.iter().map(|board| board.part).chain(mounted.map(|device| device.part));
    let model::Part {
        name,
        title,
        senses,
        board,
        works,
        fails,
        rating,
        replace_after,
        mounting_box,
        hole,
        basis,
        reference,
        shared,
        whole: _, // what is not whole was reported
        contacts,
        tamper,
        fault,
        supply,
        own_supply,
        sound,
        coverage,
        terminals,
        ac_port,
        battery_port,
        earth,
        others,
        inputs,
        sensing,
        sensing_again: _, // reported
        marks: _,         // each is a field of what it belongs to
        settings,
        loop_fed,
        outputs,
        switches,
        bus_ports,
        line_ports,
        draw,
        charger,
        wires_per_terminal,
        radio,
    } = part;
    Part {
        name: name.value.clone(),
        title: Title::new(title, &name.value),
        senses: senses.map(Senses::word),
        board: board.map(BoardPart::word),
        works: works.map(Works::word),
        fails: fails.map(Fails::word),
        rating_celsius: rating.as_ref().map(|rating| rating.value),
        replace_after_seconds: *replace_after,
        mounting_box: mounting_box.map(MountingBox::word),
        hole_metres: *hole,
        basis: basis.map(Basis::word),
        reference: reference.clone(),
        shared: *shared,
        count: in_use.filter(|part| *part == Some(id)).count(),
        terminals: terminals.iter().map(|mark| mark.value.clone()).collect(),
        wires_per_terminal: *wires_per_terminal,
        contacts: contacts.iter().map(of_contact).collect(),
        tamper: tamper.as_ref().map(of_contact),
        fault_contact: fault.as_ref().map(|model::FaultContact { contact, a, b }| FaultContact {
            form: contact.form.word(),
            closed_ohms: contact.resistance,
            a: a.value.clone(),
            b: b.value.clone(),
        }),
        supply: supply.as_ref().map(
            |model::SupplyNeed { min, max, idle, alarm, form, common, coil, diode, positive, negative }| SupplyNeed {
                min_volts: *min,
                max_volts: *max,
                idle: (*idle).into(),
                alarm: (*alarm).into(),
                form: form.word(),
                common: common.map(SwitchedSide::word),
                coil: *coil,
                diode: *diode,
                positive: positive.clone(),
                negative: negative.clone(),
            },
        ),
        own_supply: own_supply.as_ref().map(OwnSupply::of),
        sound: sound.map(|model::Sound { level, at }| Sound { level_dba: level, at_metres: at }),
        coverage: coverage
            .map(|model::Coverage { range, angle }| Coverage { range_metres: range, angle_degrees: angle }),
        draw: draw.as_ref().map(|model::Draw { idle, alarm, min, max }| Draw {
            idle: (*idle).into(),
            alarm: (*alarm).into(),
            min_volts: *min,
            max_volts: *max,
        }),
        ac_port: ac_port.as_ref().map(|model::AcPort { a, b, min, max }| AcPort {
            a: a.value.clone(),
            b: b.value.clone(),
            min_volts: *min,
            max_volts: *max,
        }),
        battery_port: battery_port.as_ref().map(|model::BatteryPort { positive, negative, connect }| BatteryPort {
            positive: positive.value.clone(),
            negative: negative.value.clone(),
            connect: connect.map(Connect::word),
        }),
        earth_terminal: earth.as_ref().map(|mark| mark.value.clone()),
        other_terminals: others
            .iter()
            .map(|model::OtherTerminal { mark, purpose }| OtherTerminal {
                mark: mark.value.clone(),
                purpose: purpose.clone(),
            })
            .collect(),
        inputs: inputs
            .iter()
            .map(|model::Input { number, signal, back, two_wire }| Input {
                number: number.value,
                signal: signal.clone(),
                back: back.clone(),
                two_wire: *two_wire,
            })
            .collect(),
        sensing: sensing.as_ref().map(of_sensing),
        settings: settings
            .iter()
            .map(|model::Setting { wiring, sensing }| Setting {
                wiring: wiring.value.word(),
                sensing: of_sensing(sensing),
            })
            .collect(),
        loop_fed: loop_fed.as_ref().map(LoopFed::of),
        outputs: outputs.iter().map(SheetOutput::of).collect(),
        switches: switches.iter().map(SheetSwitch::of).collect(),
        bus_ports: bus_ports.iter().map(BusPort::of).collect(),
        line_ports: line_ports.iter().map(LinePort::of).collect(),
        charger: charger.as_ref().map(|model::Charger { current, cut_off, drop }| Charger {
            amperes: *current,
            cut_off_volts: *cut_off,
            drop_volts: *drop,
        }),
        radio: radio.as_ref().map(|model::RadioData { role, capacity, battery_life }| RadioData {
            role: Radio::word(*role),
            capacity: *capacity,
            battery_life_seconds: *battery_life,
        }),
    }
}

fn of_contact(contact: &model::ContactData) -> Contact {
    let model::ContactData { form, resistance, mark } = contact;
    Contact { form: form.word(), closed_ohms: *resistance, mark: mark.clone() }
}

fn of_sensing(sensing: &model::Sensing) -> Sensing {
    let model::Sensing { place: _, supply, pull_up, tolerance, supply_tolerance, bands, feed } = sensing;
    let of_band = |model::Band { reads, edges }: &model::Band| Band {
        reads: reads.value.word(),
        edges: match edges {
            BandEdges::Volts(least, greatest) => Edges::Volts([*least, *greatest]),
            BandEdges::Ohms(least, greatest) => Edges::Ohms([*least, *greatest]),
        },
    };
    Sensing {
        supply_volts: *supply,
        pull_up_ohms: *pull_up,
        pull_up_tolerance: *tolerance,
        supply_tolerance: *supply_tolerance,
        bands: bands.iter().map(of_band).collect(),
        feed: feed.as_ref().map(LoopFeed::of),
    }
}

//! What refers to more than a name: owners of runs, outputs, what stands in a chain, what a conductor meets.

use schemars::JsonSchema;
use serde::Serialize;

use super::item::{Atom, Item, Reference, Resistor, Value, figure, record};
use super::names::{Kind, Names, Subject};
use crate::base::Id;
use crate::model;
use crate::quantity::{LengthUnit, Ohms};
use crate::register::{Function, Point};

record! {
    /// An output of a board.
    Output {
        /// Name of the board.
        board: Reference => "",
        /// Name of the output.
        output: String => "",
    }
}

/// What a run belongs to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(crate) enum Owner {
    /// A zone's loop.
    Zone {
        /// The zone's number.
        zone: u32,
    },
    /// A data bus.
    Bus {
        /// Its name.
        bus: Reference,
    },
    /// A powered circuit.
    Circuit {
        /// Its name.
        circuit: Reference,
    },
    /// A cable pulled for later.
    Spare {
        /// Its name.
        spare: Reference,
    },
    /// A way to the monitoring service.
    Communicator {
        /// Its name.
        communicator: Reference,
    },
    /// The transformer of a board.
    Transformer {
        /// Name of the board.
        board: Reference,
    },
}

impl Owner {
    /// What a comparison knows it by.
    pub(crate) fn subject(&self) -> Subject {
        match self {
            Self::Zone { zone } => Subject::new(Kind::Zone, zone.to_string()),
            Self::Bus { bus: of }
            | Self::Circuit { circuit: of }
            | Self::Spare { spare: of }
            | Self::Communicator { communicator: of }
            | Self::Transformer { board: of } => of.subject.clone(),
        }
    }
}

impl Item for Owner {
    fn atoms(&self, _: LengthUnit) -> Value {
        vec![Atom::Thing(self.subject())]
    }
}

/// What stands in a chain or at the far end of a run.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(crate) enum Mounted {
    /// A cable on from here.
    Cable {
        /// Its label.
        label: Reference,
    },
    /// A contact, detector or sounder.
    Device {
        /// Its id.
        device: Reference,
    },
    /// A detector that a circuit feeds here.
    Feed {
        /// Its id.
        device: Reference,
    },
    /// A powered device on a way to the monitoring service that a circuit feeds here.
    Hop {
        /// Name of the communicator.
        communicator: Reference,
        /// What it is.
        hop: String,
    },
    /// A board on a bus.
    Board {
        /// Its name.
        board: Reference,
    },
    /// A loop's resistor.
    Resistor(Resistor),
    /// A bus terminator.
    Terminator {
        /// Its value in ohm.
        ohms: Ohms,
    },
}

impl Item for Mounted {
    fn atoms(&self, lengths: LengthUnit) -> Value {
        match self {
            Self::Cable { label: of }
            | Self::Device { device: of }
            | Self::Feed { device: of }
            | Self::Board { board: of } => of.atoms(lengths),
            Self::Hop { communicator, hop } => vec![thing_of(communicator), Atom::Text(hop.clone())],
            Self::Resistor(resistor) => resistor.atoms(lengths),
            Self::Terminator { ohms } => ohms.atoms(lengths),
        }
    }
}

fn thing_of(of: &Reference) -> Atom {
    Atom::Thing(of.subject.clone())
}

fn hop_name(names: &Names<'_>, hop: model::HopRef) -> String {
    names.site.hop(hop).map(|hop| hop.name.value.clone()).unwrap_or_default()
}

/// A chain in its order.
pub(crate) fn chain(names: &Names<'_>, items: &[model::Mounted]) -> Vec<Mounted> {
    let of = |item: &model::Mounted| match item {
        model::Mounted::Run(run) => Mounted::Cable { label: names.run(*run) },
        model::Mounted::Device(device) => Mounted::Device { device: names.device(*device) },
        model::Mounted::Feed(device) => Mounted::Feed { device: names.device(device.value) },
        model::Mounted::Hop(hop) => {
            Mounted::Hop { communicator: names.communicator(hop.value.line), hop: hop_name(names, hop.value) }
        }
        model::Mounted::Board(board) => Mounted::Board { board: names.board(*board) },
        model::Mounted::Resistor(value) => Mounted::Resistor(value.value.into()),
        model::Mounted::Terminator(value) => Mounted::Terminator { ohms: value.value },
    };
    items.iter().map(of).collect()
}

/// What a conductor meets at an end.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(crate) enum End {
    /// A terminal of a board.
    Terminal {
        /// Name of the board.
        board: Reference,
        /// Mark of the terminal.
        terminal: String,
    },
    /// A device, at the terminals of that mark.
    Device {
        /// Its id in the list of devices.
        device: Reference,
        /// Mark of the terminals.
        mark: String,
    },
    /// A loop's resistor.
    Resistor(Resistor),
    /// A bus terminator.
    Terminator {
        /// Its value in ohm.
        ohms: Ohms,
    },
    /// A cable that goes on from here.
    Cable {
        /// Its label.
        label: Reference,
    },
    /// A joint inside a board's enclosure, with another cable.
    Joint {
        /// Name of the board.
        board: Reference,
        /// Label of the other cable.
        label: Reference,
    },
    /// A socket of a board, for a network or an antenna.
    Socket {
        /// Name of the board.
        board: Reference,
    },
    /// What a cable of a communicator ends at: the line's jack, a powered device on the way, the antenna.
    WayOut {
        /// Name of the communicator.
        communicator: Reference,
        /// Position of the cable among those of the communicator, from 1.
        nth: u32,
    },
    /// The supply of a powered device on the way of a communicator.
    Hop {
        /// Name of the communicator.
        communicator: Reference,
        /// What it is.
        hop: String,
    },
    /// The transformer of a board.
    Transformer {
        /// Name of the board.
        board: Reference,
    },
}

impl End {
    /// The end of a conductor.
    pub(crate) fn of(names: &Names<'_>, point: &Point) -> Self {
        match point {
            Point::Terminal(board, mark) => Self::Terminal { board: names.board(*board), terminal: mark.clone() },
            Point::Device(device, mark) => Self::Device { device: names.device(*device), mark: mark.clone() },
            Point::Resistor(value) => Self::Resistor((*value).into()),
            Point::Terminator(value) => Self::Terminator { ohms: *value },
            Point::Cable(run) => Self::Cable { label: names.run(*run) },
            Point::Joint(board, run) => Self::Joint { board: names.board(*board), label: names.run(*run) },
            Point::Socket(board) => Self::Socket { board: names.board(*board) },
            Point::Transformer(board) => Self::Transformer { board: names.board(*board) },
            Point::WayOut(way, nth) => Self::WayOut { communicator: names.communicator(*way), nth: nth + 1 },
            Point::Hop(hop) => Self::Hop { communicator: names.communicator(hop.line), hop: hop_name(names, *hop) },
        }
    }
}

impl Item for End {
    fn atoms(&self, lengths: LengthUnit) -> Value {
        let thing = thing_of;
        let terminal = |mark: &str| Atom::Text(format!("terminal {mark}"));
        match self {
            Self::Terminal { board, terminal: mark } => vec![thing(board), terminal(mark)],
            Self::Device { device, mark } => vec![thing(device), terminal(mark)],
            Self::Resistor(resistor) => resistor.atoms(lengths),
            Self::Terminator { ohms } => vec![figure(ohms)],
            Self::Cable { label } => vec![thing(label)],
            Self::Socket { board } => vec![thing(board), Atom::Text("socket".into())],
            Self::Transformer { board } => vec![thing(board), Atom::Text("transformer".into())],
            Self::WayOut { communicator, nth } => vec![thing(communicator), Atom::Text(format!("way out {nth}"))],
            Self::Hop { communicator, hop } => vec![thing(communicator), Atom::Text(hop.clone())],
            Self::Joint { board, label } => vec![thing(board), Atom::Text("joint".into()), thing(label)],
        }
    }
}

/// What a conductor does.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct Does {
    /// What it does, in the register's words: "supply+", "supply-", "loop-out", "loop-back", "bus+", "bus-", "bus-a",
    /// "bus-b", "line-in-tip", "line-in-ring", "line-out-tip", "line-out-ring", "network", "antenna-core",
    /// "antenna-screen", "ac-a", "ac-b" or "reserved".
    pub(crate) function: &'static str,
    /// The zone whose loop it is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) zone: Option<u32>,
    /// The output whose supply it carries.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) output: Option<Output>,
    /// The pin of a network's socket that it belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) pin: Option<u8>,
    /// What a reserved conductor is kept for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) kept_for: Option<String>,
    /// In words, for people.
    #[serde(skip)]
    said: &'static str,
}

impl Does {
    /// What a conductor of a run does.
    pub(crate) fn of(names: &Names<'_>, run: Id<model::Run>, function: Function) -> Self {
        let wire_use = function.wire_use();
        Self {
            function: wire_use.word(),
            zone: function.zone().map(|zone| names.zone(zone)),
            output: function.output().map(|output| names.output(output)),
            pin: function.pin(),
            kept_for: function.kept_for(names.site, run),
            said: wire_use.printed(),
        }
    }
}

impl Item for Does {
    fn atoms(&self, _: LengthUnit) -> Value {
        let zone = self.zone.map(|zone| Atom::Thing(Owner::Zone { zone }.subject()));
        let output = self
            .output
            .as_ref()
            .map(|Output { board, output }| [Atom::Thing(board.subject.clone()), Atom::Text(output.clone())]);
        let pin = self.pin.map(|pin| Atom::Text(format!("pin {pin}")));
        let said = std::iter::once(Atom::Text(self.said.to_owned()));
        let kept_for = self.kept_for.clone().map(Atom::Text);
        said.chain(zone).chain(output.into_iter().flatten()).chain(pin).chain(kept_for).collect()
    }
}

//! The register as plain data: what is in the wall, by names instead of ids, so that it outlives the spec it was made
//! from. Its text form is `register_file`'s.

use crate::base::{Spanned, natural::natural};
use crate::quantity::Colour;
use crate::terms::WireUse;

use super::owner::OwnerName;

/// Labels and landings that have been given.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Register {
    /// By board and number.
    pub(crate) inputs: Vec<InputEntry>,
    /// By label.
    pub cables: Vec<CableEntry>,
    /// Labels of cables that are out of the wall, in order; never given again.
    pub(crate) spent: Vec<Spanned<String>>,
}

/// The input that a zone's loop is landed on.
#[derive(Clone, Debug, PartialEq)]
pub struct InputEntry {
    /// The board's name.
    pub(crate) board: String,
    /// The board's input.
    pub(crate) number: u32,
    /// The zone's number.
    pub(crate) zone: u32,
    /// Where it stands in the register.
    pub(crate) place: Spanned<()>,
}

/// A cable in the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct CableEntry {
    /// The text on its two ends.
    pub label: String,
    /// What it belongs to.
    pub(crate) of: OwnerName,
    /// The name of its type.
    pub(crate) kind: String,
    /// The name of the room where it ends.
    pub(crate) room: Option<String>,
    /// The name of the room where it starts, of one that is dead: the board that it was on may move.
    pub(crate) from: Option<String>,
    /// The name of its run.
    pub(crate) run: Option<String>,
    /// Whether the spec still has it.
    pub state: State,
    /// What is mounted at its far end.
    pub(crate) mounted: Vec<Mounting>,
    /// Its conductors in use, by position.
    pub(crate) wires: Vec<Wire>,
    /// Where it stands in the register.
    pub(crate) place: Spanned<()>,
}

/// What has become of a cable.
#[derive(Clone, Debug, PartialEq)]
pub enum State {
    /// A run of the spec is this cable.
    InUse,
    /// In the wall, but no run is this cable.
    Dead {
        /// What happened.
        because: String,
        /// Its conductors have been taken off the terminals.
        off: bool,
    },
    /// The user says that it is out of the wall.
    Out,
}

/// What something mounted is known by.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// The opening that it watches.
    Opening(String),
    /// Its own name.
    Device(String),
    /// The name of a board.
    Board(String),
    /// Its title, where it has neither.
    Title(String),
}

/// Something mounted at the far end of a cable.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Mounting {
    /// What it is known by.
    pub(crate) known: Known,
    /// The name of its part.
    pub(crate) part: Option<String>,
}

/// A conductor in use.
#[derive(Clone, Debug, PartialEq)]
pub struct Wire {
    /// Position in the cable, from 1.
    pub(crate) position: u32,
    /// What it does.
    pub(crate) does: WireUse,
    /// Its colour.
    pub(crate) colour: Option<Colour>,
    /// The output whose supply it carries.
    pub(crate) output: Option<String>,
    /// What a reserved conductor is kept for.
    pub(crate) kept_for: Option<String>,
    /// The pin of a network cable; `None` in registers of before they were kept.
    pub(crate) pin: Option<u8>,
    /// What it serves, where that is not what the cable belongs to.
    pub(crate) of: Option<OwnerName>,
    /// The board terminal at its near end.
    pub(crate) near: Option<Landing>,
    /// The board terminal at its far end.
    pub(crate) far: Option<Landing>,
    /// Where it stands in the register.
    pub(crate) place: Spanned<()>,
}

/// A terminal of a board.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Landing {
    /// The board's name.
    pub(crate) board: String,
    /// The terminal's mark.
    pub(crate) mark: String,
    /// Place under the terminal, from 1: on a strip more than one conductor may be under a screw.
    pub(crate) under: u32,
}

impl CableEntry {
    /// True where its conductors are on their terminals: not once it is out, or they have been taken off.
    pub(crate) fn landed(&self) -> bool {
        !matches!(self.state, State::Out | State::Dead { off: true, .. })
    }

    /// The terminals that it keeps from others.
    pub(crate) fn occupies(&self) -> impl Iterator<Item = &Landing> {
        self.wires.iter().filter(|_| self.landed()).flat_map(|wire| wire.near.iter().chain(&wire.far))
    }

    /// True where the spec no longer has it and it is still in the wall.
    pub(crate) fn dead(&self) -> bool {
        matches!(self.state, State::Dead { .. })
    }
}

impl Register {
    /// Puts everything in the order in which it is written.
    pub(crate) fn sort(&mut self) {
        self.inputs.sort_by(|a, b| natural(&a.board, &b.board).then(a.number.cmp(&b.number)));
        self.cables.sort_by(|a, b| natural(&a.label, &b.label));
        self.spent.sort_by(|a, b| natural(&a.value, &b.value));
        for cable in &mut self.cables {
            cable.mounted.sort();
            cable.wires.sort_by_key(|wire| wire.position);
        }
    }

    /// Every label that was ever given.
    pub(crate) fn labels(&self) -> impl Iterator<Item = &str> {
        self.cables.iter().map(|cable| cable.label.as_str()).chain(self.spent.iter().map(|label| label.value.as_str()))
    }
}

impl std::fmt::Display for Landing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.board, self.mark)
    }
}

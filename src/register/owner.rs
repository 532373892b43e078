//! What a cable belongs to, by number or name, so that it outlives the spec: "zone 7", "bus data", "circuit sounders",
//! "spare attic-coil", "line phone", "transformer main".

use std::fmt;
use std::str::FromStr;

use crate::model::{Owner, Site};

/// What a cable belongs to.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum OwnerName {
    /// A zone's loop, by its number.
    Zone(u32),
    /// A bus.
    Bus(String),
    /// A powered circuit.
    Circuit(String),
    /// A cable pulled for later.
    Spare(String),
    /// A way to the monitoring service: telephone line, network, radio.
    Line(String),
    /// The transformer of a board, by the board's name.
    Transformer(String),
}

impl OwnerName {
    /// The number or name of an owner.
    pub(crate) fn of(site: &Site, owner: Owner) -> Self {
        match owner {
            Owner::Zone(zone) => Self::Zone(site.zones[zone].number.value),
            Owner::Bus(bus) => Self::Bus(site.buses[bus].name.value.clone()),
            Owner::Circuit(circuit) => Self::Circuit(site.circuits[circuit].name.value.clone()),
            Owner::Transformer(board) => Self::Transformer(site.boards[board].name.value.clone()),
            Owner::Spare(spare) => Self::Spare(site.spares[spare].name.value.clone()),
            Owner::Communicator(line) => Self::Line(site.communicators[line].name.value.clone()),
        }
    }
}

/// As the register writes it.
impl fmt::Display for OwnerName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Zone(number) => write!(f, "zone {number}"),
            Self::Bus(name) => write!(f, "bus {name}"),
            Self::Circuit(name) => write!(f, "circuit {name}"),
            Self::Spare(name) => write!(f, "spare {name}"),
            Self::Line(name) => write!(f, "line {name}"),
            Self::Transformer(name) => write!(f, "transformer {name}"),
        }
    }
}

/// Exactly as it is written: no other form of a number, no blank in a name.
impl FromStr for OwnerName {
    type Err = ();
    fn from_str(written: &str) -> Result<Self, ()> {
        let (word, name) = written.split_once(' ').ok_or(())?;
        let owner = match word {
            "zone" => Self::Zone(name.parse().map_err(|_| ())?),
            "bus" => Self::Bus(name.to_owned()),
            "circuit" => Self::Circuit(name.to_owned()),
            "spare" => Self::Spare(name.to_owned()),
            "line" => Self::Line(name.to_owned()),
            "transformer" => Self::Transformer(name.to_owned()),
            _ => return Err(()),
        };
        (!name.is_empty() && !name.contains(' ') && owner.to_string() == written).then_some(owner).ok_or(())
    }
}

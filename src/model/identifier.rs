//! Identifiers of areas, zones and outputs for what connects next: our word for the thing with its number or name in the
//! spec, so that they change only where the spec renumbers or renames it.

use super::area::Area;
use super::run::Circuit;
use super::zone::Zone;

impl Area {
    /// "area-house".
    pub(crate) fn identifier(&self) -> String {
        format!("area-{}", self.name.value)
    }
}

impl Zone {
    /// "zone-7".
    pub(crate) fn identifier(&self) -> String {
        format!("zone-{}", self.number.value)
    }
}

impl Circuit {
    /// "circuit-sounders".
    pub(crate) fn identifier(&self) -> String {
        format!("circuit-{}", self.name.value)
    }
}

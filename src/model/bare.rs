//! The house alone, before anything of the alarm is in it: what a first installation is compared with.

use super::Site;
use super::index::Index;
use crate::base::Arena;

impl Site {
    /// The same house with its rooms and openings, and with the parts and types of cable that are at hand, but with nothing
    /// hung, pulled or agreed on.
    pub(crate) fn bare(&self) -> Self {
        Self {
            boards: Arena::default(),
            areas: Arena::default(),
            zones: Arena::default(),
            buses: Arena::default(),
            circuits: Arena::default(),
            spares: Arena::default(),
            communicators: Arena::default(),
            devices: Arena::default(),
            runs: Arena::default(),
            conduits: Vec::new(),
            monitoring: None,
            measured: Vec::new(),
            accepts: Vec::new(),
            index: Index::default(),
            ..self.clone()
        }
    }
}

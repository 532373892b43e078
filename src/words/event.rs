//! What a report is about.

use super::Medium;
use crate::events::About;
use crate::model::{Site, Source};

impl Medium {
    /// What a report is about: "zone 13", "Keypad in the hall", "output aux of Panel", "bus data".
    pub(crate) fn about(self, site: &Site, about: About) -> String {
        match about {
            About::Zone(id) => format!("zone {}", site.zones[id].number.value),
            About::Key(board, key) => format!("{}, key of {}", key.printed(), self.board(site, board)),
            About::Board(board) => self.board(site, board),
            About::Output(output) => self.source(site, Source::Output(output)),
            About::Circuit(id) => site.circuits[id].title.clone(),
            About::Bus(id) => format!("bus {}", self.name(&site.buses[id].name.value)),
            About::Way(id) => site.communicators[id].title.clone(),
            About::Area(id) => site.areas[id].title.clone(),
            About::Site => "the site".to_owned(),
        }
    }
}

//! Delays and false-alarm review: each area's times beside their published ranges, each door's way to the keypad, the
//! choices that are known to breed false alarms, and how loud an alarm is in each bedroom.
//!
//! For whoever sets the board and whoever lives with it, on a page or two. Only what the spec says is judged. Out of scope:
//! findings, which stand on the cover.

mod causes;
mod delays;
mod heard;

use serde::Serialize;

use super::{Document, Orientation, View, value};
use crate::compiled::Compiled;

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "false-alarm-review",
    title: "Delays and false-alarm review",
    about: "every delay beside its published range and the way to the keypad, the choices that breed false alarms, and the alarm's level in each bedroom",
    orientation: Orientation::Portrait,
    template: crate::template!("false-alarm-review"),
    view: View::Plain(|compiled| value(&Review::of(compiled))),
    table: None,
};

#[derive(Serialize)]
struct Review {
    areas: Vec<delays::AreaRow>,
    ranges: Vec<delays::RangeRow>,
    cross_zones: Vec<delays::CrossRow>,
    doors: Vec<delays::DoorRow>,
    /// How the ways were reckoned.
    reckoned: String,
    causes: Vec<causes::Row>,
    bedrooms: Vec<heard::Row>,
    /// What counts there.
    counted: String,
    /// Sounders that no bedroom counts, with the reason.
    not_counted: Vec<String>,
}

impl Review {
    fn of(compiled: &Compiled) -> Self {
        let site = &compiled.site;
        let (bedrooms, not_counted) = heard::rows(site);
        Self {
            areas: delays::areas(site),
            ranges: delays::ranges(site),
            cross_zones: delays::cross_zones(site),
            doors: delays::doors(site, &compiled.doors),
            reckoned: delays::reckoned(),
            causes: causes::rows(compiled),
            counted: if bedrooms.is_empty() { String::new() } else { heard::counted() },
            bedrooms,
            not_counted,
        }
    }
}

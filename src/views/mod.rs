//! Documents as data: model and wiring → one serialisable view a document, in which every value is text as printed.
//!
//! A document is a file here, a template of the same name in `templates/`, and a word in [`DOCUMENTS`]. Views hold
//! plain text; escaping and layout belong to `emit`.

mod accepted;
pub(crate) mod as_built;
pub(crate) mod beside;
pub(crate) mod board_marks;
pub(crate) mod bundles;
pub(crate) mod bus_sheet;
mod cable_marks;
mod closed_holes;
mod colours;
pub(crate) mod commissioning_sheet;
mod conduits;
mod copper;
pub(crate) mod cover;
mod coverage_plan;
mod detection_sheet;
pub(crate) mod device_sketches;
pub mod diagnosis;
pub(crate) mod document;
pub(crate) mod enclosures;
mod ends;
pub mod event_line;
pub(crate) mod false_alarm_review;
mod fault_line;
pub(crate) mod findings;
mod floor_plan;
pub(crate) mod fresh_readings;
pub(crate) mod growth;
mod head;
mod installation_order;
mod label_sheets;
pub(crate) mod loop_figures;
mod loop_marks;
mod loop_path;
pub(crate) mod loop_sheet;
mod materials;
pub mod next_measurement;
pub(crate) mod overview;
pub(crate) mod owners_guide;
pub(crate) mod portfolio;
pub(crate) mod power_sheet;
mod procedure;
pub(crate) mod programming_sheet;
pub mod readers;
pub(crate) mod riser;
mod room_ends;
mod rough_in;
pub mod safety_notes;
mod sheet_lines;
pub(crate) mod site_data;
pub(crate) mod terminal_schedule;
#[cfg(test)]
mod tests;
mod title_block;
mod titles;
pub(crate) mod upkeep;
pub mod why;
pub mod why_supplies;
pub(crate) mod wire_labels;
pub mod work_order;
pub(crate) mod zone_descriptions;

use serde::Serialize;
use serde_json::Value;

pub(crate) use crate::base::natural;
pub use document::{Document, Sheet, Table};
pub(crate) use document::{Drawing, Drawings, Orientation, Shown, View, parts};
pub use head::Head;

/// Every document, in the order of the packet.
pub static DOCUMENTS: &[&Document] = &[
    &cover::DOCUMENT,
    &overview::DOCUMENT,
    &findings::DOCUMENT,
    &floor_plan::DOCUMENT,
    &rough_in::DOCUMENT,
    &terminal_schedule::DOCUMENT,
    &enclosures::DOCUMENT,
    &device_sketches::DOCUMENT,
    &loop_sheet::DOCUMENT,
    &power_sheet::DOCUMENT,
    &bus_sheet::DOCUMENT,
    &wire_labels::DOCUMENT,
    &label_sheets::DOCUMENT,
    &riser::DOCUMENT,
    &bundles::DOCUMENT,
    &materials::DOCUMENT,
    &materials::costs::DOCUMENT,
    &installation_order::DOCUMENT,
    &coverage_plan::DOCUMENT,
    &detection_sheet::DOCUMENT,
    &programming_sheet::DOCUMENT,
    &zone_descriptions::DOCUMENT,
    &false_alarm_review::DOCUMENT,
    &commissioning_sheet::DOCUMENT,
    &as_built::DOCUMENT,
    &loop_figures::DOCUMENT,
    &upkeep::DOCUMENT,
    &owners_guide::DOCUMENT,
    &safety_notes::DOCUMENT,
    &safety_notes::OF_ALARM,
];

/// The documents of a packet, each with its place in it; that of a comparison ends with its work orders.
pub fn packet(of_comparison: bool) -> Vec<(Sheet, &'static Document)> {
    let last: &[&Document] = if of_comparison { &[&work_order::DOCUMENT, &work_order::WIRING] } else { &[] };
    let documents: Vec<&Document> = DOCUMENTS.iter().chain(last).copied().collect();
    let of = documents.len();
    (1..).zip(documents).map(|(number, document)| (Sheet { number, of }, document)).collect()
}

/// A view as the data that templates see. Views are plain structures of text, whose serialising cannot fail.
pub fn value(view: &impl Serialize) -> Value {
    serde_json::to_value(view).unwrap_or_default()
}

/// The template `templates/<name>.md.hbs`.
#[macro_export]
macro_rules! template {
    ($name:literal) => {
        include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/templates/", $name, ".md.hbs"))
    };
}

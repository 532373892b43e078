//! Documents as data: model and wiring → one serialisable view a document, in which every value is text as printed.
//!
//! A document is a file here, a template of the same name in `templates/`, and a word in [`DOCUMENTS`]. Views hold
//! plain text; escaping and layout belong to `emit`.

pub(crate) mod abbreviate;
pub(crate) mod as_built;
pub(crate) mod bus_sheet;
pub(crate) mod commissioning_sheet;
mod copper;
pub(crate) mod cover;
pub mod diagnosis;
mod ends;
mod far_ends;
pub(crate) mod fresh_readings;
pub(crate) mod head;
pub(crate) mod loop_figures;
mod loop_marks;
mod loop_path;
pub(crate) mod loop_sheet;
pub(crate) mod power_sheet;
mod procedure;
pub mod safety_notes;
pub(crate) mod site_data;
pub(crate) mod terminal_schedule;
pub mod why;
pub(crate) mod wire_labels;
pub mod work_order;
pub(crate) mod zone_descriptions;

use crate::compiled::Compiled;

use serde::Serialize;
use serde_json::Value;

pub(crate) use crate::base::natural;
pub use head::Head;

/// A document of the packet.
#[derive(Debug)]
pub struct Document {
    /// Name of its files and of its template.
    pub name: &'static str,
    /// Title on the sheet.
    pub(crate) title: &'static str,
    /// Who it is for and what it tells, for the list on the cover.
    pub(crate) about: &'static str,
    /// Its template.
    pub template: &'static str,
    /// Its view.
    pub view: fn(&Compiled) -> Value,
    /// The table that is also given as a CSV file, where there is one.
    pub table: Option<fn(&Compiled) -> Table>,
}

/// A table as rows of text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The heads of the columns.
    pub columns: Vec<&'static str>,
    /// The rows, each with a cell for every column.
    pub rows: Vec<Vec<String>>,
}

/// Every document, in the order of the cover's list.
pub static DOCUMENTS: &[&Document] = &[
    &cover::DOCUMENT,
    &terminal_schedule::DOCUMENT,
    &loop_sheet::DOCUMENT,
    &power_sheet::DOCUMENT,
    &bus_sheet::DOCUMENT,
    &wire_labels::DOCUMENT,
    &zone_descriptions::DOCUMENT,
    &commissioning_sheet::DOCUMENT,
    &as_built::DOCUMENT,
    &loop_figures::DOCUMENT,
    &safety_notes::DOCUMENT,
];

/// A view as the data that templates see. Views are plain structures of text, whose serialising cannot fail.
pub fn value(view: &impl Serialize) -> Value {
    serde_json::to_value(view).unwrap_or_default()
}

/// The template `templates/<name>.md.hbs`.
#[macro_export]
macro_rules! template {
    ($name:literal) => {
        include_str!(concat!("../../templates/", $name, ".md.hbs"))
    };
}

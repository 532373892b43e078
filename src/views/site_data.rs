//! The site as versioned JSON with its schema, for whatever the owner connects next: the [`record`](crate::record) as
//! text.

use crate::compiled::Compiled;
use crate::diag::json;
use crate::record::Record;

/// The data of a site as text, indented, with a newline at the end.
pub(crate) fn json(compiled: &Compiled) -> String {
    json::print(&Record::with_figures(compiled))
}

/// The schema of the format (JSON Schema 2020-12) as text.
pub(crate) fn schema() -> String {
    json::print(&schemars::schema_for!(Record))
}

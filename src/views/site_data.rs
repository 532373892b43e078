//! The site as versioned JSON with its schema, for whatever the owner connects next: the [`record`](crate::record) as
//! text.

use serde::Serialize;

use crate::compiled::Compiled;
use crate::record::Record;

/// The data of a site as text, indented, with a newline at the end.
pub(crate) fn json(compiled: &Compiled) -> String {
    text(&Record::with_figures(compiled))
}

/// The schema of the format (JSON Schema 2020-12) as text.
pub(crate) fn schema() -> String {
    text(&schemars::schema_for!(Record))
}

/// Plain structures of text and finite numbers: their serialising cannot fail.
fn text(value: &impl Serialize) -> String {
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}

//! Cover: which sheets there are, and what prevails over them. One stands before every packet, with the sheets of that packet.

use serde::Serialize;
use serde_json::Value;

use super::readers::{self, Share};
use super::{Document, Orientation, View, value};
use crate::compiled::Compiled;
use crate::template;

/// The cover.
pub(crate) static DOCUMENT: Document = Document {
    name: "index",
    title: "Cover and index",
    about: "what there is",
    orientation: Orientation::Portrait,
    template: template!("index"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Cover {
    /// A sentence on what is left out, where something is.
    part: String,
    /// Whether sheets differ in who reads them.
    mixed: bool,
    sheets: Vec<Line>,
}

#[derive(Serialize)]
struct Line {
    number: String,
    name: &'static str,
    title: &'static str,
    readers: String,
    about: &'static str,
    table: bool,
}

/// The cover of all sheets.
fn view(_: &Compiled) -> Value {
    let sheets: Vec<&Document> = super::DOCUMENTS.iter().copied().skip(1).collect();
    value(&Cover { part: String::new(), mixed: true, sheets: lines(&sheets) })
}

/// The cover of one reader's packet.
pub(crate) fn of_share(share: &Share) -> Value {
    let reader = share.reader.word();
    let part = format!("This packet holds the sheets for the {reader}, and on purpose no others.");
    value(&Cover { part, mixed: false, sheets: lines(share.sheets) })
}

fn lines(sheets: &[&'static Document]) -> Vec<Line> {
    let line = |(number, document): (usize, &&'static Document)| Line {
        number: number.to_string(),
        name: document.name,
        title: document.title,
        readers: readers::of(document),
        about: document.about,
        table: document.table.is_some(),
    };
    (2..).zip(sheets).map(line).collect()
}

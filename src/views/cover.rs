//! Cover: which sheets there are, and what prevails over them. One stands before every packet, with the sheets of that packet.

use serde::Serialize;
use serde_json::Value;

use super::readers::{self, Share};
use super::{Document, Orientation, View, value};
use crate::compiled::Compiled;
use crate::model::Site;
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
    /// The file of the work order that leads here; empty where there is none.
    order: &'static str,
    /// The title block, two fields a row; empty where they are written by hand.
    block: Vec<Pair>,
    /// Whether sheets differ in who reads them.
    mixed: bool,
    sheets: Vec<Line>,
}

/// Two fields of the title block: what they are called, and what they say.
#[derive(Serialize)]
struct Pair {
    left: &'static str,
    left_says: String,
    right: &'static str,
    right_says: String,
}

#[derive(Serialize)]
struct Line {
    number: String,
    name: &'static str,
    title: &'static str,
    readers: String,
    about: String,
    table: bool,
}

/// The cover of all sheets.
fn view(Compiled { site, .. }: &Compiled) -> Value {
    let sheets: Vec<&Document> = super::DOCUMENTS.iter().copied().skip(1).collect();
    value(&Cover {
        part: String::new(),
        order: "",
        block: block(site, DOCUMENT.title, sheets.len() + 1),
        mixed: true,
        sheets: lines(&sheets),
    })
}

/// The cover of one reader's packet; `of_comparison` where a work order leads to it.
pub(crate) fn of_share(site: &Site, share: &Share, of_comparison: bool) -> Value {
    let reader = share.reader.word();
    let part = format!("This packet holds the sheets for the {reader}, and on purpose no others.");
    // A work order belongs to two revisions, and most packets have none.
    let (apart, orders): (Vec<&'static Document>, Vec<&'static Document>) =
        share.appendix.iter().partition(|document| super::DOCUMENTS.iter().any(|one| one.name == document.name));
    let part = if apart.is_empty() {
        part
    } else {
        format!(
            "{part} What has no number is printed by itself, on request, each from the file of its name beside this one."
        )
    };
    value(&Cover {
        part,
        order: orders.first().filter(|_| of_comparison).map_or("", |order| order.name),
        block: block(site, share.title, share.sheets.len() + 1),
        mixed: false,
        sheets: lines(share.sheets).into_iter().chain(apart.into_iter().map(on_request)).collect(),
    })
}

/// The fields of a title block by ISO 7200 (2004, from memory), as far as the spec knows them.
fn block(site: &Site, document: &str, sheets: usize) -> Vec<Pair> {
    let revision = site.revision.as_ref();
    let mark = revision.map(|revision| revision.mark.clone()).unwrap_or_default();
    let day = revision.and_then(|of| of.date).map(|date| date.value.to_string()).unwrap_or_default();
    let firm = site.house_style.firm.clone().unwrap_or_default();
    let rows = [
        ("title", site.title.clone(), "identification", site.name.value.clone()),
        ("document", document.to_owned(), "sheets", sheets.to_string()),
        ("revision", mark, "date of issue", day),
        ("owner of this document", firm, "made by", String::new()),
        ("approved by", String::new(), "on", String::new()),
    ];
    rows.map(|(left, left_says, right, right_says)| Pair { left, left_says, right, right_says }).into()
}

/// A sheet of a reader that is not in the joined file.
fn on_request(document: &'static Document) -> Line {
    Line { about: format!("{}: {}.html", document.about, document.name), ..line(String::new(), document) }
}

fn lines(sheets: &[&'static Document]) -> Vec<Line> {
    (2_usize..).zip(sheets).map(|(number, document)| line(number.to_string(), document)).collect()
}

fn line(number: String, document: &'static Document) -> Line {
    Line {
        number,
        name: document.name,
        title: document.title,
        readers: readers::of(document),
        about: document.about.to_owned(),
        table: document.table.is_some(),
    }
}

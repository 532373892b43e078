//! Materials: everything that is bought for the site, and which cable is cut from which box.
//!
//! For whoever goes shopping, and for whoever stands before the open boxes; what it costs is a sheet of its own, for not everybody
//! who gets this one is to know it. What is bought is counted by `materials`; what is
//! used up (connectors, labels, fuses) is counted here, from what the other sheets say. Out of scope: what a remodel takes
//! down and mounts again (work order), and what no spec says: mounting boxes, screws, staples, conduit.

pub(crate) mod costs;
mod joints;
mod list;

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::{Document, Orientation, Table, View, value};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::materials::cable::{Lot, Piece, lots};
use crate::materials::goods;
use crate::model::{Board, Site};
use crate::profiles::stock;
use crate::quantity::{Amperes, print};
use crate::register::{End, Lead, OnTerminal};
use crate::words::{self, Paper};
use list::Line;

/// What a work order knows of the two revisions that it is made of.
pub(crate) struct Others<'o> {
    /// The label that the cable of an end in the old revision has now.
    pub(crate) cable: &'o dyn Fn(&str, End) -> String,
    /// Whether both ends of a cable of the new one are landed anew.
    pub(crate) is_anew: &'o dyn Fn(&str) -> bool,
    /// Whether an end of such a cable stays as it was all the same.
    pub(crate) is_kept: &'o dyn Fn(&str, End) -> bool,
    /// The fuses that are fitted.
    pub(crate) fuses: Vec<Amperes>,
    /// Whether the earth conductor of a board of the new one is another.
    pub(crate) is_earthed_anew: &'o dyn Fn(Id<Board>) -> bool,
}

/// Fuses of each size: how many, and what they are called.
pub(crate) fn fuses(of: impl Iterator<Item = Amperes>) -> impl Iterator<Item = (usize, String)> {
    list::alike(of).into_iter().map(|(what, count)| (count, what))
}

/// What a work order uses up beside its goods: fuses that are fitted, earth conductors that are others, a connector for
/// each joint that is made anew, two plugs for each network cable that is, and so many labels.
pub(crate) fn used_up(old: &Compiled, new: &Compiled, labels: usize, others: &Others<'_>) -> Vec<(usize, String)> {
    let fuses = fuses(others.fuses.iter().copied());
    let earths = new.site.boards.entries().filter(|(id, _)| (others.is_earthed_anew)(*id));
    let earths = earths.filter_map(|(_, board)| Some((1, list::earth(board.earth.as_ref()?))));
    let joints = joints::made_anew(old, new, others).into_iter().map(|(joint, count)| (count, list::connector(joint)));
    let plugs = 2 * list::network(new).filter(|cable| (others.is_anew)(&cable.label)).count();
    let one_by_one = [(plugs, list::PLUG.to_owned()), (labels, list::LABEL.to_owned())];
    fuses.chain(earths).chain(joints).chain(one_by_one).filter(|(count, _)| *count > 0).collect()
}

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "materials",
    title: "Materials",
    about: "everything that is bought, by kind, with what is taken to spare; which cable is cut from which box",
    orientation: Orientation::Portrait,
    template: crate::template!("materials"),
    view: View::Plain(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Sheet {
    rows: Vec<Row>,
    cables: Vec<Cut>,
    /// True where some box is assumed.
    assumed: bool,
    /// True where resistors or jacks are taken to be there.
    fitted: bool,
    /// The leads of transformers that are no cable.
    leads: Vec<String>,
    one_in: String,
    resistors: String,
    connectors: String,
    fuses: String,
}

/// A line of the list.
#[derive(Serialize)]
struct Row {
    /// Its kind, in the first row of that kind.
    kind: &'static str,
    what: String,
    count: String,
    unit: String,
    spare: String,
    note: String,
}

/// The cable of one type, box by box.
#[derive(Serialize)]
struct Cut {
    title: String,
    total: String,
    in_box: String,
    assumed: bool,
    boxes: Vec<OneBox>,
}

#[derive(Serialize)]
struct OneBox {
    first: bool,
    /// True of those that no box has.
    reel: bool,
    number: String,
    pieces: Vec<Cable>,
    cut: String,
    left: String,
}

#[derive(Serialize)]
struct Cable {
    label: String,
    length: String,
}

fn view(compiled: &Compiled) -> Value {
    let site = &compiled.site;
    let lots = lots(site, &compiled.wiring);
    let lines = list::lines(compiled, &lots);
    let mut last = None;
    let first_of_kind = |line: Line| {
        let first = last.replace(line.kind) != Some(line.kind);
        row(line, first)
    };
    value(&Sheet {
        rows: lines.into_iter().map(first_of_kind).collect(),
        cables: lots.iter().map(|lot| cut(site, lot)).collect(),
        assumed: lots.iter().any(|lot| lot.assumed),
        fitted: goods::has_fitted_before(site),
        leads: leads(compiled),
        one_in: stock::ONE_IN.to_string(),
        resistors: stock::RESISTORS.to_string(),
        connectors: stock::CONNECTORS.to_string(),
        fuses: stock::FUSES.to_string(),
    })
}

/// "Panel: from AC1 and AC2 to transformer 16.5 V, 40 VA (closet)" for each board on whose terminals such leads are. Those of what
/// was there before are there.
fn leads(compiled: &Compiled) -> Vec<String> {
    let Compiled { site, wiring, .. } = compiled;
    let mut marks: BTreeMap<Id<Board>, Vec<&str>> = BTreeMap::new();
    for ((board, mark), things) in &wiring.terminals {
        let is_new = site.boards[*board].transformer.as_ref().is_some_and(|of| !of.existing);
        if is_new && things.iter().any(|thing| matches!(thing, OnTerminal::Lead(Lead::AcA | Lead::AcB))) {
            marks.entry(*board).or_default().push(mark);
        }
    }
    let told = |(board, marks): (Id<Board>, Vec<&str>)| {
        let transformer = words::transformer(&site.boards[board], false);
        format!("{}: from {} to {transformer}", Paper.board(site, board), list(&marks, "and"))
    };
    marks.into_iter().map(told).collect()
}

fn row(line: Line, first: bool) -> Row {
    let Line { kind, what, name: _, count, unit, spare, note } = line;
    let spare = if spare == 0 { String::new() } else { spare.to_string() };
    Row { kind: if first { kind.word() } else { "" }, what, count: count.to_string(), unit, spare, note }
}

fn cut(site: &Site, lot: &Lot) -> Cut {
    let length = |length| print::length(length, site.lengths);
    let cable = |piece: &Piece| Cable { label: piece.label.clone(), length: length(piece.length) };
    let pieces = |of: &[usize]| of.iter().filter_map(|at| lot.pieces.get(*at)).map(cable).collect();
    let of_box = |(at, of): (usize, &Vec<usize>)| {
        let (cut, left) = (length(lot.length_of(of)), length(lot.left(of)));
        let number = (at + 1).to_string();
        OneBox { first: at == 0, reel: false, number, pieces: pieces(of), cut, left }
    };
    let mut boxes: Vec<OneBox> = lot.plan.boxes.iter().enumerate().map(of_box).collect();
    let longer = &lot.plan.too_long;
    if !longer.is_empty() {
        let cut = length(lot.length_of(longer));
        let (first, number) = (boxes.is_empty(), "reel".to_owned());
        boxes.push(OneBox { first, reel: true, number, pieces: pieces(longer), cut, left: String::new() });
    }
    Cut {
        title: site.cables[lot.kind].described(),
        total: length(lot.length()),
        in_box: length(lot.in_box),
        assumed: lot.assumed,
        boxes,
    }
}

fn table(compiled: &Compiled) -> Table {
    let columns = vec!["kind", "what", "how many", "unit", "spare", "note"];
    let lines = list::lines(compiled, &lots(&compiled.site, &compiled.wiring));
    let rows = lines.into_iter().map(|line| {
        let Row { kind, what, count, unit, spare, note } = row(line, true);
        vec![kind.to_owned(), what, count, unit, spare, note]
    });
    Table { columns, rows: rows.collect() }
}

//! A part that gives one mark to two terminals.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Span;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{MarkWritten, Part};

check!("terminal-repeated", Basis::Contradiction, "a part that lists one terminal twice, or gives one to two things");

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in &context.site.parts {
        listed_twice(part, sink);
        given_twice(part, sink);
    }
}

fn listed_twice(part: &Part, sink: &mut Sink) {
    let mut first: BTreeMap<&str, Span> = BTreeMap::new();
    for mark in &part.terminals {
        let Some(before) = first.get(mark.value.as_str()) else {
            first.insert(&mark.value, mark.span);
            continue;
        };
        let title = format!("part `{}` lists terminal `{}` twice", part.name.value, mark.value);
        sink.push(
            Diagnostic::new(&RULE, mark.span, title)
                .here("here again")
                .also(*before, "listed here")
                .why("The list gives the terminals in the order in which they are on the board. A mark that stands there twice would be printed as two screws, and one of them is not there.")
                .help("Read the marks off the board again, and write each once.")
                .about(&part.name.value),
        );
    }
}

fn given_twice(part: &Part, sink: &mut Sink) {
    let mut told: BTreeSet<&str> = BTreeSet::new();
    let mut earlier: BTreeMap<&str, Vec<&MarkWritten>> = BTreeMap::new();
    for written in &part.marks {
        let mark = written.mark.value.as_str();
        let before = earlier.entry(mark).or_default();
        let clash = before.iter().find(|other| clash(other, written) || is_same_pair(part, other, written));
        if let Some(other) = clash
            && told.insert(mark)
        {
            let title = format!("part `{}` gives terminal `{mark}` to two things", part.name.value);
            sink.push(
                Diagnostic::new(&RULE, written.mark.span, title)
                    .here(said(written))
                    .also(other.mark.span, said(other))
                    .why("What is landed by the paper would be joined at one screw: a supply shorted, two loops read as one, or a cable at a terminal that does something else.")
                    .help(format!("Read both marks off the board again, and correct the one that is wrong. Where two screws really carry one mark, number them in their order, as `{mark}-1` and `{mark}-2`."))
                    .about(&part.name.value),
            );
        }
        before.push(written);
    }
}

/// "the `negative` of output `aux`".
fn said(written: &MarkWritten) -> String {
    let name = written.name.as_ref().map(|name| format!(" `{name}`")).unwrap_or_default();
    format!("{}= of {}{name}", written.field, written.node)
}

/// What a terminal is to the others, as far as two may be one screw.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    /// The positive of a supply.
    Plus,
    /// What is joined to the negative, or may be: negatives, returns, shield and earth.
    Minus,
    /// A loop's return, which some boards join to a positive.
    Return,
    /// A data conductor of a bus, which two ports may share.
    Data(&'static str),
    /// Its own screw always.
    Alone,
    /// A relay's contact or what the sheet calls by another purpose: may be joined on the board.
    Joined,
    /// What a transistor pulls: the screw of an output, or its own.
    Pulled,
    /// A relay's common.
    Common,
    /// Of a device: its own terminals, held against each other only.
    Device,
}

fn side(written: &MarkWritten) -> Side {
    match (written.node, written.field) {
        ("output" | "battery-port", "positive") | ("bus-port", "plus") => Side::Plus,
        ("output" | "battery-port", "negative") | ("bus-port", "minus" | "shield") | ("earth-terminal", _) => {
            Side::Minus
        }
        ("input", "return") => Side::Return,
        ("bus-port", field) => Side::Data(field),
        ("input" | "line-port" | "ac-port", _) => Side::Alone,
        ("transistor", _) => Side::Pulled,
        ("relay", "common") => Side::Common,
        ("relay" | "fault-contact" | "terminal", _) => Side::Joined,
        _ => Side::Device,
    }
}

/// True where two terminals of one mark cannot be one screw.
fn clash(one: &MarkWritten, other: &MarkWritten) -> bool {
    if one.of == other.of {
        return !matches!((one.field, other.field), ("minus", "shield") | ("shield", "minus"));
    }
    let pair = [(side(one), side(other)), (side(other), side(one))];
    pair.into_iter().any(|pair| match pair {
        (Side::Device, _) | (_, Side::Device) => false,
        (Side::Data(one), Side::Data(other)) => one != other,
        (Side::Alone | Side::Data(_), _) => true,
        (Side::Plus, Side::Minus) => true,
        (Side::Pulled, Side::Pulled | Side::Common | Side::Return) => true,
        _ => false,
    })
}

/// True where two outputs have the same pair of terminals: the second mark of the second one tells it.
fn is_same_pair(part: &Part, one: &MarkWritten, other: &MarkWritten) -> bool {
    let pair = |of: usize| -> Vec<&str> {
        let own = part.marks.iter().filter(move |written| written.of == of && written.node == "output");
        let mut marks: Vec<&str> = own.map(|written| written.mark.value.as_str()).collect();
        marks.sort_unstable();
        marks
    };
    one.node == "output" && other.node == "output" && one.field == "positive" && pair(one.of) == pair(other.of)
}

//! The leads that power and earth a board, in words.

use crate::base::{Id, Spanned};
use crate::model::{Battery, Board, Site};
use crate::quantity::{Amperes, Colour};
use crate::register::Lead;
use crate::terms::Bank;

/// Behind everything that a law may keep for a trade.
const LICENSED: &str = "work for a licensed electrician where the law says so";

/// A lead under a screw.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct LeadWords {
    /// What it is: "battery lead".
    pub(crate) what: &'static str,
    /// Its colour and size; empty where the spec gives neither.
    pub(crate) conductor: String,
    /// Its colour.
    pub(crate) colour: Option<Colour>,
    /// Whether a fuse is in it.
    pub(crate) fused: bool,
    /// What it does.
    pub(crate) function: &'static str,
    /// Where it goes.
    pub(crate) goes: String,
}

/// A lead of a board.
pub(crate) fn lead(site: &Site, board: Id<Board>, lead: Lead) -> LeadWords {
    let board = &site.boards[board];
    match lead {
        Lead::AcA => ac(board, "AC supply A", true),
        Lead::AcB => ac(board, "AC supply B", false),
        Lead::BatteryPositive => battery(board, true),
        Lead::BatteryNegative => battery(board, false),
        Lead::Earth => earth(board),
    }
}

/// What a cable to the transformer of a board ends at: "transformer 16.5 V, 60 VA (plant room), fuse 2 A".
/// A fuse is one, and told at the first of its two leads.
pub(crate) fn transformer(board: &Board, first: bool) -> String {
    let Some(transformer) = &board.transformer else { return String::new() };
    let fused = if first { fuse(transformer.fuse.as_ref()) } else { String::new() };
    let outlet = transformer.outlet.as_ref().map(|outlet| format!(" ({outlet})")).unwrap_or_default();
    let (volts, rating) = (transformer.volts.value, transformer.rating.value);
    format!("transformer {}, {rating}{outlet}{fused}", super::rated(volts))
}

fn ac(board: &Board, function: &'static str, first: bool) -> LeadWords {
    let fused = first && board.transformer.as_ref().is_some_and(|transformer| transformer.fuse.is_some());
    let goes = transformer(board, first);
    LeadWords { what: "lead", conductor: String::new(), colour: None, fused, function, goes }
}

fn battery(board: &Board, positive: bool) -> LeadWords {
    let Some(battery) = &board.battery else { return LeadWords::default() };
    let (function, colour, sign) =
        if positive { ("battery +", &battery.positive, "+") } else { ("battery −", &battery.negative, "−") };
    let colour = colour.as_ref().map(|colour| colour.value);
    let size = super::battery(battery);
    let fused = if positive { fuse(battery.fuse.as_ref()) } else { String::new() };
    let goes = format!("{}, {size}{fused}", bank_end(battery, positive, sign));
    let conductor = colour.map(coloured).unwrap_or_default();
    LeadWords { what: "battery lead", conductor, colour, fused: positive && battery.fuse.is_some(), function, goes }
}

/// Which battery a lead goes to, and how the others are joined.
fn bank_end(battery: &Battery, positive: bool, sign: &str) -> String {
    let total = battery.total();
    // Never a sign in front: a spreadsheet would take it for the start of a formula.
    let end = match battery.wired.as_ref().map(|wired| wired.value) {
        _ if total == 1 => format!("{sign} of the battery"),
        Some(Bank::Series) if positive => format!("+ of battery 1; − of each to + of the next up to {total}"),
        Some(Bank::Series) => format!("− of battery {total}"),
        Some(Bank::Parallel) if total == 2 => format!("{sign} of both batteries, {sign} joined to {sign}"),
        Some(Bank::Parallel) => format!("{sign} of all {total} batteries, {sign} joined to {sign}"),
        Some(Bank::SeriesPairs) => {
            let first = if positive { "first" } else { "second" };
            format!("{sign} of the {first} battery of each pair; in a pair − of the first to + of the second")
        }
        None => format!("{sign} of the {total} batteries; how they are wired is not in the spec"),
    };
    format!("terminal {end}")
}

fn earth(board: &Board) -> LeadWords {
    let Some(earth) = &board.earth else { return LeadWords::default() };
    let colour = earth.shown_colour();
    LeadWords {
        what: "earth conductor",
        conductor: format!("{}, {}", coloured(colour), earth.size),
        colour: Some(colour),
        fused: false,
        function: "earth",
        goes: format!("{}: {LICENSED}", earth.to.value),
    }
}

fn coloured(colour: Colour) -> String {
    format!("{} {}", colour.code(), colour.name())
}

fn fuse(fuse: Option<&Spanned<Amperes>>) -> String {
    fuse.map(|fuse| format!(", fuse {}", fuse.value)).unwrap_or_default()
}

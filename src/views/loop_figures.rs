//! Loop figures: how each usual figure of the loop sheet is computed, for the reader who wants to check it.
//!
//! A zone is two tables: its elements with formula, source and place in the spec, and how they add up in each state.
//! Places are paths as the spec names them, so the sheet is the same wherever the program was started.

use serde::Serialize;
use serde_json::Value;

use super::why::{self, ElementTrail, StateTrail};
use super::{Document, Orientation, View, loop_marks, value};
use crate::base::{Id, SourceFile};
use crate::compiled::Compiled;
use crate::model::Zone;
use crate::template;

/// The loop figures.
pub(crate) static DOCUMENT: Document = Document {
    name: "loop-figures",
    title: "How the loop figures are computed",
    about: "every figure of the loop sheet with its formula, source and place in the spec",
    orientation: Orientation::Landscape,
    template: template!("loop-figures"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Figures {
    remarks: Vec<String>,
    zones: Vec<Section>,
}

#[derive(Serialize)]
struct Section {
    mark: String,
    number: String,
    description: String,
    input: String,
    sensing: String,
    /// Volts at the terminals; empty where the board's sensing is not known.
    divider: String,
    elements: Vec<ElementRow>,
    states: Vec<StateRow>,
    /// What is said of states that have no row; empty where all have.
    more: String,
}

#[derive(Serialize)]
struct ElementRow {
    mark: String,
    what: String,
    formula: String,
    ohms: String,
    source: String,
    place: String,
}

#[derive(Serialize)]
struct StateRow {
    mark: String,
    state: String,
    sum: String,
    ohms: String,
    volts: String,
    reads: String,
}

fn view(compiled: &Compiled) -> Value {
    let zones = compiled.site.zones.entries().filter_map(|(id, _)| section(compiled, id)).collect();
    value(&Figures { remarks: why::common_remarks(), zones })
}

fn in_site(file: &SourceFile) -> &str {
    &file.in_site
}

fn section(compiled: &Compiled, id: Id<Zone>) -> Option<Section> {
    let why = why::of(compiled, id, in_site, loop_marks::MOST_STATES)?;
    let number = why.zone;
    let all = compiled.loops.get(&id)?.states.len();
    let more = match all.saturating_sub(why.states.len()) {
        0 => String::new(),
        left => format!("{left} more: “loopwright why” with zone={number} unfolds them."),
    };
    Some(Section {
        mark: loop_marks::zone(number),
        number: number.to_string(),
        description: why.description,
        input: why.input,
        sensing: why::sensing_remark(compiled, id, in_site).unwrap_or_default(),
        divider: why::divider(&compiled.site, id).unwrap_or_default(),
        elements: why.elements.into_iter().map(element).collect(),
        states: why.states.into_iter().enumerate().map(|(at, trail)| state(number, at, trail)).collect(),
        more,
    })
}

fn element(trail: ElementTrail) -> ElementRow {
    ElementRow {
        mark: trail.mark,
        what: trail.what,
        formula: trail.formula,
        ohms: trail.result,
        source: trail.source,
        place: trail.place,
    }
}

fn state(number: u32, position: usize, trail: StateTrail) -> StateRow {
    StateRow {
        mark: loop_marks::state(number, position),
        state: trail.state,
        sum: trail.ohms_formula,
        ohms: trail.ohms_result,
        volts: trail.volts_result,
        reads: trail.reads,
    }
}

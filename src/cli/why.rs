//! `loopwright why`: how the figures of a zone's loop are computed.

use std::fmt::Write;
use std::path::Path;

use super::screen::Screen;
use super::{Exit, Stop, question};
use crate::diag::neutral::words;
use crate::diag::{Format, Look, json};
use crate::session::{self, Why};

/// Prints the trail of a zone's loop.
pub(super) fn run(screen: &mut Screen, path: &Path, zone: u32) -> Result<Exit, Stop> {
    question::ask(
        screen,
        path,
        zone,
        |files| session::why(files, zone),
        |screen, why| match screen.format {
            Format::Human(look) => look.fit(&for_people(look, why)),
            Format::Short => lines(why),
            Format::Json => json::print(why),
        },
    )
}

fn for_people(look: Look, why: &Why) -> String {
    let mut text = heading(look, why.zone, &why.description, &why.input);
    let widest = why.elements.iter().map(|element| element.mark.len()).max().unwrap_or(0);
    for element in &why.elements {
        let _ = writeln!(text, "\n  {:widest$}  {}: {}", element.mark, words(&element.what), element.result);
        for line in [&element.formula, &element.source, &element.place] {
            let _ = writeln!(text, "  {:widest$}  {}", "", words(line));
        }
    }
    for state in &why.states {
        let _ = writeln!(text, "\n{}", look.heading(&words(&state.state)));
        let _ = writeln!(text, "  R = {} = {}", state.ohms_formula, state.ohms_result);
        if !state.volts_formula.is_empty() {
            let _ = writeln!(text, "  V = {} = {}", state.volts_formula, state.volts_result);
        }
        let _ = writeln!(text, "  board reads {}", state.reads);
    }
    text.push('\n');
    for remark in &why.remarks {
        let _ = writeln!(text, "{}", words(remark));
    }
    text
}

/// One line for each element and each state.
fn lines(why: &Why) -> String {
    let mut text = String::new();
    for element in &why.elements {
        let (place, what) = (words(&element.place), words(&element.what));
        let _ = writeln!(text, "{place}: {}: {what}: {} = {}", element.mark, element.formula, element.result);
    }
    for state in &why.states {
        let _ = write!(text, "{}: R = {} = {}", words(&state.state), state.ohms_formula, state.ohms_result);
        if !state.volts_formula.is_empty() {
            let _ = write!(text, "; V = {} = {}", state.volts_formula, state.volts_result);
        }
        let _ = writeln!(text, "; board reads {}", state.reads);
    }
    text
}

/// "Zone 7, Garden door (Panel, input 7)".
pub(super) fn heading(look: Look, zone: u32, description: &str, input: &str) -> String {
    let input = if input.is_empty() { String::new() } else { format!(" ({})", words(input)) };
    format!("{}{input}\n", look.heading(&format!("Zone {zone}, {}", words(description))))
}

//! `loopwright why`: how the figures of a loop, a supply, a battery or a bus are computed.

use std::fmt::Write;
use std::path::Path;

use super::arguments::Subject;
use super::screen::Screen;
use super::{Exit, Stop, question};
use crate::diag::neutral::words;
use crate::diag::{Format, Look, json};
use crate::resolve::load::FileSource;
use crate::session::{self, Asked, Figures, Why};

/// Prints how the figures are computed.
pub(super) fn run(screen: &mut Screen, path: &Path, of: &Subject) -> Result<Exit, Stop> {
    match of {
        Subject::Zone(zone) => of_zone(screen, path, *zone),
        Subject::Supply(name) => {
            of_others(screen, path, &format!("supply {name}"), |files| session::why_supply(files, name))
        }
        Subject::Battery(name) => {
            of_others(screen, path, &format!("battery {name}"), |files| session::why_battery(files, name))
        }
        Subject::Bus(name) => of_others(screen, path, &format!("bus {name}"), |files| session::why_bus(files, name)),
    }
}

fn of_others(
    screen: &mut Screen,
    path: &Path,
    of: &str,
    asked: impl Fn(&dyn FileSource) -> Asked<Figures>,
) -> Result<Exit, Stop> {
    question::ask(screen, path, of, asked, |screen, found| match screen.format {
        Format::Human(look) => look.fit(&figures(look, found)),
        Format::Short => figure_lines(found),
        Format::Json => json::print(found),
    })
}

fn figures(look: Look, found: &Figures) -> String {
    let mut of = words(&found.of);
    of.get_mut(..1).map(str::make_ascii_uppercase);
    let mut text = format!("{}\n", look.heading(&of));
    for figure in &found.figures {
        let _ = writeln!(text, "\n  {}: {}", words(&figure.what), words(&figure.result));
        for line in [&figure.formula, &figure.source, &figure.place].into_iter().filter(|line| !line.is_empty()) {
            let _ = writeln!(text, "    {}", words(line));
        }
    }
    text
}

/// One line for each figure.
fn figure_lines(found: &Figures) -> String {
    let mut text = String::new();
    for figure in &found.figures {
        let place = if figure.place.is_empty() { String::new() } else { format!("{}: ", words(&figure.place)) };
        let formula = if figure.formula.is_empty() { String::new() } else { format!("{}: ", words(&figure.formula)) };
        let _ = writeln!(text, "{place}{}: {formula}{}", words(&figure.what), words(&figure.result));
    }
    text
}

/// Prints the trail of a zone's loop.
fn of_zone(screen: &mut Screen, path: &Path, zone: u32) -> Result<Exit, Stop> {
    question::ask(
        screen,
        path,
        &format!("zone {zone}"),
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

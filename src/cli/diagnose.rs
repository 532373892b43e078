//! `loopwright diagnose`: what a meter's reading of a zone's loop means.

use std::fmt::Write;
use std::path::Path;

use super::screen::Screen;
use super::{Exit, Stop, question, why};
use crate::diag::neutral::words;
use crate::diag::{Format, Look, json};
use crate::session::{self, Diagnosis, Step};

/// Prints what a reading means, in ohms where they are given, else in volts.
pub(super) fn run(
    screen: &mut Screen,
    path: &Path,
    zone: u32,
    ohms: Option<f64>,
    volts: Option<f64>,
) -> Result<Exit, Stop> {
    let asked = |files: &dyn crate::resolve::load::FileSource| match ohms {
        Some(ohms) => session::diagnose_ohms(files, zone, ohms),
        None => session::diagnose_volts(files, zone, volts.unwrap_or_default()),
    };
    question::ask(screen, path, &format!("zone {zone}"), asked, |screen, found| match screen.format {
        Format::Human(look) => look.fit(&for_people(look, found)),
        Format::Short => lines(found),
        Format::Json => json::print(found),
    })
}

fn for_people(look: Look, found: &Diagnosis) -> String {
    let mut text = why::heading(look, found.zone, &found.description, &found.input);
    let _ = writeln!(text, "Measured: {}", words(&found.measured));
    let mut part = |title: &str, lines: Vec<&String>| {
        if !lines.is_empty() {
            let _ = writeln!(text, "\n{}", look.heading(title));
            for line in lines {
                let _ = writeln!(text, "  {}", words(line));
            }
        }
    };
    part("It fits", found.fits.iter().map(|line| &line.text).collect());
    part("It fits no state; the nearest are", found.nearest.iter().map(|line| &line.text).collect());
    let title = if found.fits.is_empty() { "It would be explained by" } else { "It would also be explained by" };
    part(title, found.faults.iter().map(|line| &line.text).collect());
    if !found.next.is_empty() {
        let _ = writeln!(text, "\n{}\n  {}", look.heading("Measure next"), words(&found.how));
    }
    for step in &found.next {
        let _ = writeln!(text, "  {}. {}", step.number, words(&step.measure));
        for line in outcomes(step) {
            let _ = writeln!(text, "     {line}");
        }
    }
    text
}

/// What a step may show, and what follows from it.
fn outcomes(step: &Step) -> Vec<String> {
    let line = |shown: String, said: &str| match (said, shown.as_str()) {
        ("", _) => None,
        (said, "") => Some(words(said)),
        (said, shown) => Some(format!("{shown}: {}", words(said))),
    };
    let right = if step.right.is_empty() { String::new() } else { format!("{} is right", step.right) };
    let only = step.right.is_empty() && step.if_right.is_empty();
    let not = if only { String::new() } else { "else".to_owned() };
    [line(right, &step.if_right), line(not, &step.if_not)].into_iter().flatten().collect()
}

fn lines(found: &Diagnosis) -> String {
    let mut text = String::new();
    let parts = [("fits", &found.fits), ("nearest", &found.nearest)];
    for (word, line) in parts.iter().flat_map(|(word, lines)| lines.iter().map(move |line| (word, line))) {
        let _ = writeln!(text, "{word}: {}", words(&line.text));
    }
    for line in &found.faults {
        let _ = writeln!(text, "{}: {}", line.fault, words(&line.text));
    }
    if !found.next.is_empty() {
        let _ = writeln!(text, "steps: {}", words(&found.how));
    }
    for step in &found.next {
        let _ = writeln!(text, "step {}: {}; {}", step.number, words(&step.measure), outcomes(step).join("; "));
    }
    text
}

//! Findings word for word: titles, labels, figures and help.
//!
//! `pages.txt` holds what is said of every rule's bad example. Beside it, `<topic>.kdl` holds specs that take the other ways
//! through the checks, each behind a line `// spec: what it shows`, and `<topic>.txt` what is said of each. They have the
//! header and the shared parts of the pages' examples.

use std::borrow::Borrow;
use std::fmt::Write;

use loopwright::diag::{self, Format, Look};
use loopwright::resolve::load::MemoryFiles;
use loopwright::session::{self, Outcome};

use crate::golden;
use crate::pages::{HEADER, PARTS, bad_examples};

const TOPICS: &[(&str, &str)] = &[
    ("battery", include_str!("battery.kdl")),
    ("bus", include_str!("bus.kdl")),
    ("cables", include_str!("cables.kdl")),
    ("loops", include_str!("loops.kdl")),
    ("names", include_str!("names.kdl")),
    ("readings", include_str!("readings.kdl")),
    ("supply", include_str!("supply.kdl")),
    ("zones", include_str!("zones.kdl")),
];

/// A heading for every outcome, and what is said of it.
fn told<'n>(outcomes: impl Iterator<Item = (&'n str, impl Borrow<Outcome>)>) -> String {
    let mut told = String::new();
    for (name, outcome) in outcomes {
        let outcome = outcome.borrow();
        let text = diag::render(Format::Human(Look::PLAIN), &outcome.sources, &outcome.diagnostics, 1000);
        writeln!(told, "# {name}\n\n{}\n", text.trim_end()).unwrap();
    }
    told
}

fn outcome_of(spec: &str) -> Outcome {
    let files = [("site.kdl", format!("{HEADER}{spec}")), ("../parts/example.kdl", PARTS.to_owned())];
    session::check(&MemoryFiles(files.map(|(name, text)| (name.to_owned(), text.into_bytes())).into()))
}

#[test]
fn every_finding_is_told_as_before() {
    let mut wrong: Vec<String> = Vec::new();
    let pages = told(bad_examples().iter().map(|(slug, outcome)| (*slug, outcome)));
    wrong.extend(golden::compare("tests/told/pages.txt", pages.as_bytes()).err());
    for (topic, specs) in TOPICS {
        let specs = specs.split("// spec: ").skip(1).map(|spec| spec.split_once('\n').unwrap());
        let text = told(specs.map(|(name, spec)| (name, outcome_of(spec))));
        wrong.extend(golden::compare(&format!("tests/told/{topic}.txt"), text.as_bytes()).err());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

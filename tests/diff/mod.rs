//! The comparison of two sites: its laws, what counts as a fact, what is one thing under two names.

mod apply;
mod fields;
mod house;
mod identity;
mod laws;

use std::fs;
use std::path::Path;

use loopwright::base::Sources;
use loopwright::compiled::Compiled;
use loopwright::diag::Sink;
use loopwright::diff::{Apart, Comparison, Diff, Facts, compare, facts, of_facts};
use loopwright::model::Site;
use loopwright::register::{self, Register, Wiring};
use loopwright::resolve::load::{MemoryFiles, SITE_FILE};
use loopwright::resolve::resolve;

/// The files of a site with the example parts beside it.
fn files(own: &[(&str, &str)]) -> MemoryFiles {
    let parts = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pages/example.kdl")).unwrap();
    let own = own.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec()));
    MemoryFiles(own.chain([("../parts/example.kdl".to_owned(), parts)]).collect())
}

/// A site with its wiring, errors or not.
fn read(files: &MemoryFiles) -> (Site, Wiring) {
    let site = resolve(files, &mut Sink::default()).site.expect("a site");
    let wiring = register::keep(&site, &Register::default()).wiring;
    (site, wiring)
}

fn read_text(text: &str) -> (Site, Wiring) {
    read(&files(&[(SITE_FILE, text)]))
}

fn facts_of((site, wiring): &(Site, Wiring)) -> Facts {
    facts::of(site, wiring)
}

fn diff(old: &str, new: &str) -> Diff {
    of_facts(&facts_of(&read_text(old)), &facts_of(&read_text(new)), &Apart::default())
}

fn whole(old: &str, new: &str) -> Comparison {
    let compiled = |text| {
        let (site, wiring) = read_text(text);
        Compiled::new(site, wiring, Sources::default())
    };
    compare(&compiled(old), &compiled(new))
}

/// The changes in few words: "Added zone 7 Garden door", "Moved zone 3 …: input".
fn said(diff: &Diff) -> Vec<String> {
    let line = |change: &loopwright::diff::Change| {
        let fields: Vec<&str> = change.fields.iter().map(|field| field.field.as_str()).collect();
        let fields = if fields.is_empty() { String::new() } else { format!(": {}", fields.join(", ")) };
        format!("{:?} {}{fields}", change.what(), change.thing().unwrap().said)
    };
    diff.changes.iter().map(line).collect()
}

/// Top-level nodes of a text, each with the lines that belong to it.
fn nodes(text: &str) -> Vec<String> {
    let mut nodes: Vec<String> = Vec::new();
    for line in text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with("//")) {
        match nodes.last_mut() {
            Some(last) if line.starts_with([' ', '}']) => {
                last.push('\n');
                last.push_str(line);
            }
            _ => nodes.push(line.to_owned()),
        }
    }
    nodes
}

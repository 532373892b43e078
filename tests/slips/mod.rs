//! The slips that people make when they write a spec, and what is told of each: one finding, the right one.
//!
//! How a slip is written down stands in `README.md` beside this file, with the share that is right. A slip that is told
//! wrong today is named in `known-wrong`, with the reason; a new one fails.

mod read;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;

use loopwright::diag::{self, Format};
use loopwright::resolve::load::MemoryFiles;
use loopwright::session;
use serde::Deserialize;

use crate::golden::root;
use read::{Site, Slip, base, slips};

/// The share that must be right, in percent: what is reached.
const LEAST: usize = 95;

#[derive(Deserialize)]
struct Report {
    diagnostics: Vec<Finding>,
}

#[derive(Deserialize)]
struct Finding {
    rule: String,
    title: String,
    labels: Vec<Place>,
    paragraph: String,
    figures: Vec<String>,
    help: String,
    fix: Option<Change>,
}

#[derive(Deserialize)]
struct Change {
    edits: Vec<Replacement>,
}

#[derive(Deserialize)]
struct Replacement {
    path: String,
    start: Position,
    end: Position,
    text: String,
}

#[derive(Deserialize)]
struct Place {
    path: String,
    start: Position,
    end: Position,
}

#[derive(Deserialize)]
struct Position {
    byte: usize,
}

fn files_of(site: &Site) -> MemoryFiles {
    MemoryFiles(site.iter().map(|(name, text)| (name.clone(), text.clone().into_bytes())).collect())
}

/// What is found in a site, as programs are told.
fn found(site: &Site) -> Vec<Finding> {
    let outcome = session::check(&files_of(site));
    let text = diag::render(Format::Json, &outcome.sources, &outcome.diagnostics, 1000);
    serde_json::from_str::<Report>(&text).unwrap().diagnostics
}

impl Finding {
    /// The text under its first label.
    fn under<'s>(&self, site: &'s Site) -> &'s str {
        let text = self.labels.first().and_then(|place| site.get(&place.path)?.get(place.start.byte..place.end.byte));
        text.unwrap_or_default()
    }

    fn shown(&self, site: &Site) -> String {
        format!("      {} at {:?}: {}\n         help: {}\n", self.rule, self.under(site), self.title, self.help)
    }
}

/// A text without the quotes and blanks around it.
fn plain(text: &str) -> &str {
    text.trim_matches(['"', ' '])
}

/// The site with the slip in it.
fn with(slip: &Slip, mut site: Site) -> Site {
    let at = format!("tests/slips/{}.txt: {}", slip.topic, slip.title);
    let text = site.get_mut(&slip.file).unwrap_or_else(|| panic!("{at}: its base has no file {}", slip.file));
    assert_eq!(text.matches(&slip.old).count(), 1, "{at}: the old text must stand once in {}", slip.file);
    *text = text.replacen(&slip.old, &slip.new, 1);
    site
}

/// What is still found when the edits of a finding have been made.
fn left(finding: &Finding, mut site: Site) -> String {
    let Some(Change { edits }) = &finding.fix else { return "it has none\n".to_owned() };
    let mut edits: Vec<&Replacement> = edits.iter().collect();
    // From the end of each file, so that the places before stay where they are.
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.start.byte));
    for edit in edits {
        site.get_mut(&edit.path).unwrap().replace_range(edit.start.byte..edit.end.byte, &edit.text);
    }
    found(&site).iter().take(3).map(|finding| finding.shown(&site)).collect()
}

/// What is not as the slip wants it; empty where all is.
fn judged(slip: &Slip, site: &Site) -> String {
    let findings = found(site);
    let mut wrong = String::new();
    let Some(first) = findings.first() else { return "      nothing is found\n".to_owned() };
    if findings.len() > 1 {
        writeln!(wrong, "      {} findings instead of one", findings.len()).unwrap();
    }
    if first.rule != slip.rule {
        writeln!(wrong, "      the rule must be {}", slip.rule).unwrap();
    }
    // A label may cover a value with its unit or without, a node or its name.
    let (under, at) = (plain(first.under(site)), plain(&slip.at));
    if under != at && (under.is_empty() || at.is_empty() || !under.contains(at) && !at.contains(under)) {
        writeln!(wrong, "      it must stand at {:?}", slip.at).unwrap();
    }
    for words in slip.help.iter().filter(|words| !first.help.contains(*words)) {
        writeln!(wrong, "      its help must have {words:?}").unwrap();
    }
    let said = format!("{} {} {}", first.paragraph, first.figures.join(" "), first.help);
    for words in slip.says.iter().filter(|words| !said.contains(*words)) {
        writeln!(wrong, "      it must say {words:?}").unwrap();
    }
    for words in slip.not.iter().filter(|words| first.help.contains(*words)) {
        writeln!(wrong, "      its help must not have {words:?}").unwrap();
    }
    if wrong.is_empty() && slip.mends {
        let left = left(first, site.clone());
        if !left.is_empty() {
            writeln!(wrong, "      the edits do not mend it: {}", left.trim()).unwrap();
        }
    }
    if !wrong.is_empty() {
        wrong.extend(findings.iter().take(4).map(|finding| finding.shown(site)));
    }
    wrong
}

/// The slips that are known to be told wrong: a line each, `topic: what kind of slip = why`.
fn known() -> BTreeSet<String> {
    let text = fs::read_to_string(root().join("tests/slips/known-wrong")).unwrap();
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(|line| line.split_once(" = ").unwrap_or_else(|| panic!("no reason: {line}")).0.to_owned()).collect()
}

#[test]
fn the_bases_have_no_findings() {
    let bases: BTreeSet<String> = slips().into_iter().map(|slip| slip.base).collect();
    for name in bases {
        let site = base(&name);
        let findings: String = found(&site).iter().map(|finding| finding.shown(&site)).collect();
        assert!(findings.is_empty(), "tests/slips/{name}:\n{findings}");
    }
}

/// What is not as it should be of each slip, in their order; the slips are shared out among the processor's cores.
fn all_judged(slips: &[Slip]) -> Vec<String> {
    let names: BTreeSet<&str> = slips.iter().map(|slip| slip.base.as_str()).collect();
    let bases: BTreeMap<&str, Site> = names.into_iter().map(|name| (name, base(name))).collect();
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let judge = |slip: &Slip| judged(slip, &with(slip, bases[slip.base.as_str()].clone()));
    std::thread::scope(|scope| {
        let shares = slips.chunks(slips.len().div_ceil(cores).max(1));
        let threads: Vec<_> = shares.map(|share| scope.spawn(|| share.iter().map(judge).collect::<Vec<_>>())).collect();
        threads.into_iter().flat_map(|thread| thread.join().unwrap()).collect()
    })
}

#[test]
fn slips_get_the_one_finding_that_names_them() {
    let (slips, mut known) = (slips(), known());
    let mut topics: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    let (mut names, mut wrong, mut fresh) = (BTreeSet::new(), String::new(), 0);
    for (slip, fault) in slips.iter().zip(all_judged(&slips)) {
        let name = format!("{}: {}", slip.topic, slip.title);
        let (right, all) = topics.entry(&slip.topic).or_default();
        *all += 1;
        *right += usize::from(fault.is_empty());
        let was_known = known.remove(&name);
        if fault.is_empty() && was_known {
            writeln!(wrong, "   {name}: is right now, take it out of known-wrong").unwrap();
            fresh += 1;
        } else if !fault.is_empty() {
            let mark = if was_known { "known" } else { "NEW" };
            writeln!(wrong, "   {mark}: {name}\n{fault}").unwrap();
            fresh += usize::from(!was_known);
        }
        assert!(names.insert(name.clone()), "two slips are called so: {name}");
    }
    let mut table = String::from("| topic | slips | right |\n| --- | --- | --- |\n");
    for (topic, (right, all)) in &topics {
        writeln!(table, "| {topic} | {all} | {right} |").unwrap();
    }
    let right: usize = topics.values().map(|(right, _)| right).sum();
    let all = slips.len();
    let share = right * 100 / all;
    writeln!(table, "| all | {all} | {right}, {share} % |").unwrap();
    println!("{wrong}\n{table}");
    assert!(known.is_empty(), "no slip is called so: {known:?}");
    assert!(
        fresh == 0 && share >= LEAST,
        "{fresh} that are not as known-wrong says, {share} % are right\n{wrong}\n{table}"
    );
}

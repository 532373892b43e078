//! The rules' pages, executed: every bad example gives its rule once and nothing else, every good one nothing.
//!
//! An example is a real spec; how it is written stands in `fences.rs`.

mod fences;

use std::fmt::Write;
use std::sync::OnceLock;

use loopwright::diag::{self, Certainty, Format, Rule, Severity};
use loopwright::session::{self, Outcome};

use fences::{Fence, files_of, read_page};
pub use fences::{HEADER, PARTS};

fn outcome_of(fence: &Fence<'_>) -> Outcome {
    let files = files_of(fence);
    if fence.words.contains(&"frozen") { session::compile_frozen(&[], &files) } else { session::check(&files) }
}

/// What is found in the bad example of every rule, by slug.
pub fn bad_examples() -> &'static [(&'static str, Outcome)] {
    static FOUND: OnceLock<Vec<(&'static str, Outcome)>> = OnceLock::new();
    let bad = |rule: &Rule| read_page(rule.page).1.into_iter().find(|fence| fence.words.first() == Some(&"bad"));
    let outcome = |rule: &'static Rule| Some((rule.slug, outcome_of(&bad(rule)?)));
    FOUND.get_or_init(|| session::rules().into_iter().filter_map(outcome).collect())
}

fn shown(outcome: &Outcome) -> String {
    diag::render(Format::Short, &outcome.sources, &outcome.diagnostics, 1000)
}

/// The headings that the page of a rule has.
fn layout(rule: &Rule) -> Vec<String> {
    let accept = (rule.severity() != Severity::Error).then_some("## When to accept it");
    let title = format!("# {}", rule.slug);
    let headings = ["## Why it matters", "## Bad", "## Good"].into_iter().chain(accept).chain(["## Basis"]);
    std::iter::once(title).chain(headings.map(str::to_owned)).collect()
}

#[test]
fn every_page_has_the_layout() {
    let mut wrong = String::new();
    for rule in session::rules() {
        let (headings, fences) = read_page(rule.page);
        if headings != layout(rule) {
            writeln!(wrong, "{}: its headings are {headings:?}", rule.slug).unwrap();
        }
        let kinds: Vec<&str> = fences.iter().filter_map(|fence| fence.words.first().copied()).collect();
        if kinds != ["bad", "good"] {
            writeln!(wrong, "{}: its examples are {kinds:?}", rule.slug).unwrap();
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn every_example_does_what_its_page_says() {
    let mut wrong = String::new();
    for rule in session::rules() {
        for fence in read_page(rule.page).1 {
            let outcome = outcome_of(&fence);
            let found: Vec<&str> = outcome.diagnostics.iter().map(|d| d.rule.slug).collect();
            let wanted: &[&str] = if fence.words.first() == Some(&"bad") { &[rule.slug] } else { &[] };
            if found != wanted {
                writeln!(wrong, "{} ({}):\n{}", rule.slug, fence.words.join(" "), shown(&outcome)).unwrap();
            }
            for found in outcome.diagnostics {
                if found.title.is_empty() || found.paragraph.is_empty() || found.help.is_empty() {
                    writeln!(wrong, "{}: a slot is empty in {found:?}", rule.slug).unwrap();
                } else if found.title.ends_with('.') || !found.paragraph.ends_with('.') {
                    writeln!(wrong, "{}: a title has no full stop, a paragraph has one: {found:?}", rule.slug).unwrap();
                }
            }
        }
    }
    assert!(wrong.is_empty(), "examples that do not give what their page says:\n{wrong}");
}

/// A rule's fix is tried on its bad example, and nothing is found any more. What each rule proposes is kept in a table.
#[test]
fn every_fix_mends_its_bad_example() {
    let mut table = String::from(
        "# What the findings propose\n\nThe bad example of each rule, with its fix made: written by the tests.\n\n\
         | rule | the change is | after it |\n| --- | --- | --- |\n",
    );
    let mut wrong = String::new();
    for rule in session::rules() {
        let bad = read_page(rule.page).1.into_iter().find(|fence| fence.words.first() == Some(&"bad")).unwrap();
        let outcome = outcome_of(&bad);
        let Some(fix) = outcome.diagnostics.iter().find_map(|found| found.fix.as_ref()) else { continue };
        let certainty = match fix.certainty {
            Certainty::Certain => "certain",
            Certainty::Likely => "to be confirmed",
            Certainty::House => "for the house too",
        };
        let fixed = session::fix(&files_of(&bad), Certainty::House);
        if fixed.fixes == 0 || !fixed.outcome.diagnostics.is_empty() {
            writeln!(wrong, "{} ({} made):\n{}", rule.slug, fixed.fixes, shown(&fixed.outcome)).unwrap();
        }
        writeln!(table, "| {} | {certainty} | no findings |", rule.slug).unwrap();
    }
    assert!(wrong.is_empty(), "fixes that do not mend their example:\n{wrong}");
    crate::golden::compare("tests/pages/fixes.md", table.as_bytes()).unwrap();
}

#[test]
fn slugs_are_unique_and_every_page_belongs_to_a_rule() {
    let rules = session::rules();
    let slugs: Vec<&str> = rules.iter().map(|rule| rule.slug).collect();
    assert!(slugs.windows(2).all(|pair| pair[0] != pair[1]), "a slug is given twice in {slugs:?}");
    let source = concat!(env!("CARGO_MANIFEST_DIR"), "/src");
    let pages = walkdir::WalkDir::new(source)
        .sort_by_file_name()
        .into_iter()
        .map(|entry| entry.unwrap().into_path())
        // The tour is the reference's, whose tests run its examples.
        .filter(|path| path.extension().is_some_and(|ending| ending == "md") && !path.ends_with("schema/tour.md"));
    let stray: Vec<String> = pages
        .filter(|path| !slugs.iter().any(|slug| path.file_stem().is_some_and(|stem| stem == *slug)))
        .map(|path| path.display().to_string())
        .collect();
    assert!(stray.is_empty(), "pages of no rule: {}", stray.join(", "));
}

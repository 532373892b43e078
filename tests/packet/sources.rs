//! A published limit is printed with its edition and how sure it is, and no clause is printed that nobody read.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use loopwright::compiled::Compiled;
use loopwright::diag::{Basis, Diagnostic};
use loopwright::profiles::source::Known;
use loopwright::profiles::standby::{STANDBY, of_site};
use loopwright::profiles::{bus, connectors, limits, rows};
use loopwright::session;
use walkdir::WalkDir;

use super::sites::{full_site, markdown, packet, site};
use crate::pages::bad_examples;

/// The text of every sheet of a site, marks of Markdown and spaces that do not break taken away.
fn sheets(site: &Compiled) -> Vec<(String, String)> {
    let pages = packet(site).files.into_iter().filter(|(path, _)| path.ends_with(".md"));
    pages.map(|(path, bytes)| (path, plain(&String::from_utf8(bytes).unwrap()))).collect()
}

fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ").replace(['\\', '*'], "")
}

/// Everything that a reader is given, by where it is: sheets of the test sites, rule pages and the findings of their
/// examples, the reference, the page for a start.
fn printed() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut texts = sheets(&full_site());
    for folder in ["out", "src", "specs"] {
        let files = WalkDir::new(root.join(folder)).sort_by_file_name().into_iter().map(Result::unwrap);
        let pages = files.filter(|file| file.path().extension().is_some_and(|ending| ending == "md"));
        texts.extend(pages.map(|file| (file.path().display().to_string(), fs::read_to_string(file.path()).unwrap())));
    }
    texts.push(("README.md".to_owned(), fs::read_to_string(root.join("README.md")).unwrap()));
    texts.extend(
        bad_examples()
            .iter()
            .map(|(slug, outcome)| (format!("findings of {slug}"), outcome.diagnostics.iter().map(said).collect())),
    );
    texts
}

/// All words of a finding.
fn said(finding: &Diagnostic) -> String {
    let labels = finding.labels.iter().map(|label| label.text.clone());
    let slots = [&finding.title, &finding.paragraph, &finding.help].map(Clone::clone);
    slots.into_iter().chain(labels).chain(finding.figures.clone()).map(|text| text + "\n").collect()
}

#[test]
fn a_limit_stands_beside_its_source_wherever_it_is_printed() {
    let mut met = BTreeSet::new();
    let demo =
        ["safety-notes", "power-sheet", "bus-sheet", "loop-sheet"].map(|sheet| format!("out/alder-mill/{sheet}.md"));
    let demo = demo.map(|path| (path.clone(), plain(&fs::read_to_string(path).unwrap())));
    for (path, text) in sheets(&full_site()).into_iter().chain(demo) {
        for limit in limits::all() {
            for behind in text.split(&limit.figure()).skip(1) {
                met.insert(limit.figure());
                let source = format!(" ({})", limit.source());
                assert!(behind.starts_with(&source), "{path}: {} is not followed by{source}", limit.figure());
            }
        }
    }
    let unmet: Vec<String> = limits::all().map(limits::Limit::figure).filter(|figure| !met.contains(figure)).collect();
    // Those of loops and of network cables are printed in findings only.
    let told = limits::LOOPS.iter().chain(connectors::NETWORK_LENGTHS);
    assert_eq!(unmet, told.map(limits::Limit::figure).collect::<Vec<_>>());
}

#[test]
fn the_limits_of_a_bus_stand_beside_their_sources() {
    let sheet = plain(&markdown(&full_site(), "bus-sheet"));
    for figure in [
        bus::UNIT_LOAD,
        bus::MOST_UNIT_LOADS,
        bus::THRESHOLD,
        bus::COMMON_MODE_BELOW,
        bus::LENGTH_TIMES_RATE,
        bus::TERMINATOR,
        bus::STUB,
    ] {
        assert!(sheet.contains(&figure.source()), "{}", figure.source());
    }
    assert!(sheet.contains(&bus::stub_assumptions()) && sheet.contains(bus::UNIT_LOAD_MEANS), "{sheet}");
}

/// A site of a profile, with a zone of a type on a board with battery and charger.
fn of_profile(profile: &str, kind: &str) -> Compiled {
    site(&format!(
        "site \"one\" {{ profile {profile}; }}
include \"../parts/example.kdl\"
level \"l\" {{ room \"r\"; }}
panel \"main\" part=\"control-a\" room=\"r\" {{ battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }}
zone 1 \"One\" type=\"{kind}\" {{ loop \"end-of-line\" board=\"main\" {{ contact \"button\"; resistor \"2k2\"; }}; }}
"
    ))
}

#[test]
fn the_times_of_every_profile_stand_beside_their_sources() {
    let mut met = Vec::new();
    for (profile, kind) in [
        ("\"us-household\"", "smoke"),
        ("\"us-household\" edition=2019", "smoke"),
        ("\"us-household\"", "carbon-monoxide"),
        ("\"us-household\" edition=2019", "carbon-monoxide"),
        ("\"us-household\"", "perimeter"),
        ("\"eu-grade-1\"", "perimeter"),
        ("\"eu-grade-2\"", "perimeter"),
        ("\"eu-grade-3\"", "perimeter"),
        ("\"practice\"", "perimeter"),
    ] {
        let made = of_profile(profile, kind);
        let row = of_site(&made.site);
        let sheet = plain(&markdown(&made, "power-sheet"));
        for figure in [row.standby, row.alarm, row.margin, row.recharge, row.recharge_share] {
            assert!(sheet.contains(&figure.source()), "{profile} {kind}: {} in\n{sheet}", figure.source());
        }
        assert!(sheet.contains(row.of), "{}", row.of);
        met.push(row);
    }
    assert!(STANDBY.iter().all(|row| met.contains(&row)), "a row that no site here has");
}

/// Where a text names a document and behind it something that is numbered like a clause: "725.136(A)", "R602.6".
fn clauses(text: &str) -> Vec<String> {
    const DOCUMENTS: [&str; 8] = ["NEC", "IRC", "72", "720", "985", "1023", "1641-2015", "864"];
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let document = word.trim_matches(|letter: char| !letter.is_alphanumeric());
        if !DOCUMENTS.contains(&document) || word.ends_with([',', ';', '.', ')']) {
            continue;
        }
        for behind in words.iter().skip(at + 1) {
            let clause = behind.trim_end_matches([',', ';', ':', '.']).trim_start_matches('(');
            let clause = if clause.matches('(').count() < clause.matches(')').count() {
                clause.trim_end_matches(')')
            } else {
                clause
            };
            let number = clause.strip_prefix('R').unwrap_or(clause);
            if !number.starts_with(|letter: char| letter.is_ascii_digit()) || !number.contains('.') {
                break;
            }
            found.push(clause.to_owned());
            if !behind.ends_with(',') {
                break;
            }
        }
    }
    found
}

#[test]
fn clauses_are_told_from_other_numbers() {
    assert_eq!(clauses("as NEC 300.4(A)(1), 300.4(D), from memory"), ["300.4(A)(1)", "300.4(D)"]);
    assert_eq!(clauses("(IRC R602.6, edition not named, quoted)"), ["R602.6"]);
    assert_eq!(clauses("NFPA 72, 2022 edition; UL 985, 6th edition; NEC 2023; (UL 1641-2015 9.5.1)"), ["9.5.1"]);
}

#[test]
fn every_clause_that_is_printed_was_read() {
    let read: BTreeSet<String> = rows()
        .iter()
        .filter(|row| row.source.known.was_read())
        .flat_map(|row| row.source.clause.split(", ").map(str::to_owned).collect::<Vec<_>>())
        .collect();
    let mut met = BTreeSet::new();
    for (path, text) in printed() {
        for clause in clauses(&plain(&text)) {
            assert!(read.contains(&clause), "{path}: {clause} is printed, and no row says that it was read");
            met.insert(clause);
        }
    }
    assert!(met.len() > 5, "{met:?}");
}

#[test]
fn the_page_of_a_published_rule_says_how_sure_it_is() {
    for rule in session::rules() {
        let Basis::Published(source) = rule.basis else { continue };
        let (_, basis) = rule.page.split_once("## Basis").unwrap();
        let says = |text: &str| {
            Known::ALL.iter().any(|known| text.contains(known.words())) || text.contains("document in the finding")
        };
        let basis = basis.to_lowercase().replace('\n', " ");
        assert!(says(&basis), "{}: {basis}", rule.slug);
        assert!(says(source), "{}: {source}", rule.slug);
    }
}

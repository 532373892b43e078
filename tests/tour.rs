//! The tour of the reference, executed: its pieces are put together as a reader would, and checked.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use loopwright::schema::reference::TOUR;

use crate::golden;

/// The pieces of spec by file, each file's one after the other.
fn files() -> BTreeMap<String, String> {
    let mut files = BTreeMap::<String, String>::new();
    let mut lines = TOUR.lines();
    while let Some(line) = lines.next() {
        let Some(info) = line.strip_prefix("```") else { continue };
        let body: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        let words: Vec<&str> = info.split(' ').collect();
        let file = match words[..] {
            ["kdl"] => "site.kdl",
            ["kdl", file] => file.strip_prefix("file=").unwrap(),
            _ => panic!("a piece of another language: {info}"),
        };
        *files.entry(file.to_owned()).or_default() += &format!("{}\n", body.join("\n"));
    }
    files
}

#[test]
fn the_house_of_the_tour_has_no_finding_but_the_figures_of_shared_parts() {
    let place = tempfile::tempdir().unwrap();
    let folder = place.path().join("orchard-house");
    let (site, parts) = (Path::new(env!("CARGO_MANIFEST_DIR")).join("specs/parts"), place.path().join("parts"));
    fs::create_dir_all(&folder).unwrap();
    fs::create_dir_all(&parts).unwrap();
    for entry in fs::read_dir(site).unwrap().map(Result::unwrap) {
        fs::copy(entry.path(), parts.join(entry.file_name())).unwrap();
    }
    let files = files();
    assert_eq!(files.keys().collect::<Vec<_>>(), ["parts.kdl", "site.kdl"]);
    for (name, text) in files {
        fs::write(folder.join(name), text).unwrap();
    }
    let run = |arguments: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_loopwright"));
        let output = command.args(arguments).arg(&folder).output().unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap())
    };
    let (code, found) = run(&["check", "--format", "json"]);
    let found: serde_json::Value = serde_json::from_str(&found).unwrap();
    let others: Vec<&serde_json::Value> = found["sites"][0]["diagnostics"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|found| found["rule"] != "part-unconfirmed")
        .collect();
    assert!(code == Some(0) && others.is_empty(), "{others:#?}");
    let (code, differs) = run(&["fmt", "--check"]);
    assert_eq!(code, Some(0), "the tour is laid out as `fmt` does it\n{differs}");
}

#[test]
fn a_terminal_gets_the_tour_alone_and_a_page_stands_alone() {
    let print = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_loopwright")).arg("reference").args(arguments).output().unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap())
    };
    let (code, tour) = print(&["--tour", "--format", "short"]);
    assert_eq!((code, tour.as_str()), (Some(0), TOUR));
    let (code, whole) = print(&[]);
    assert!(code == Some(0) && whole.starts_with(TOUR) && whole.contains("\n# The spec language\n"));
    let (code, set) = print(&["--tour"]);
    assert!(code == Some(0) && !set.contains("```") && set.contains("\n    zone 1 \"Front door\""), "{set}");
    assert_eq!(print(&["run", "--tour"]).0, Some(2));

    let (code, page) = print(&["--html"]);
    assert_eq!(code, Some(0));
    let (contents, text) = page.split_once("</section>").unwrap();
    let links: Vec<&str> = contents.split("href=\"#").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    let headings = ["<h1 ", "<h2 ", "<h3 "].map(|heading| text.matches(heading).count());
    assert_eq!(links.len(), headings.iter().sum::<usize>());
    assert_eq!(headings[0], 3, "tour, list, register");
    for link in &links {
        assert_eq!(text.matches(&format!("id=\"{link}\"")).count(), 1, "{link}");
    }
    for outside in ["src=", "url(", "://", "<script", "<link", "@import"] {
        assert!(!page.contains(outside), "{outside}");
    }
}

#[test]
fn the_grammar_for_editors_is_in_step_with_the_table() {
    let output = Command::new(env!("CARGO_BIN_EXE_loopwright")).args(["reference", "--grammar"]).output().unwrap();
    golden::compare("specs/loopwright.tmLanguage.json", &output.stdout).unwrap_or_else(|wrong| panic!("{wrong}"));
}

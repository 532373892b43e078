//! The architecture, enforced: import table, file sizes, module heads, forbidden marks, the reference in step.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    walkdir::WalkDir::new(root().join(folder))
        .sort_by_file_name()
        .into_iter()
        .map(|entry| entry.expect("readable tree").into_path())
        .filter(|path| path.extension().is_some_and(|e| e == ending))
        .collect()
}

fn shown(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).display().to_string()
}

/// The table in DEVELOPERS.md: module → modules it may import.
fn import_table() -> BTreeMap<String, BTreeSet<String>> {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    let rows: BTreeMap<String, BTreeSet<String>> = text
        .lines()
        .skip_while(|line| !line.starts_with("| module | may import |"))
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .map(|line| {
            let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
            let words = |cell: &str| cell.split_whitespace().map(|w| w.trim_matches('`').to_owned()).collect();
            (cells[0].trim_matches('`').to_owned(), words(cells[1]))
        })
        .collect();
    assert!(rows.len() > 10, "the import table is gone from DEVELOPERS.md");
    rows
}

#[test]
fn imports_follow_the_table() {
    let table = import_table();
    let mut wrong = Vec::new();
    for path in files("src", "rs") {
        let name = shown(&path);
        let module = name.trim_start_matches("src/").split(['/', '.']).next().unwrap_or_default().to_owned();
        if module == "main" || module == "lib" {
            continue;
        }
        let allowed = table.get(&module).unwrap_or_else(|| panic!("{module} is not in the import table"));
        let text = fs::read_to_string(&path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for (number, line) in code.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//")) {
            for part in line.split("crate::").skip(1) {
                let targets: Vec<String> = if let Some(group) = part.strip_prefix('{') {
                    group.split(',').map(|t| t.trim().split([':', '}']).next().unwrap_or_default().to_owned()).collect()
                } else {
                    vec![part.split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap_or_default().to_owned()]
                };
                for target in targets.iter().filter(|t| table.contains_key(*t)) {
                    if *target != module && !allowed.contains(target) {
                        wrong.push(format!("{name}:{}: {module} imports {target}", number + 1));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "imports against the table of DEVELOPERS.md:\n{}", wrong.join("\n"));
}

#[test]
fn every_module_has_a_head_and_a_reasonable_size() {
    let mut wrong = Vec::new();
    for path in files("src", "rs") {
        let text = fs::read_to_string(&path).expect("source");
        let lines = text.lines().count();
        if !text.starts_with("//!") {
            wrong.push(format!("{}: no head comment", shown(&path)));
        }
        if lines > 500 {
            wrong.push(format!("{}: {lines} lines; something is to be split", shown(&path)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn dependencies_stay_in_their_places() {
    // Crate → where it may be named.
    let places: &[(&str, &[&str])] = &[
        ("kdl::", &["src/syntax/"]),
        ("miette::", &["src/diag/"]),
        ("handlebars::", &["src/emit/"]),
        ("pulldown_cmark::", &["src/emit/"]),
        ("clap::", &["src/cli/"]),
        ("walkdir::", &["src/cli/"]),
        ("terminal_size::", &["src/cli/"]),
        ("tempfile::", &["src/cli/"]),
        ("std::fs", &["src/cli/"]),
        ("std::env", &["src/cli/"]),
        ("println!", &["src/cli/"]),
    ];
    let mut wrong = Vec::new();
    for path in files("src", "rs") {
        let name = shown(&path);
        let text = fs::read_to_string(&path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for (number, line) in code.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//")) {
            for (needle, allowed) in places {
                let named = line
                    .match_indices(needle)
                    .any(|(at, _)| !line[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_'));
                if named && name != "src/main.rs" && !allowed.iter().any(|place| name.starts_with(place)) {
                    wrong.push(format!("{name}:{}: {needle} belongs in {}", number + 1, allowed.join(", ")));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_forbidden_marks() {
    let marks = ["todo!(", "unimplemented!(", "dbg!(", "#[ignore", "use super::*;", "FIXME"];
    let mut wrong = Vec::new();
    for path in files("src", "rs").into_iter().chain(files("tests", "rs")).filter(|p| !p.ends_with("tests/tidy.rs")) {
        let text = fs::read_to_string(&path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for (number, line) in code.lines().enumerate() {
            // A file of tests sits beside what it tests and may see all of it.
            let in_tests = shown(&path).contains("/tests");
            for mark in marks.iter().filter(|mark| line.contains(**mark) && !(in_tests && mark.contains("super"))) {
                wrong.push(format!("{}:{}: {mark}", shown(&path), number + 1));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_printed_reference_is_in_step_with_the_table() {
    let path = root().join("specs/LANGUAGE.md");
    let fresh = loopwright::schema::reference::markdown();
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, &fresh).expect("write the reference");
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == fresh, "specs/LANGUAGE.md is out of step: run the tests with UPDATE=1");
}

#[test]
fn table_names_are_in_good_order() {
    fn walk(spec: &'static loopwright::schema::NodeSpec, seen: &mut Vec<*const loopwright::schema::NodeSpec>) {
        if seen.contains(&std::ptr::from_ref(spec)) {
            return;
        }
        seen.push(spec);
        let mut names: Vec<&str> =
            spec.arguments.iter().map(|a| a.name).chain(spec.properties.iter().map(|p| p.name)).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(count, names.len(), "{} has a field twice", spec.name);
        assert!(spec.doc.ends_with('.'), "{}: the doc is a sentence", spec.name);
        assert!(!spec.example.is_empty(), "{} has no example", spec.name);
        let many = spec.arguments.iter().position(|a| a.many);
        assert!(
            many.is_none_or(|at| at + 1 == spec.arguments.len()),
            "{}: only the last argument takes many",
            spec.name
        );
        for child in spec.children {
            walk(child.node, seen);
        }
    }
    let mut seen = Vec::new();
    for spec in loopwright::schema::nodes::TOP {
        walk(spec, &mut seen);
    }
}

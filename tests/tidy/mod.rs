//! The architecture, enforced: import table, file sizes, module heads, forbidden marks, the reference in step.

mod source;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use crate::golden::{self, root};
use loopwright::schema::spec::NodeSpec;
use source::{Item, Named, Source};

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

/// Every file of `src`, by its path from there.
fn sources() -> Vec<(PathBuf, Source)> {
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).expect("source");
        let path = path.strip_prefix(root().join("src")).expect("a file of src").to_path_buf();
        let source = Source::read(&path, &text);
        (path, source)
    };
    files("src", "rs").into_iter().map(read).collect()
}

/// The sources without files of tests, which sit beside what they test and may see all of it.
fn code() -> impl Iterator<Item = (PathBuf, Source)> {
    sources().into_iter().filter(|(path, _)| !path.iter().any(|part| part.to_string_lossy().starts_with("tests")))
}

#[test]
fn imports_follow_the_table() {
    let table = import_table();
    let mut wrong = Vec::new();
    for (path, source) in code() {
        let stem = path.with_extension("");
        let module = stem.iter().next().expect("a name").to_string_lossy().into_owned();
        if module == "main" || module == "lib" {
            continue;
        }
        let allowed = table.get(&module).unwrap_or_else(|| panic!("{module} is not in the import table"));
        for Named { line, path: named } in source.named {
            let [first, target, ..] = named.as_slice() else { continue };
            if first == "crate" && *target != module && table.contains_key(target) && !allowed.contains(target) {
                wrong.push(format!("src/{}:{line}: {module} imports {target}", path.display()));
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
    // What is named → where it may be.
    let places = [
        ("kdl", "syntax"),
        ("miette", "diag"),
        ("handlebars", "emit"),
        ("pulldown_cmark", "emit"),
        ("clap_complete", "cli"),
        ("clap_mangen", "cli"),
        ("imagesize", "resolve"),
        ("qrcodegen", "draw"),
        ("lsp_types", "server"),
        ("lsp_server", "server"),
        ("clap", "cli"),
        ("terminal_size", "cli"),
        ("walkdir", "cli"),
        ("indicatif", "cli"),
        ("sha2", "cli"),
        ("tempfile", "cli"),
        ("twox_hash", "cli"),
        ("std::fs", "cli"),
        ("std::env", "cli"),
        ("std::net", "cli"),
        ("std::process", "cli"),
        ("std::time", "cli"),
        ("print!", "cli"),
        ("println!", "cli"),
        ("eprint!", "cli"),
        ("eprintln!", "cli"),
    ];
    let mut wrong = Vec::new();
    for (path, source) in code().filter(|(path, _)| path != Path::new("main.rs")) {
        for Named { line, path: named } in source.named {
            let named = named.join("::");
            for (what, place) in places {
                let is =
                    named.strip_prefix(what).is_some_and(|rest| rest.starts_with("::") || what.contains(['!', ':']));
                if is && !path.starts_with(place) {
                    wrong.push(format!("src/{}:{line}: {named} belongs in src/{place}", path.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_forbidden_marks() {
    let mut wrong = Vec::new();
    for path in files("src", "rs").into_iter().chain(files("tests", "rs")).filter(|p| !p.ends_with("tidy/mod.rs")) {
        let text = fs::read_to_string(&path).expect("source");
        for (number, line) in text.lines().enumerate() {
            for mark in ["#[ignore", "FIXME"].iter().filter(|mark| line.contains(**mark)) {
                wrong.push(format!("{}:{}: {mark}", shown(&path), number + 1));
            }
        }
    }
    // Drawings are written in one place; what stands in tests is no part of a page.
    for path in files("src", "rs").into_iter().filter(|path| !path.ends_with("draw/svg.rs")) {
        let text = fs::read_to_string(&path).expect("source");
        if text.split("#[cfg(test)]").next().is_some_and(|code| code.contains("<svg")) && !path.ends_with("tests.rs") {
            wrong.push(format!("{}: only src/draw/svg.rs writes SVG", shown(&path)));
        }
    }
    for (path, source) in code() {
        for Named { line, path: named } in source.named {
            if named[0] == "crate" && named.ends_with(&["*".into()]) {
                wrong.push(format!("src/{}:{line}: {}", path.display(), named.join("::")));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The compiler warns of private items only, and it cannot see that a public one serves its own test alone. What stands in
/// an `impl` is known by its name only, so one name used is all of them used.
#[test]
fn every_public_item_is_used() {
    let sources = sources();
    let everywhere = || sources.iter().flat_map(|(_, source)| &source.named);
    let words: BTreeSet<&str> =
        everywhere().flat_map(|named| &named.path).map(|word| word.trim_end_matches('!')).collect();
    let pairs: BTreeSet<(&str, &str)> = everywhere()
        .flat_map(|named| named.path.windows(2))
        .map(|pair| (pair[0].as_str(), pair[1].trim_end_matches('!')))
        .collect();
    let mut unused = Vec::new();
    for (path, source) in &sources {
        let beside: BTreeSet<&str> = source.named.iter().map(|named| named.path[0].as_str()).collect();
        for Item { line, name, module } in &source.items {
            let used = match module {
                Some(module) => beside.contains(name.as_str()) || pairs.contains(&(module, name)),
                None => words.contains(name.as_str()),
            };
            if !used {
                unused.push(format!("src/{}:{line}: {name}", path.display()));
            }
        }
    }
    assert!(unused.is_empty(), "nothing uses these, or only tests do:\n{}", unused.join("\n"));
}

#[test]
fn the_printed_reference_is_in_step_with_the_table() {
    let fresh = loopwright::schema::reference::markdown();
    golden::compare("specs/LANGUAGE.md", fresh.as_bytes()).unwrap_or_else(|wrong| panic!("{wrong}"));
}

#[test]
fn table_names_are_in_good_order() {
    fn walk(spec: &'static NodeSpec, seen: &mut Vec<*const NodeSpec>) {
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

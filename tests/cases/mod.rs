//! Case folders: `tests/cases/<area>/<name>/` holds a spec and what it must give.
//!
//! In a case folder, `site/` is the site, `expect.txt` its findings in the short form, and any file below
//! `packet/` one of the packet's files that must come out exactly so (only those kept are compared). Every case
//! is compiled twice: as it stands, and with its include lines and top-level files in reversed order, which may
//! change nothing. A golden that nothing gives is a failure.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use loopwright::diag::{self, Format};
use loopwright::resolve::load::{FileSource, MemoryFiles, ReadFault};
use loopwright::session::{self, Outcome};

use crate::golden::{self, root};

/// Files in memory whose `../parts/` are those of the rule pages and of `specs/parts`.
struct CaseFiles(MemoryFiles);

impl FileSource for CaseFiles {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        match path.strip_prefix("../parts/") {
            Some(part) => ["tests/pages", "specs/parts"]
                .iter()
                .find_map(|folder| fs::read(root().join(folder).join(part)).ok())
                .ok_or(ReadFault::Missing),
            None => self.0.read(path),
        }
    }
}

fn cases() -> Vec<PathBuf> {
    walkdir::WalkDir::new(root().join("tests/cases"))
        .min_depth(2)
        .max_depth(2)
        .sort_by_file_name()
        .into_iter()
        .map(|entry| entry.unwrap().into_path())
        .filter(|path| path.is_dir())
        .collect()
}

fn files_below(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .sort_by_file_name()
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let name = entry.path().strip_prefix(folder).unwrap().to_string_lossy().replace('\\', "/");
            (name, fs::read(entry.path()).unwrap())
        })
        .collect()
}

fn compile(files: BTreeMap<String, Vec<u8>>) -> Outcome {
    session::compile(&[], &CaseFiles(MemoryFiles(files)))
}

fn findings(outcome: &Outcome) -> String {
    diag::render(Format::Short, &outcome.sources, &outcome.diagnostics, 1000)
}

#[test]
fn every_case_gives_what_it_expects() {
    let cases = cases();
    assert!(!cases.is_empty(), "no case folders found");
    let mut wrong = Vec::new();
    for case in &cases {
        let name = case.strip_prefix(root()).unwrap().display().to_string();
        let outcome = compile(files_below(&case.join("site")));
        let mut compare =
            |path: &str, fresh: &[u8]| wrong.extend(golden::compare(&format!("{name}/{path}"), fresh).err());
        compare("expect.txt", findings(&outcome).as_bytes());
        let bundle = outcome.bundle.unwrap_or_default();
        for golden in files_below(&case.join("packet")).into_keys() {
            let fresh = bundle.files.get(&golden).unwrap_or_else(|| panic!("{name}: nothing gives packet/{golden}"));
            compare(&format!("packet/{golden}"), fresh);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The same text with its lines that begin with `include` in reversed order.
fn includes_reversed(text: &str) -> String {
    let mut includes: Vec<&str> = text.lines().filter(|line| line.starts_with("include")).collect();
    let line = |line| if str::starts_with(line, "include") { includes.pop().unwrap_or(line) } else { line };
    text.lines().map(line).collect::<Vec<_>>().join("\n") + "\n"
}

#[test]
fn the_order_of_includes_and_a_second_run_change_nothing() {
    for site in [root().join("specs/alder-mill"), root().join("specs/garden-flat")] {
        let files = files_below(&site);
        let first = compile(files.clone());
        assert!(first.bundle.is_some(), "{} compiles:\n{}", site.display(), findings(&first));
        let again = compile(files.clone());
        assert_eq!(first.bundle, again.bundle, "a second run of {}", site.display());
        let turned: BTreeMap<String, Vec<u8>> = files
            .into_iter()
            .map(|(name, bytes)| (name, includes_reversed(&String::from_utf8(bytes).unwrap()).into_bytes()))
            .collect();
        assert_eq!(first.bundle, compile(turned).bundle, "{} with its includes turned", site.display());
    }
}

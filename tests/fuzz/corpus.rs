//! What the inputs grow from: the demo sites, every example of every rule's page, the tests' cases, their full house, and a
//! plan with everything that is drawn on one.

use std::fs;
use std::path::Path;

use loopwright::session;

use crate::Files;
use crate::mutate::nodes;
use crate::pages::{PARTS, files_of, read_page};

/// The files of a folder, each behind `prefix`.
pub fn folder(path: &Path, prefix: &str) -> Files {
    let files = walkdir::WalkDir::new(path).sort_by_file_name().into_iter().filter_map(Result::ok);
    let files = files.filter(|entry| entry.file_type().is_file()).map(walkdir::DirEntry::into_path);
    files
        .map(|file| {
            let name = file.strip_prefix(path).unwrap().to_string_lossy().replace('\\', "/");
            (format!("{prefix}{name}"), fs::read(&file).unwrap())
        })
        .collect()
}

/// A site with those of the shared parts that it names: parsing them all would take most of the time.
fn with_parts(mut site: Files, all: &Files) -> Files {
    site.retain(|path, _| !path.starts_with("../"));
    let text: String = site.values().map(|bytes| String::from_utf8_lossy(bytes)).collect();
    for (path, parts) in all {
        let top = nodes(parts).into_iter().filter(|node| node.start == 0 || parts[node.start - 1] == b'\n');
        let named = top.filter(|node| {
            let name = String::from_utf8_lossy(&parts[node.clone()]).split('"').nth(1).map(str::to_owned);
            name.is_some_and(|name| text.contains(&format!("\"{name}\"")))
        });
        let lines: Vec<&[u8]> = named.map(|node| &parts[node]).collect();
        site.insert(path.clone(), lines.join(&b'\n'));
    }
    site
}

/// The sites.
pub fn sites() -> Vec<Files> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let parts = folder(&root.join("specs/parts"), "../parts/");
    let example = Files::from([("../parts/example.kdl".to_owned(), PARTS.into())]);
    let demos =
        ["alder-mill", "garden-flat"].map(|site| with_parts(folder(&root.join("specs").join(site), ""), &parts));
    let cases = walkdir::WalkDir::new(root.join("tests/cases")).sort_by_file_name().into_iter().filter_map(Result::ok);
    let cases =
        cases.map(walkdir::DirEntry::into_path).filter(|path| path.ends_with("site")).map(|path| folder(&path, ""));
    let site = |path: &str| Files::from([("site.kdl".to_owned(), fs::read(root.join(path)).unwrap())]);
    let made = ["tests/packet/full.kdl", "tests/fuzz/plan.kdl"].map(site);
    let pages = session::rules().into_iter().flat_map(|rule| read_page(rule.page).1).map(|fence| files_of(&fence).0);
    let small = cases.chain(made).chain(pages);
    let sites = demos.into_iter().chain(small.map(|site| with_parts(site, &example)));
    sites.filter(|files| files.values().map(Vec::len).sum::<usize>() < 200_000).collect()
}

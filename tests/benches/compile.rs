//! Time of a whole compile of alder-mill beside a bare kdl parse of the same bytes.
//!
//! `cargo bench` prints both; the ratio of the two is what the rest of the pipeline costs.

#![allow(clippy::disallowed_methods, clippy::unwrap_used)]

use std::collections::BTreeMap;
use std::path::Path;

use loopwright::resolve::load::MemoryFiles;
use loopwright::session;

fn main() {
    divan::main();
}

/// Alder-mill and the shared parts in memory, by path relative to the site's folder.
fn alder_mill() -> MemoryFiles {
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let mut files = BTreeMap::new();
    for (folder, prefix) in [("alder-mill", ""), ("parts", "../parts/")] {
        for entry in walkdir::WalkDir::new(specs.join(folder)).sort_by_file_name() {
            let entry = entry.unwrap();
            if entry.path().extension().is_some_and(|e| e == "kdl") {
                let path = entry.path().strip_prefix(specs.join(folder)).unwrap().to_string_lossy().replace('\\', "/");
                files.insert(format!("{prefix}{path}"), std::fs::read(entry.path()).unwrap());
            }
        }
    }
    MemoryFiles(files)
}

#[divan::bench]
fn bare_kdl_parse(bencher: divan::Bencher<'_, '_>) {
    let texts: Vec<String> = alder_mill().0.into_values().map(|bytes| String::from_utf8(bytes).unwrap()).collect();
    bencher.bench(|| texts.iter().map(|text| text.parse::<kdl::KdlDocument>().unwrap().nodes().len()).sum::<usize>());
}

#[divan::bench]
fn check(bencher: divan::Bencher<'_, '_>) {
    let files = alder_mill();
    bencher.bench(|| session::check(&files).diagnostics.len());
}

#[divan::bench]
fn compile(bencher: divan::Bencher<'_, '_>) {
    let files = alder_mill();
    bencher.bench(|| session::compile(&[], &files).bundle.map(|bundle| bundle.files.len()));
}

//! Time of a comparison: two revisions of alder-mill, and two sites of 2,000 zones.
//!
//! `whole` is what `loopwright diff` does once the bytes are there: both sites read and checked, then compared. `models` is
//! the comparison alone.

#![allow(clippy::disallowed_methods, clippy::unwrap_used)]

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

use loopwright::compiled::Compiled;
use loopwright::diag::Sink;
use loopwright::diff::compare;
use loopwright::register::{self, Register};
use loopwright::resolve::load::MemoryFiles;
use loopwright::resolve::resolve;
use loopwright::session;

fn main() {
    divan::main();
}

fn specs() -> BTreeMap<String, Vec<u8>> {
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let mut files = BTreeMap::new();
    for (folder, prefix) in [("alder-mill", ""), ("parts", "../parts/")] {
        for entry in std::fs::read_dir(specs.join(folder)).unwrap() {
            let entry = entry.unwrap();
            let name = entry.file_name().into_string().unwrap();
            files.insert(format!("{prefix}{name}"), std::fs::read(entry.path()).unwrap());
        }
    }
    files
}

/// Alder-mill, and alder-mill with the workshop's zones under other names and some cables longer.
fn mills() -> (MemoryFiles, MemoryFiles) {
    let old = specs();
    let mut new = old.clone();
    for text in new.values_mut() {
        let changed = String::from_utf8(text.clone()).unwrap();
        *text = changed.replace("timber-store", "print-room").replace("length=(ft)24", "length=(ft)29").into_bytes();
    }
    (MemoryFiles(old), MemoryFiles(new))
}

/// A site of so many zones on panels of sixteen inputs; every `different`-th zone differs.
fn large(zones: u32, different: Option<u32>) -> MemoryFiles {
    let mut text = String::from("site \"large\"\ninclude \"../parts/generic.kdl\"\nlevel \"l\" {\n");
    for room in 0..zones / 16 {
        let _ = writeln!(text, "    room \"r{room}\" {{ door \"d{room}\"; }}");
    }
    text.push_str("}\narea \"all\"\n");
    for panel in 0..zones / 16 {
        let _ = writeln!(text, "panel \"p{panel}\" part=\"control-16\" room=\"r{panel}\"");
    }
    for zone in 0..zones {
        let (panel, input) = (zone / 16, zone % 16 + 1);
        let feet = if different.is_some_and(|every| zone % every == 0) { 47 } else { 30 };
        let _ = writeln!(
            text,
            "zone {} \"Zone {zone}\" type=\"perimeter\" area=\"all\" {{ loop \"end-of-line\" board=\"p{panel}\" input={input} {{ \
             run \"station-2\" length=(ft){feet} room=\"r{panel}\" {{ contact \"reed-surface\"; resistor \"2k2\"; }}; }}; }}",
            zone + 1
        );
    }
    let mut files = specs();
    files.retain(|path, _| path.starts_with("../"));
    files.insert("site.kdl".into(), text.into_bytes());
    MemoryFiles(files)
}

fn compiled(files: &MemoryFiles) -> Compiled {
    let resolved = resolve(files, &mut Sink::default());
    let site = resolved.site.unwrap();
    let wiring = register::keep(&site, &Register::default()).wiring;
    Compiled::new(site, wiring, resolved.sources)
}

fn models(bencher: divan::Bencher<'_, '_>, (old, new): (MemoryFiles, MemoryFiles)) {
    let (old, new) = (compiled(&old), compiled(&new));
    bencher.bench(|| compare(&old, &new).diff.changes.len());
}

fn whole(bencher: divan::Bencher<'_, '_>, (old, new): (MemoryFiles, MemoryFiles)) {
    bencher.bench(|| session::compare((&old, "old"), (&new, "new")).order.map(|order| order.changes.len()));
}

#[divan::bench]
fn alder_mill_models(bencher: divan::Bencher<'_, '_>) {
    models(bencher, mills());
}

#[divan::bench]
fn alder_mill_whole(bencher: divan::Bencher<'_, '_>) {
    whole(bencher, mills());
}

#[divan::bench(sample_count = 10)]
fn two_thousand_zones_models(bencher: divan::Bencher<'_, '_>) {
    models(bencher, (large(2000, None), large(2000, Some(20))));
}

#[divan::bench(sample_count = 3)]
fn two_thousand_zones_whole(bencher: divan::Bencher<'_, '_>) {
    whole(bencher, (large(2000, None), large(2000, Some(20))));
}

//! Documents over small sites made of the shared parts of the rule pages' examples.

mod delays;
mod detection;
mod events;
mod flat;
mod goods;
mod safety_notes;
mod site_data;
mod tried;
mod upkeep;
mod without_mains;
mod zone_descriptions;

use std::fs;
use std::path::Path;

use loopwright::diag::Sink;
use loopwright::emit::Bundle;
use loopwright::model::Site;
use loopwright::register::{self, Register, Wiring};
use loopwright::resolve::load::MemoryFiles;
use loopwright::resolve::resolve;
use loopwright::session;

use crate::demos;

/// A site with the example parts: what stands in `site { … }`, and what stands beside it.
fn files(in_site: &str, beside: &str) -> MemoryFiles {
    let parts = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pages/example.kdl")).unwrap();
    let text =
        format!("site \"example\" title=\"Example\" {{\n{in_site}\n}}\ninclude \"../parts/example.kdl\"\n{beside}\n");
    MemoryFiles([("site.kdl".to_owned(), text.into_bytes()), ("../parts/example.kdl".to_owned(), parts)].into())
}

/// The resolved site with its labels; nothing in it may be in error.
fn wired(in_site: &str, beside: &str) -> (Site, Wiring) {
    let mut sink = Sink::default();
    let resolved = resolve(&files(in_site, beside), &mut sink);
    let errors: Vec<String> = sink
        .into_sorted()
        .iter()
        .filter(|found| found.severity() == loopwright::diag::Severity::Error)
        .map(|found| found.title.clone())
        .collect();
    assert!(errors.is_empty(), "{errors:?} in\n{beside}");
    let site = resolved.site.unwrap();
    let wiring = register::keep(&site, &Register::default()).wiring;
    (site, wiring)
}

/// The packet of a site without errors.
fn packet(in_site: &str, beside: &str) -> Bundle {
    let outcome = session::compile(&[], &files(in_site, beside));
    let found: Vec<&str> = outcome.diagnostics.iter().map(|found| found.title.as_str()).collect();
    outcome.bundle.unwrap_or_else(|| panic!("{found:?} in\n{beside}"))
}

/// The text of a file of the packet; spaces that do not break count as spaces.
fn text(bundle: &Bundle, path: &str) -> String {
    String::from_utf8(bundle.files[path].clone()).unwrap().replace('\u{a0}', " ")
}

/// The packet of a demo with each of its texts changed.
fn demo(name: &str, change: impl Fn(String) -> String) -> demos::Sheets {
    demos::sheets_of(&demos::changed(name, change))
}

//! What the checks find and leave, where the examples on their pages do not show it.
//!
//! Every spec here has the header and the shared parts of the pages' examples.

mod accepted;
mod batteries;
mod board_parts;
mod buses;
mod cables;
mod causes;
mod connectors;
mod detection;
mod devices;
mod followed;
mod hanging;
mod heard;
mod lengths;
mod loops;
mod modules;
mod older;
mod panels;
mod placed;
mod powering;
mod remedies;
mod sheets;
mod shields;
mod single;
mod sums;
mod switching;
mod terminals;
mod texts;
mod two_wire;
mod ways;
mod zones;

use std::collections::BTreeMap;

use loopwright::diag::Diagnostic;
use loopwright::resolve::load::MemoryFiles;
use loopwright::session;

use crate::pages::{HEADER, PARTS};

/// What is found in a spec.
fn found(spec: &str) -> Vec<Diagnostic> {
    found_under(HEADER, spec)
}

/// The same under a header of its own.
fn found_under(header: &str, spec: &str) -> Vec<Diagnostic> {
    let site = format!("{header}{spec}");
    let files = [("site.kdl", site.as_str()), ("../parts/example.kdl", PARTS)];
    let files: BTreeMap<String, Vec<u8>> = files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into();
    session::check(&MemoryFiles(files)).diagnostics
}

/// The slugs of what is found, in the order of the source.
fn slugs(spec: &str) -> Vec<&'static str> {
    found(spec).iter().map(|finding| finding.rule.slug).collect()
}

/// The one finding of a spec.
fn only(spec: &str, slug: &str) -> Diagnostic {
    let mut found = found(spec);
    let shown: Vec<String> = found.iter().map(|f| format!("{}: {}", f.rule.slug, f.title)).collect();
    assert_eq!(shown.len(), 1, "{shown:#?}");
    assert_eq!(found[0].rule.slug, slug, "{shown:#?}");
    found.remove(0)
}

/// A zone with one panic button in the lobby; `loop_` stands in the loop's line after its wiring.
fn button(number: u32, loop_: &str, description: &str) -> String {
    format!(
        "zone {number} \"{description}\" type=\"panic-audible\" {{
    loop \"end-of-line\" {loop_} {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"button\"; resistor \"2k2\" }}
    }}
}}
"
    )
}

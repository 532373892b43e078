//! The register over the years: houses in memory that are compiled, changed, and compiled again.

mod comments;
mod disk;
mod keeping;
mod laws;
mod merging;
mod writing;

use std::collections::BTreeMap;

use loopwright::resolve::load::MemoryFiles;
use loopwright::session::{self, Outcome};

const PARTS: &str = include_str!("../pages/example.kdl");
const HEADER: &str = include_str!("../pages/header.kdl");

/// A house: its files, the register among them once it has been compiled.
#[derive(Clone, Default)]
struct House {
    files: BTreeMap<String, String>,
}

impl House {
    /// A house of one file behind the header of the rule pages' examples.
    fn new(spec: &str) -> Self {
        let mut house = Self::default();
        house.spec(spec);
        house
    }

    fn spec(&mut self, spec: &str) {
        self.files.insert("site.kdl".into(), format!("{HEADER}{spec}"));
    }

    fn sources(&self) -> MemoryFiles {
        let own = self.files.iter().map(|(path, text)| (path.clone(), text.clone().into_bytes()));
        MemoryFiles(own.chain([("../parts/example.kdl".to_owned(), PARTS.as_bytes().to_vec())]).collect())
    }

    /// Checks, and keeps the register as a compile writes it. No packet is made: that takes ten times as long.
    fn compile(&mut self) -> Outcome {
        let outcome = session::check(&self.sources());
        if let Some(next) = &outcome.register {
            self.files.insert("register.kdl".into(), next.text());
        }
        outcome
    }

    /// As [`Self::compile`]; an error is none of the test's.
    fn good(&mut self) -> Outcome {
        let outcome = self.compile();
        assert!(!outcome.failed(), "{}\n{:#?}", self.register(), findings(&outcome));
        outcome
    }

    /// The packet's files, from the register as it was kept.
    fn packet(&self) -> BTreeMap<String, Vec<u8>> {
        session::compile(&[], &self.sources()).bundle.unwrap().files
    }

    /// True where a compile finds errors, and makes neither packet nor register.
    fn is_refused(&self) -> bool {
        let outcome = session::compile(&[], &self.sources());
        outcome.failed() && outcome.bundle.is_none() && outcome.register.is_none()
    }

    fn register(&self) -> &str {
        self.files.get("register.kdl").map_or("", String::as_str)
    }

    /// The lines of a label's node.
    fn label(&self, label: &str) -> String {
        let start = self
            .register()
            .find(&format!("label \"{label}\" "))
            .unwrap_or_else(|| panic!("{label} in\n{}", self.register()));
        let rest = &self.register()[start..];
        rest[..rest.find("\n}").map_or(rest.len(), |end| end + 2)].to_owned()
    }

    fn edit(&mut self, file: &str, from: &str, to: &str) {
        let text = self.files.get_mut(file).unwrap();
        assert!(text.contains(from), "{from} in\n{text}");
        *text = text.replacen(from, to, 1);
    }
}

/// Severity, slug and title of every finding, as far as no part's figures are concerned.
fn findings(outcome: &Outcome) -> Vec<String> {
    let shown = |d: &loopwright::diag::Diagnostic| format!("{} {}: {}", d.severity().word(), d.rule.slug, d.title);
    outcome.diagnostics.iter().map(shown).collect()
}

/// A zone of one button at the board of the examples.
fn zone(number: u32, properties: &str, run: &str, title: &str) -> String {
    format!(
        "zone {number} \"Zone {number}\" type=\"panic-audible\" {{
    loop \"end-of-line\" board=\"board-a\"{properties} {{
        run \"pair\" length=(ft)20 room=\"lobby\"{run} {{ contact \"button\" title=\"{title}\"; resistor \"2k2\" }}
    }}
}}
"
    )
}

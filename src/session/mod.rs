//! Facade for front ends: files in, plain data out.

use crate::base::Sources;
use crate::diag::{Diagnostic, Rule, Severity};
use crate::emit::Bundle;
use crate::resolve::load::FileSource;

/// What one compilation of a site gave.
#[derive(Debug, Default)]
pub struct Outcome {
    /// The files read, for rendering the diagnostics.
    pub sources: Sources,
    /// What was found, in the order of the source.
    pub diagnostics: Vec<Diagnostic>,
    /// The site's name, where it could be read.
    pub site: Option<String>,
    /// The packet; `None` for a check, and where there was an error.
    pub bundle: Option<Bundle>,
}

impl Outcome {
    /// True when an error was found: then there is no packet.
    pub fn failed(&self) -> bool {
        self.diagnostics.iter().any(|d| d.severity() == Severity::Error)
    }
}

/// Reads and checks the site whose `site.kdl` is in `files`.
pub fn check(_files: &dyn FileSource) -> Outcome {
    Outcome::default()
}

/// Reads and checks a site, and makes its packet where no error was found.
pub fn compile(files: &dyn FileSource) -> Outcome {
    check(files)
}

/// All rules, by name.
pub fn rules() -> Vec<&'static Rule> {
    Vec::new()
}

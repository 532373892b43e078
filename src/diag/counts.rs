//! How many findings of each severity there are, as data and in words.

use super::{Diagnostic, Severity};
use crate::base::wording::count;

/// Findings by severity; the accepted ones are among them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
pub(crate) struct Counts {
    /// Findings that leave the packet unwritten.
    pub(crate) errors: usize,
    /// Published limits passed, or words without effect.
    pub(crate) warnings: usize,
    /// Practice, or something to confirm.
    pub(crate) notes: usize,
    /// How many of all of these the site accepts, with a reason.
    pub(crate) accepted: usize,
}

impl Counts {
    /// Counts a list of findings.
    pub(crate) fn of<'a>(diagnostics: impl IntoIterator<Item = &'a Diagnostic>) -> Self {
        let mut counts = Self::default();
        for diagnostic in diagnostics {
            match diagnostic.severity() {
                Severity::Error => counts.errors += 1,
                Severity::Warning => counts.warnings += 1,
                Severity::Note => counts.notes += 1,
            }
            counts.accepted += usize::from(diagnostic.accepted.is_some());
        }
        counts
    }
}

impl<'a> std::iter::Sum<&'a Self> for Counts {
    fn sum<I: Iterator<Item = &'a Self>>(all: I) -> Self {
        all.fold(Self::default(), |sum, one| Self {
            errors: sum.errors + one.errors,
            warnings: sum.warnings + one.warnings,
            notes: sum.notes + one.notes,
            accepted: sum.accepted + one.accepted,
        })
    }
}

/// `"3 errors, 2 warnings, 1 note (1 accepted)"`; `"no findings"`.
impl std::fmt::Display for Counts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let kinds = [(self.errors, "error"), (self.warnings, "warning"), (self.notes, "note")];
        let some: Vec<String> = kinds.iter().filter(|(n, _)| *n > 0).map(|(n, word)| count(*n, word, None)).collect();
        if some.is_empty() {
            return f.write_str("no findings");
        }
        f.write_str(&some.join(", "))?;
        if self.accepted > 0 { write!(f, " ({} accepted)", self.accepted) } else { Ok(()) }
    }
}

//! What the compiler found, in the JSON.

use schemars::JsonSchema;
use serde::Serialize;

use crate::diag::Diagnostic;

/// Something that the compiler found.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Finding {
    /// The rule's stable name.
    pub rule: &'static str,
    /// "warning" or "note": with an error there is no packet.
    pub severity: &'static str,
    /// What was found, in one line.
    pub title: String,
    /// What it is about: zone numbers and names.
    pub about: Vec<String>,
    /// The reason for which the site accepts it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub accepted: Option<String>,
}

/// The findings, in the order of the source.
pub fn findings(diagnostics: &[Diagnostic]) -> Vec<Finding> {
    diagnostics
        .iter()
        .map(|found| Finding {
            rule: found.rule.slug,
            severity: found.severity().word(),
            title: found.title.clone(),
            about: found.subjects.clone(),
            accepted: found.accepted.clone(),
        })
        .collect()
}

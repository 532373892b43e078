//! What the compiler found, in the JSON.

use schemars::JsonSchema;
use serde::Serialize;

use crate::diag::Diagnostic;

/// Something that the compiler found.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct Finding {
    /// The rule's stable name.
    pub(crate) rule: &'static str,
    /// "warning" or "note": with an error there is no packet.
    pub(crate) severity: &'static str,
    /// What was found, in one line.
    pub(crate) title: String,
    /// What it is about: zone numbers and names.
    pub(crate) about: Vec<String>,
    /// The reason for which the site accepts it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) accepted: Option<String>,
}

/// The findings, in the order of the source.
pub(crate) fn findings(diagnostics: &[Diagnostic]) -> Vec<Finding> {
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

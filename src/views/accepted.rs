//! What a spec accepts, beside what a sheet says of it.

use crate::compiled::Compiled;
use crate::diag::Diagnostic;

/// Why a finding about something is accepted: "accepted: barred since 1868"; empty where none is.
pub(super) fn accepted(compiled: &Compiled, rule: &str, subject: &str) -> String {
    let about = |found: &&Diagnostic| found.rule.slug == rule && found.subjects.iter().any(|other| other == subject);
    let reason = compiled.findings.iter().filter(about).find_map(|found| found.accepted.as_ref());
    reason.map(|reason| format!("accepted: {reason}")).unwrap_or_default()
}

//! What a spec accepts, beside what a sheet says of it.

use crate::compiled::Compiled;
use crate::diag::Diagnostic;

/// Why a finding about something is accepted: "accepted: barred since 1868"; empty where none is.
pub(super) fn accepted(compiled: &Compiled, rule: &str, subject: &str) -> String {
    let about = |found: &&Diagnostic| found.rule.slug == rule && found.subjects.iter().any(|other| other == subject);
    // Few are accepted, so that is asked first.
    let mut accepted = compiled.findings.iter().filter(|found| found.accepted.is_some());
    let reason = accepted.find(about).and_then(|found| found.accepted.as_ref());
    reason.map(|reason| format!("accepted: {reason}")).unwrap_or_default()
}

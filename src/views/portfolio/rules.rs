//! What was found on many sites, rule by rule. Accepted findings count as findings, as `check` counts them, and once more
//! on their own.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::Placed;
use crate::diag::{Diagnostic, Severity};
use crate::views::Table;

/// The columns.
const COLUMNS: [&str; 6] = ["rule", "severity", "findings", "accepted", "sites", "first folder"];

/// What a rule found on one site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Found {
    severity: Severity,
    findings: usize,
    /// How many of them the site accepts.
    accepted: usize,
}

/// The findings of a site by the slug of their rule.
pub(super) fn found(diagnostics: &[Diagnostic]) -> BTreeMap<String, Found> {
    let mut found: BTreeMap<String, Found> = BTreeMap::new();
    for finding in diagnostics {
        let none = Found { severity: finding.severity(), findings: 0, accepted: 0 };
        let of_rule = found.entry(finding.rule.slug.to_owned()).or_insert(none);
        of_rule.findings += 1;
        of_rule.accepted += usize::from(finding.accepted.is_some());
    }
    found
}

/// A row for each rule that found something: the most severe first, then those with most findings.
pub(crate) fn table(sites: &[Placed]) -> Table {
    let mut rules: BTreeMap<&str, (Found, usize, &str)> = BTreeMap::new();
    for Placed { folder, kept, .. } in sites {
        for (slug, on_site) in &kept.found {
            let none = Found { findings: 0, accepted: 0, ..*on_site };
            let (found, sites, _) = rules.entry(slug).or_insert((none, 0, folder));
            found.findings += on_site.findings;
            found.accepted += on_site.accepted;
            *sites += 1;
        }
    }
    let mut rules: Vec<_> = rules.into_iter().collect();
    rules.sort_by_key(|(_, (found, ..))| Reverse((found.severity, found.findings)));
    let row = |(slug, (found, sites, first)): (&str, (Found, usize, &str))| {
        let counted = [found.findings, found.accepted, sites].map(|count| count.to_string());
        let [findings, accepted, sites] = counted;
        vec![slug.to_owned(), found.severity.word().to_owned(), findings, accepted, sites, first.to_owned()]
    };
    Table { columns: COLUMNS.to_vec(), rows: rules.into_iter().map(row).collect() }
}

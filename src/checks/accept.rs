//! Accepted findings: `accept` marks what it names, and an `accept` that names nothing is reported.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::wording::did_you_mean;
use crate::diag::{Basis, Certainty, Diagnostic, Rule, Severity};
use crate::model::{Accept, Device, Site};
use crate::rule;

static ACCEPT_UNUSED: Rule = rule!("accept-unused", Basis::NoEffect, "an accept for a finding that is not there");
static ACCEPT_REFUSED: Rule =
    rule!("accept-refused", Basis::Contradiction, "an accept for an error or an unknown rule");

/// The rules of accepting.
pub(crate) static RULES: &[&Rule] = &[&ACCEPT_REFUSED, &ACCEPT_UNUSED];

/// Marks the accepted findings, and adds what is wrong with the accepts themselves.
pub(crate) fn apply(site: &Site, rules: &[&'static Rule], mut found: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let mut about_accepts = Vec::new();
    let is_sound = site.sound && found.iter().all(|finding| finding.severity() < Severity::Error);
    // The findings that an accept may name, by rule, and by rule and subject.
    let mut by_rule: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let mut by_subject: BTreeMap<(&str, String), Vec<usize>> = BTreeMap::new();
    for (at, finding) in found.iter().enumerate() {
        by_rule.entry(finding.rule.slug).or_default().push(at);
        for subject in finding.subjects.iter().collect::<BTreeSet<_>>() {
            by_subject.entry((finding.rule.slug, subject.clone())).or_default().push(at);
        }
    }
    for accept in &site.accepts {
        let Some(rule) = rules.iter().find(|rule| rule.slug == accept.rule.value) else {
            about_accepts.push(unknown(accept, rules));
            continue;
        };
        if rule.severity() == Severity::Error {
            about_accepts.push(refused(accept, rule));
            continue;
        }
        let named = match &accept.subject {
            Some(subject) => by_subject.get(&(rule.slug, subject.value.clone())),
            None => by_rule.get(rule.slug),
        };
        for at in named.into_iter().flatten() {
            if let Some(finding) = found.get_mut(*at) {
                finding.accepted = Some(accept.because.clone());
            }
        }
        // An error that a check tells may keep another from its finding, as one in the spec does.
        if named.is_none() && is_sound {
            about_accepts.push(unused(accept));
        }
    }
    found.extend(about_accepts);
    found.sort_by(Diagnostic::in_order);
    found
}

/// True where the spec accepts what a rule says of a subject; an error cannot be accepted.
pub(crate) fn is_accepted(site: &Site, rule: &str, subject: &str) -> bool {
    let is_error = super::all().any(|check| check.rule.slug == rule && check.rule.severity() == Severity::Error);
    let names = |accept: &Accept| {
        accept.rule.value == rule && accept.subject.as_ref().is_none_or(|accepted| accepted.value == subject)
    };
    !is_error && site.accepts.iter().any(names)
}

/// The same of a device, by its zone or by its name.
pub(crate) fn is_accepted_of(site: &Site, rule: &str, device: &Device) -> bool {
    let zone = device.zone.map(|zone| site.zones[zone].number.value.to_string());
    let subjects = zone.into_iter().chain(device.name.as_ref().map(|name| name.value.clone()));
    subjects.into_iter().any(|subject| is_accepted(site, rule, &subject))
}

fn unknown(accept: &Accept, rules: &[&'static Rule]) -> Diagnostic {
    let near = did_you_mean(&accept.rule.value, rules.iter().map(|rule| rule.slug));
    let found = Diagnostic::new(&ACCEPT_REFUSED, accept.rule.span, format!("there is no rule `{}`", accept.rule.value))
        .here("no such rule")
        .why("An accept names the rule by the slug that stands in its message.");
    match near {
        Some(near) => found.help(format!("Did you mean `{near}`?")).edit(
            Certainty::Likely,
            accept.rule.span,
            format!("\"{near}\""),
        ),
        None => found.help("`loopwright explain --list` lists them."),
    }
}

fn refused(accept: &Accept, rule: &Rule) -> Diagnostic {
    Diagnostic::new(&ACCEPT_REFUSED, accept.rule.span, format!("`{}` is an error and cannot be accepted", rule.slug))
        .here("an error")
        .why("An error is a contradiction or a matter of physics: no reason makes the wall behave otherwise. Only warnings and notes can be accepted.")
        .help("Correct what the error names, and remove this accept.")
}

fn unused(accept: &Accept) -> Diagnostic {
    let about = accept.subject.as_ref().map(|subject| format!(" about {}", subject.value)).unwrap_or_default();
    Diagnostic::new(
        &ACCEPT_UNUSED,
        accept.rule.span,
        format!("nothing of `{}`{about} is found any more", accept.rule.value),
    )
    .here("accepts nothing")
    .why("The finding is gone, or its zone has another number now. Left standing, this accept would hide the next one.")
    .help("Remove it, or correct the zone or name it is about.")
}

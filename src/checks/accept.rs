//! Accepted findings: `accept` marks what it names, and an `accept` that names nothing is reported.

use std::cmp::Reverse;
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
    let is_sound = site.sound && !found.iter().any(Diagnostic::is_error);
    // The findings that an accept may name, by rule and subject, and all of a rule without one.
    let mut named: BTreeMap<(&str, Option<String>), Vec<usize>> = BTreeMap::new();
    for (at, finding) in found.iter().enumerate() {
        let subjects = finding.subjects.iter().cloned().map(Some).collect::<BTreeSet<_>>();
        for subject in subjects.into_iter().chain([None]) {
            named.entry((finding.rule.slug, subject)).or_default().push(at);
        }
    }
    // Those that say most come first: what they leave is for the others.
    let mut accepts: Vec<&Accept> = site.accepts.iter().collect();
    accepts.sort_by_key(|accept| Reverse(accept.subjects().count()));
    let mut accepted_by: BTreeMap<usize, &Accept> = BTreeMap::new();
    for accept in accepts {
        let Some(rule) = rules.iter().find(|rule| rule.slug == accept.rule.value) else {
            about_accepts.push(unknown(accept, rules));
            continue;
        };
        if rule.severity() == Severity::Error {
            about_accepts.push(refused(accept, rule));
            continue;
        }
        let (mut takes, mut earlier) = (false, None);
        for at in named.get(&(rule.slug, accept.subjects().next().map(str::to_owned))).into_iter().flatten() {
            let Some(finding) = found.get_mut(*at).filter(|finding| accept.names(&finding.subjects)) else { continue };
            if let Some(other) = accepted_by.get(at) {
                earlier = Some(*other);
                continue;
            }
            finding.accepted = Some(accept.because.clone());
            accepted_by.insert(*at, accept);
            takes = true;
        }
        // An error that a check tells may keep another from its finding, as one in the spec does.
        match earlier {
            _ if takes => {}
            Some(earlier) => about_accepts.push(repeated(accept, earlier)),
            None if is_sound => about_accepts.push(unused(accept)),
            None => {}
        }
    }
    found.extend(about_accepts);
    found.sort_by(Diagnostic::in_order);
    found
}

/// True where the spec accepts what a rule says of a subject; an error cannot be accepted.
pub(crate) fn is_accepted(site: &Site, rule: &str, subject: &str) -> bool {
    is_accepted_of_all(site, rule, &[subject.to_owned()])
}

fn is_accepted_of_all(site: &Site, rule: &str, subjects: &[String]) -> bool {
    let is_error = super::all().any(|check| check.rule.slug == rule && check.rule.severity() == Severity::Error);
    let names = |accept: &Accept| accept.rule.value == rule && accept.names(subjects);
    !is_error && site.accepts.iter().any(names)
}

/// The same of a device, by its zone or by its name.
pub(crate) fn is_accepted_of(site: &Site, rule: &str, device: &Device) -> bool {
    // By either, or by both.
    let zone = device.zone.map(|zone| site.zones[zone].number.value.to_string());
    let subjects = zone.into_iter().chain(device.name.as_ref().map(|name| name.value.clone()));
    is_accepted_of_all(site, rule, &subjects.collect::<Vec<_>>())
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
    let title = format!("nothing of `{}`{} is found any more", accept.rule.value, about(accept));
    Diagnostic::new(&ACCEPT_UNUSED, accept.rule.span, title)
    .here("accepts nothing")
    .why("The finding is gone, or its zone has another number now. Left standing, this accept would hide the next one.")
    .help("Remove it, or correct the zone or name it is about.")
}

/// An accept of what an earlier one accepts, or one that says more exactly what it is about.
fn repeated(accept: &Accept, earlier: &Accept) -> Diagnostic {
    let title = format!("all of `{}`{} is accepted already", accept.rule.value, about(accept));
    Diagnostic::new(&ACCEPT_UNUSED, accept.rule.span, title)
        .here("accepts nothing more")
        .also(earlier.rule.span, "accepted here, with this reason")
        .why("One reason is printed for a finding. This one is read nowhere.")
        .help("Remove one of the two, and keep the reason that holds.")
}

/// What an accept is about, in words.
fn about(accept: &Accept) -> String {
    let subjects: Vec<&str> = accept.subjects().collect();
    if subjects.is_empty() { String::new() } else { format!(" about {}", subjects.join(" and ")) }
}

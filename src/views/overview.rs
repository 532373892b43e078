//! Overview: what the site has, how far it can grow, what is open, and what is filled in by hand.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::titles::{on_paper, subject};
use super::{Document, Orientation, View, growth, value};
use crate::base::Id;
use crate::base::wording::count;
use crate::calc::wear::{self, Wear, Worn};
use crate::compiled::Compiled;
use crate::diag::{Diagnostic, Severity};
use crate::model::{Board, BoardKind, CableType, DeviceKind, Part, Site};
use crate::quantity::{Metres, print};
use crate::template;
use crate::terms::Basis;
use crate::words::{self, Paper};

/// The overview.
pub(crate) static DOCUMENT: Document = Document {
    name: "overview",
    title: "Overview",
    about: "what there is, what room is left, what is open or was accepted, what is filled in by hand",
    orientation: Orientation::Portrait,
    template: template!("overview"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Overview {
    facts: Vec<Fact>,
    cables: Vec<CableLine>,
    growth: Vec<growth::Line>,
    kept: Vec<growth::Kept>,
    warnings: Vec<Finding>,
    notes: Vec<Finding>,
    accepted: Vec<Accepted>,
    blanks: Vec<String>,
}

#[derive(Serialize)]
struct Fact {
    what: &'static str,
    figure: String,
}

#[derive(Serialize)]
struct CableLine {
    kind: String,
    count: String,
    length: String,
}

#[derive(Serialize)]
struct Finding {
    title: String,
    help: String,
    basis: String,
    rule: &'static str,
}

#[derive(Serialize)]
struct Accepted {
    title: String,
    because: String,
    rule: &'static str,
}

fn view(compiled: &Compiled) -> Value {
    let site = &compiled.site;
    value(&Overview {
        facts: facts(compiled),
        cables: cables(compiled),
        growth: growth::lines(compiled),
        kept: growth::kept(compiled),
        warnings: findings(compiled, Severity::Warning),
        notes: findings(compiled, Severity::Note),
        accepted: accepted(compiled),
        blanks: blanks(site),
    })
}

fn facts(compiled: &Compiled) -> Vec<Fact> {
    let Compiled { site, wiring, .. } = compiled;
    let length: Metres = wiring.cables.iter().filter_map(|c| site.runs[c.run].length.as_ref()).map(|l| l.value).sum();
    let cables = format!("{}, {} in all", wiring.cables.len(), print::length(length, site.lengths));
    let wired = site.zones.iter().filter(|zone| zone.wired.is_some()).count();
    let wireless = site.zones.iter().filter(|zone| zone.wireless.is_some()).count();
    let boards = site.boards.iter().map(|board| board_fact(&board.kind));
    let devices = site.devices.iter().map(|device| device_fact(device.kind));
    let mut counted: BTreeMap<(u32, &'static str), usize> = BTreeMap::new();
    for fact in boards.chain(devices) {
        *counted.entry(fact).or_default() += 1;
    }
    let counted = counted.into_iter().map(|((_, what), count)| (what, count.to_string()));
    let reserved = site.zones.iter().filter(|zone| zone.reserved.is_some()).count();
    let first = [
        ("areas", site.areas.len()),
        ("zones, wired", wired),
        ("zones, wireless", wireless),
        ("zones kept for later", reserved),
    ];
    first
        .map(|(what, count)| (what, count.to_string()))
        .into_iter()
        .chain(counted)
        .chain([("cables", cables)])
        .filter(|(_, figure)| figure != "0")
        .map(|(what, figure)| Fact { what, figure })
        .collect()
}

/// The line that counts a kind of board, with its place on the page.
fn board_fact(kind: &BoardKind) -> (u32, &'static str) {
    match kind {
        BoardKind::Panel => (1, "panels"),
        BoardKind::PowerSupply => (2, "power supplies"),
        BoardKind::Module { .. } => (3, "modules"),
        BoardKind::Receiver => (4, "wireless receivers"),
        BoardKind::Keypad { .. } => (5, "keypads"),
        BoardKind::Strip { .. } => (6, "terminal strips"),
        BoardKind::JointBox { .. } => (7, "joint boxes"),
    }
}

/// The same of a kind of device; devices stand behind the boards.
fn device_fact(kind: DeviceKind) -> (u32, &'static str) {
    match kind {
        DeviceKind::Contact => (11, "contacts"),
        DeviceKind::Detector => (12, "wired detectors"),
        DeviceKind::Wireless => (13, "wireless detectors"),
        DeviceKind::Sounder => (14, "sounders"),
        DeviceKind::Fault => (15, "fault contacts watched"),
        DeviceKind::Load => (16, "loads on outputs"),
    }
}

fn cables(compiled: &Compiled) -> Vec<CableLine> {
    let Compiled { site, wiring, .. } = compiled;
    let line = |kind: Id<CableType>, item: &CableType, existing: bool| {
        let of_kind = || wiring.cables.iter().filter(|c| c.kind == kind && site.runs[c.run].existing == existing);
        let length: Metres = of_kind().filter_map(|c| site.runs[c.run].length.as_ref()).map(|l| l.value).sum();
        (of_kind().count() > 0).then(|| CableLine {
            kind: if existing { format!("{}, existing", item.described()) } else { item.described() },
            count: of_kind().count().to_string(),
            length: match of_kind().filter(|c| site.runs[c.run].length.is_none()).count() {
                0 => print::length(length, site.lengths),
                unknown if unknown == of_kind().count() => "not known".to_owned(),
                unknown => format!("{}, and {unknown} of unknown length", print::length(length, site.lengths)),
            },
        })
    };
    let both = |(kind, item)| [false, true].into_iter().filter_map(move |existing| line(kind, item, existing));
    let mut lines: Vec<CableLine> = site.cables.entries().flat_map(both).collect();
    lines.sort_by(|a, b| natural(&a.kind, &b.kind));
    lines
}

/// Open findings; those of one rule with one help are told together, by what they are about.
fn findings(compiled: &Compiled, severity: Severity) -> Vec<Finding> {
    let mut groups: Vec<Vec<&Diagnostic>> = Vec::new();
    for found in compiled.findings.iter().filter(|d| d.severity() == severity && d.accepted.is_none()) {
        let alike = |group: &&mut Vec<&Diagnostic>| {
            group.first().is_some_and(|first| {
                first.rule == found.rule
                    && first.help == found.help
                    && !found.subjects.is_empty()
                    && !first.subjects.is_empty()
            })
        };
        match groups.iter_mut().find(alike) {
            Some(group) => group.push(found),
            None => groups.push(vec![found]),
        }
    }
    groups.iter().filter_map(|group| finding(&compiled.site, group)).collect()
}

fn finding(site: &Site, group: &[&Diagnostic]) -> Option<Finding> {
    let first = group.first()?;
    let title = if group.len() == 1 {
        first.title.clone()
    } else {
        let named = |found: &&Diagnostic| found.subjects.first().map(|name| subject(site, &found.title, name));
        let subjects: Vec<String> = group.iter().filter_map(named).collect();
        // A title may have commas of its own.
        let between = if subjects.iter().any(|subject| subject.contains(',')) { "; " } else { ", " };
        format!("{}: {}", first.rule.summary, subjects.join(between))
    };
    let basis = first.rule.basis.words();
    Some(Finding { title: on_paper(site, &title), help: on_paper(site, &first.help), basis, rule: first.rule.slug })
}

fn accepted(compiled: &Compiled) -> Vec<Accepted> {
    let line = |d: &Diagnostic| {
        Some(Accepted { title: on_paper(&compiled.site, &d.title), because: d.accepted.clone()?, rule: d.rule.slug })
    };
    compiled.findings.iter().filter_map(line).collect()
}

/// What paper asks of a person, because it is no matter of the spec or was not in it.
fn blanks(site: &Site) -> Vec<String> {
    let mut blanks = vec!["Installed by, and the day".to_owned()];
    blanks.push("Permit number, where the authority asks for a permit".to_owned());
    if site.monitoring.is_some() || !site.communicators.is_empty() {
        blanks.push("Account number with the monitoring service".to_owned());
        blanks.push("Telephone number of the monitoring service".to_owned());
    }
    for (id, board) in site.boards.entries() {
        let Some(battery) = &board.battery else { continue };
        let days = std::iter::once(battery.installed).chain(battery.others.iter().map(|other| other.installed));
        blanks.extend(
            days.filter(Option::is_none).map(|_| format!("Day the battery of {} was put in", Paper.board(site, id))),
        );
    }
    let of_detector = |wear: Wear| match wear.worn {
        Worn::Detector(id) if wear.since.is_none() => Some(words::placed(site, id)),
        Worn::Detector(_) | Worn::Battery(..) | Worn::OwnBattery(_) | Worn::Transmitter(_) => None,
    };
    let unmade: Vec<String> = wear::of_site(site).into_iter().filter_map(of_detector).collect();
    if !unmade.is_empty() {
        blanks.push(format!("Day on the label on which each was made: {}", unmade.join("; ")));
    }
    let undated = site.devices.iter().filter(|d| d.kind == DeviceKind::Wireless && d.battery.is_none()).count();
    if undated > 0 {
        let detectors = count(undated, "wireless detector", None);
        blanks.push(format!("Day the batteries of {detectors} were put in"));
    }
    let generic = site.parts.entries().filter(|(id, part)| part.basis == Some(Basis::Generic) && is_used(site, *id));
    let generic: Vec<&str> = generic.map(|(_, part)| part.title.as_str()).collect();
    if !generic.is_empty() {
        blanks.push(format!("Figures held against the data sheets of the parts bought: {}", generic.join("; ")));
    }
    blanks
}

fn is_used(site: &Site, part: Id<Part>) -> bool {
    let board = |board: &Board| board.part == Some(part);
    site.boards.iter().any(board) || site.devices.iter().any(|device| device.part == Some(part))
}

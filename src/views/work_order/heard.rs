//! What is tried because it is set or reported otherwise, or because a way to the service was touched, in the words of the
//! commissioning sheet.

use std::collections::BTreeSet;

use super::super::commissioning_sheet::heard::{ALONE, CUT};
use super::super::programming_sheet::{self, CrossRow, lines};
use super::super::sheet_lines::Difference;
use super::super::zone_descriptions::lines::{EVENTS, NUMBER, OF_ZONE, UNTRIED};
use super::place::Step;
use super::tried::{is_touched, is_under, renewed};
use super::{Sides, service, touched};
use crate::base::Id;
use crate::base::wording::list;
use crate::diff::{Change, Kind, What};
use crate::model::{Communicator, Owner, Site};
use crate::terms::JackKind;

/// What is tried of rows that differ: areas by a watch, zones that confirm each other, keys, events that are no zone's.
pub(super) fn rows(sides: &Sides<'_>, programmed: &[Difference], reported: &[Difference]) -> Vec<Step> {
    let of_list = |list: &'static str| {
        programmed.iter().filter(move |found| found.new.as_ref().is_some_and(|line| line.list == list))
    };
    let mut texts: Vec<String> = of_list(lines::AREAS).filter_map(by_a_watch).collect();
    let confirming: BTreeSet<&str> =
        of_list(lines::CONFIRMING).filter_map(|found| Some(found.new.as_ref()?.key.as_str())).collect();
    let rules = programming_sheet::confirming(&sides.new.site);
    texts.extend(rules.iter().filter(|rule| confirming.contains(rule.zones())).map(CrossRow::to_try));
    let heard = if service::is_kept(sides) { ", heard at the service with its number" } else { "" };
    let key = |found: &Difference| {
        let said = &found.new.as_ref()?.said;
        Some(format!("{}: pressed as the keypad's sheet says{heard}", crate::base::wording::capital(said)))
    };
    texts.extend(of_list(lines::KEYS).filter_map(key));
    let events: Vec<&str> = reported
        .iter()
        .filter_map(|found| found.new.as_ref())
        .filter(|line| line.list == EVENTS && line.cell(NUMBER) != OF_ZONE && !UNTRIED.contains(&line.key.as_str()))
        .map(|line| line.said.as_str())
        .collect();
    if !events.is_empty() {
        texts.push(format!(
            "Heard at the service, as its list has it now: {}. Raise only what can be raised without harm: never short an output, a bus or a battery; what is left untried is struck out",
            list(&events, "and")
        ));
    }
    texts.into_iter().map(step).collect()
}

fn step(text: String) -> Step {
    Step::new("walk-test", text)
}

/// The times of an area that are others now.
fn by_a_watch(found: &Difference) -> Option<String> {
    let line = found.new.as_ref()?;
    let times = ["entry delay", "exit delay", "abort window", "sounders stop after"];
    let had = |head: &str| found.old.as_ref().map_or("", |old| old.cell(head));
    let other = times.iter().filter(|head| !line.cell(head).is_empty() && line.cell(head) != had(head));
    let other: Vec<String> = other.map(|head| format!("{head} {}", line.cell(head))).collect();
    let said = crate::base::wording::capital(&line.said);
    (!other.is_empty()).then(|| format!("{said}, by a watch, from the keypad's first beep: {}", list(&other, "and")))
}

/// The ways that are new or other, whose cable or board was touched, or whose reports have another form.
pub(super) fn ways(sides: &Sides<'_>, programmed: &[Difference]) -> Vec<Step> {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let (owners, renewed) = (touched::owners(sides), renewed(sides));
    let reports = programmed.iter().any(|found| found.new.as_ref().is_some_and(|line| line.list == lines::REPORTS));
    let boards: BTreeSet<&str> = sides
        .changes(Kind::Board)
        .filter(|change| is_touched(change))
        .filter_map(|change| Some(change.new.as_ref()?.0.key.as_str()))
        .collect();
    let other = |name: &str| {
        let is_other = |change: &Change| change.old.is_none() || !change.fields.is_empty();
        let is_it = |change: &Change| change.new.as_ref().is_some_and(|(way, _)| way.key == name);
        sides.changes(Kind::Communicator).any(|change| is_it(change) && is_other(change))
    };
    let mut steps = Vec::new();
    for (id, way) in new.communicators.entries() {
        let at_board = way.starts_at().is_some_and(|board| {
            boards.contains(new.boards[board].name.value.as_str()) || is_under(new, board, &renewed)
        });
        let wired = at_board || owners.contains(&Owner::Communicator(id)) || other(&way.name.value);
        if wired {
            steps.extend(phones(way));
        }
        if wired || reports {
            steps.push(format!("{}: a test report heard at the service; {ALONE}; {CUT}", way.title));
        }
    }
    // A line that the board has left.
    for change in sides.changes(Kind::Communicator).filter(|change| change.what() == What::Removed) {
        let way = change.old.as_ref().and_then(|(subject, _)| way_named(old, &subject.key));
        let line = way.map(|way| &old.communicators[way]).filter(|way| is_telephone(way));
        steps.extend(line.map(|line| {
            format!("House phones on {}: each has its dial tone, with the board off the line", line.title)
        }));
    }
    steps.into_iter().map(step).collect()
}

fn way_named(site: &Site, name: &str) -> Option<Id<Communicator>> {
    site.communicator_named(name).map(|(id, _)| id)
}

fn is_telephone(way: &Communicator) -> bool {
    way.is_telephone()
}

/// What the phones of the house must still do on a line of which the jack or a conductor was touched.
fn phones(way: &Communicator) -> Option<String> {
    let seized = "; with one off the hook, an alarm is heard all the same, for the board takes the line";
    let seized = if way.jack == Some(JackKind::LineSeizure) { seized } else { "" };
    is_telephone(way).then(|| format!("House phones on {}: each has its dial tone{seized}", way.title))
}

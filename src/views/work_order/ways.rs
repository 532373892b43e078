//! Steps for the ways to the monitoring service: the jack of a telephone line, the antenna of a radio, and what the alarm's own supply feeds there.

use std::collections::BTreeMap;

use super::Sides;
use super::boards::after_it_is_down;
use super::cables::{ends, is_whole, landed_at};
use super::place::{Places, in_room};
use super::resistors::is_there;
use crate::base::Id;
use crate::base::wording::capital;
use crate::diff::Kind;
use crate::materials::goods::{Goods, at_end_of, is_bought};
use crate::model::{Communicator, HopRef, Owner, Room, Run, Site};
use crate::profiles::connectors::BARS;
use crate::register::End;
use crate::terms::JackKind;

/// Adds the steps of every jack, antenna and powered device that is new, gone, exchanged or somewhere else.
pub(crate) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for change in sides.changes(Kind::Communicator).filter(|change| change.new.is_none()) {
        let way = change.old.as_ref().and_then(|(subject, _)| old.communicator_named(&subject.key));
        if let Some((id, way)) = way {
            for (title, at) in things(old, id) {
                let phones = phones_stay(way, &title);
                places.add(old, at.room, "remove", format!("{title} of {}{phones}", way.title));
            }
        }
    }
    for (is, way) in new.communicators.entries() {
        let name = sides.name_before(Kind::Communicator, &way.name.value);
        let was = old.communicator_named(&name);
        let mut before = was.map(|(was, _)| things(old, was)).unwrap_or_default();
        let mut fresh = Vec::new();
        let now = things(new, is);
        // Only what stands elsewhere now, at the end of a cable that is landed anew, is moved.
        for (title, at) in &now {
            match before.remove(title) {
                None => fresh.push((title, at, None)),
                Some(had) if is_landed(sides, at) && in_room(old, had.room) != in_room(new, at.room) => {
                    let to = in_room(new, at.room);
                    let phones = was.map(|(_, was)| phones_stay(was, title)).unwrap_or_default();
                    let text = format!("{title} of {}: take it down; it goes up again{to}{phones}", way.title);
                    places.add(old, had.room, "remove", text);
                    let when = after_it_is_down((old, had.room), (new, at.room), places);
                    fresh.push((title, at, Some(when)));
                }
                Some(_) => {}
            }
        }
        for (title, at) in &before {
            let phones = was.map(|(_, was)| phones_stay(was, title)).unwrap_or_default();
            places.add(old, at.room, "remove", format!("{title} of {}{phones}", way.title));
        }
        for (title, at, moved) in fresh {
            let is_moved = moved.is_some();
            let is_fitted = at_end_of(way).is_some_and(|what| what.title() == *title);
            if was.is_none() && is_fitted && is_there(sides, Owner::Communicator(is), at.run) {
                places.add(new, at.room, "inspect", format!("{title} of {}: it is there", way.title));
                continue;
            }
            places.mount(new, at.room, format!("{title} of {}", way.title), moved.unwrap_or_default().into());
            if was.is_some() && !is_moved {
                back_on(sides, at, before.is_empty(), places);
            }
        }
    }
}

/// What is joined where the jack comes out through which the line reaches the house phones: nothing else joins the two pairs.
fn phones_stay(way: &Communicator, title: &str) -> String {
    if way.jack != Some(JackKind::LineSeizure) || title != Goods::Jack(JackKind::LineSeizure).title() {
        return String::new();
    }
    format!(
        "; the line from the street reaches the house phones only through it: join the house wires that were on its positions {BARS}, with connectors for telephone wire. Or leave it in place with no plug in it: its bars join them"
    )
}

/// Where something stands: at the end of a run, where the spec has one.
#[derive(Clone, Copy, Default)]
struct At {
    run: Option<Id<Run>>,
    room: Option<Id<Room>>,
}

/// What is bought for a way, by what it is called. The jack or antenna stands at the end of the first cable, a powered device at that of
/// the cable that is pulled to it or feeds it.
fn things(site: &Site, id: Id<Communicator>) -> BTreeMap<String, At> {
    let way = &site.communicators[id];
    let at = |run: Option<Id<Run>>| At { run, room: run.and_then(|run| site.runs[run].room) };
    let first = site.runs_of(Owner::Communicator(id)).next().map(|(run, _)| run);
    let end = at_end_of(way).map(|what| (what.title(), at(first)));
    let hops = way.hops.iter().enumerate().filter(|(hop, _)| is_bought(site, HopRef { line: id, hop: *hop }));
    let at_hop = |hop: usize| {
        let is_its = |run: &Id<Run>| site.hop_at_end(*run) == Some(HopRef { line: id, hop });
        at(site.runs.entries().map(|(run, _)| run).find(is_its))
    };
    end.into_iter().chain(hops.map(|(nth, hop)| (capital(&hop.name.value), at_hop(nth)))).collect()
}

/// Whether the cable to a place is landed as a whole.
fn is_landed(sides: &Sides<'_>, at: &At) -> bool {
    let cable = at.run.and_then(|run| sides.new.wiring.cable_of(run));
    cable.is_some_and(|cable| is_whole(sides, cable))
}

/// The cables that stay and land on something that is new at their end; in place of nothing, where `first`.
fn back_on(sides: &Sides<'_>, at: &At, first: bool, places: &mut Places) {
    let site = &sides.new.site;
    let Some(run) = at.run else { return };
    let after = site.runs_after(run).map(|(after, _)| (after, End::Near));
    for (run, end) in std::iter::once((run, End::Far)).chain(after) {
        let Some(cable) = sides.new.wiring.cable_of(run).filter(|cable| !is_whole(sides, cable)) else { continue };
        let here = if end == End::Near { ends(site, &sides.new_labels, cable).near_words } else { String::new() };
        let landed = landed_at(sides.new, cable, end, &here);
        if !landed.is_empty() {
            let from = if first { "" } else { "off the old one; on the new one: " };
            places.add(site, at.room, "land", format!("{}: {from}{landed}", cable.label));
        }
    }
}

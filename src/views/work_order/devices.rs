//! Steps for contacts, detectors and sounders: take down, mount, exchange; and the resistors across their contacts.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;

use super::aside::is_set_aside;
use super::boards::{after_it_is_down, after_one_is_down, at_height};
use super::cables::{at_device, landed_anew};
use super::place::{Places, Stage, Step, When, in_room};
use super::{Item, Sides};
use crate::base::Id;
use crate::diff::{Change, Kind, What, is_later};
use crate::model::{Device, DeviceKind, Mounted, Run, Site};
use crate::record::fact;
use crate::words;

/// Adds the steps of every device that is new, gone or different.
pub(crate) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for change in sides.changes(Kind::Device) {
        let was = change.old.as_ref().and_then(|(subject, _)| sides.old_keys.devices.get(&subject.key)).copied();
        let is = change.new.as_ref().and_then(|(subject, _)| sides.new_keys.devices.get(&subject.key)).copied();
        let is_aside = change.old.as_ref().is_some_and(|(was, _)| is_set_aside(sides, was));
        let at_a_board = |site: &Site, id: Option<Id<Device>>| id.is_some_and(|id| site.devices[id].board.is_some());
        if at_a_board(old, was) || at_a_board(new, is) {
            // It comes and goes with its board; what is fitted at one that is exchanged is told with that.
            let board = is.and_then(|is| new.devices[is].board.as_ref());
            if !board.is_some_and(|board| sides.exchanged.has(board.value, false)) {
                shunts(sides, was, is, places);
            }
            continue;
        }
        match (was, is) {
            (Some(was), None) => {
                let aside = if is_aside { ": set aside already" } else { "" };
                add(old, was, "remove", called(old, was) + aside, places);
            }
            (None, Some(is)) => {
                let when = after_one_is_down(sides, change, new.devices[is].room, places);
                mount(new, is, true, when, places);
            }
            // What cannot be moved is only written down otherwise.
            (Some(_), Some(is)) if new.devices[is].fixed => {}
            (Some(was), Some(is)) => {
                let place = has_moved(new, change, is);
                let part = change.field(fact::Device::part).is_some();
                let is_another = change.is_another();
                if place {
                    let to = in_room(new, new.devices[is].room);
                    let again =
                        if is_another { String::new() } else { format!(": take it down; it goes up again{to}") };
                    add(old, was, "remove", format!("{}{again}", called(old, was)), places);
                    let rooms = ((old, old.devices[was].room), (new, new.devices[is].room));
                    let when = if is_another {
                        after_one_is_down(sides, change, new.devices[is].room, places)
                    } else {
                        after_it_is_down(rooms.0, rooms.1, places).into()
                    };
                    mount(new, is, false, when, places);
                } else if is_another {
                    let (before, now, day) = if part {
                        (title(old, was), title(new, is), "")
                    } else {
                        let day = if new.devices[is].made.is_some() { "; write the day on it" } else { "" };
                        ("old one".to_owned(), "new one".to_owned(), day)
                    };
                    let When { words, stage } = after_one_is_down(sides, change, new.devices[is].room, places);
                    let down =
                        if is_aside { format!("the {before} is set aside") } else { format!("take down the {before}") };
                    let text = format!("{}: {down}, mount the {now}{day}{words}", called(new, is));
                    places.of_device(new, is, stage, Step::new("mount", text));
                    let too = if has_resistors(old, was) { ", resistors too" } else { "" };
                    for (label, words) in at_device(sides, is) {
                        let text = format!("{label}: off the {before}{too}; on the {now}: {words}");
                        places.add(new, new.devices[is].room, "land", text);
                    }
                } else if change.field(fact::Device::mount).is_some() && change.what() != What::Added {
                    add(new, is, "mount", format!("{}: move it{}", called(new, is), height(new, is)), places);
                }
            }
            (None, None) => {}
        }
        battery(sides, change, is, places);
        asked(sides, was.zip(is), places);
        shunts(sides, was, is, places);
        diodes(sides, was, is, places);
    }
    aim(sides, places);
}

/// Whether a device is somewhere else. A window moves to no other room, nor does what is at the end of a cable that is said to have
/// been there before and keeps its name: the room has another name, or a new wall.
pub(super) fn has_moved(site: &Site, change: &Change, is: Id<Device>) -> bool {
    let device = &site.devices[is];
    let existing = device.run.is_some_and(|run| site.runs[run].existing);
    let same_cable = change.field(fact::Device::cable).is_none();
    let stays = device.opening.is_some() || device.name.is_some() && existing && same_cable;
    change.field(fact::Device::opening).is_some() || change.field(fact::Device::room).is_some() && !stays
}

/// The detectors that stay in their rooms, in another spot or looking another way: what they reach is another part of the room.
pub(super) fn aimed(sides: &Sides<'_>) -> BTreeSet<Id<Device>> {
    let site = &sides.new.site;
    let is = |change: &Change| {
        let (spot, (subject, _)) = (change.field(fact::Device::spot)?, change.new.as_ref()?);
        let is = sides.new_keys.devices.get(&subject.key).copied()?;
        let both = spot.old.is_some() && spot.new.is_some() && site.devices[is].kind == DeviceKind::Detector;
        (both && !has_moved(site, change, is)).then_some(is)
    };
    sides.changes(Kind::Device).filter_map(is).collect()
}

/// The steps for these.
fn aim(sides: &Sides<'_>, places: &mut Places) {
    let site = &sides.new.site;
    for is in aimed(sides) {
        let device = &site.devices[is];
        let looks =
            device.hung.as_ref().and_then(|hung| hung.looks).map(|looks| format!(", and it looks {}", looks.word()));
        let text = format!(
            "{}: it hangs where the floor plan has it now{}; move it, where it is not so",
            called(site, is),
            looks.unwrap_or_default()
        );
        add(site, is, "mount", text, places);
    }
}

/// The devices that stay where they are and are exchanged, for another part or for another of the same: those that go
/// (`before`), or those that come.
pub(super) fn exchanged(sides: &Sides<'_>, before: bool) -> Vec<Id<Device>> {
    let is = |change: &Change| {
        let ((was, _), (subject, _)) = (change.old.as_ref()?, change.new.as_ref()?);
        let is = sides.new_keys.devices.get(&subject.key).copied().filter(|_| change.is_another())?;
        let stays = !has_moved(&sides.new.site, change, is) && !sides.new.site.devices[is].fixed;
        let was = sides.old_keys.devices.get(&was.key).copied();
        if before { was.filter(|_| stays) } else { stays.then_some(is) }
    };
    sides.changes(Kind::Device).filter_map(is).collect()
}

/// Whether a run ends at a device, or feeds it there.
pub(super) fn stands_at(site: &Site, run: Id<Run>, device: Id<Device>) -> bool {
    site.runs[run].mounted.iter().any(|item| match item {
        Mounted::Device(id) => *id == device,
        Mounted::Feed(fed) => fed.value == device,
        Mounted::Run(_) | Mounted::Board(_) | Mounted::Resistor(_) | Mounted::Terminator(_) | Mounted::Hop(_) => false,
    })
}

/// Whether resistors hang at a device, or across its contact.
fn has_resistors(site: &Site, device: Id<Device>) -> bool {
    let at_end = |run: &Run| run.mounted.iter().any(|item| matches!(item, Mounted::Resistor(_)));
    let runs = site.runs.entries().filter(|(run, _)| stands_at(site, *run, device));
    site.devices[device].shunt.is_some() || runs.into_iter().any(|(_, run)| at_end(run))
}

/// What was in the house before and `may_be_there`, because no place is known where it hung until now, is tried where it is.
fn mount(site: &Site, id: Id<Device>, may_be_there: bool, when: When, places: &mut Places) {
    if site.devices[id].was_there() && may_be_there {
        let stays = if site.devices[id].fixed { " and cannot be moved" } else { "" };
        // A meter tells of a contact before its cable is landed, and of nothing that wants a supply.
        let (kind, tried) = match site.devices[id].kind {
            DeviceKind::Contact => ("inspect", "try it with a meter"),
            DeviceKind::Detector
            | DeviceKind::Wireless
            | DeviceKind::Sounder
            | DeviceKind::Load
            | DeviceKind::Fault => ("check", "see that it works, by its test, once the power is on"),
        };
        let text = format!("{}: it is there{stays}; {tried}", called(site, id));
        return add(site, id, kind, text, places);
    }
    let title = title(site, id);
    let called = called(site, id);
    let part = if title.is_empty() || called.to_lowercase().contains(&title.to_lowercase()) {
        String::new()
    } else {
        format!(" ({title})")
    };
    let height = places.at_height(site, site.devices[id].mount);
    let names_only = when.words.is_empty();
    let step = Step { names_only, ..Step::new("mount", format!("{called}{part}{height}{}", when.words)) };
    places.of_device(site, id, when.stage, step);
    if site.devices[id].diode {
        fit_diode(site, id, places);
    }
}

fn fit_diode(site: &Site, id: Id<Device>, places: &mut Places) {
    let text = format!("{}: diode across the coil, its banded end on the side of +", called(site, id));
    add(site, id, "fit", text, places);
}

/// The diode of a device that stays. That of one that moves goes with it, and is told where it is mounted.
fn diodes(sides: &Sides<'_>, was: Option<Id<Device>>, is: Option<Id<Device>>, places: &mut Places) {
    let (Some(was), Some(is)) = (was, is) else { return };
    let (old, new) = (&sides.old.site, &sides.new.site);
    match (old.devices[was].diode, new.devices[is].diode) {
        (false, true) => fit_diode(new, is, places),
        (true, false) => {
            let text = format!("{}: the diode across its coil", called(old, was));
            add(new, is, "remove", text, places);
        }
        (true, true) | (false, false) => {}
    }
}

/// The batteries that are put into devices that stay.
pub(super) fn batteries(sides: &Sides<'_>) -> Vec<Item> {
    let site = &sides.new.site;
    let mut counted: BTreeMap<String, usize> = BTreeMap::new();
    for change in sides.changes(Kind::Device) {
        let is = change.new.as_ref().and_then(|(subject, _)| sides.new_keys.devices.get(&subject.key)).copied();
        if let Some((is, true)) = is.map(|is| (is, new_battery(site, change, is).is_some_and(|(_, is_new)| is_new))) {
            let part = title(site, is);
            let of = if part.is_empty() { site.devices[is].title.clone() } else { part };
            *counted.entry(format!("Battery for: {of}")).or_default() += 1;
        }
    }
    counted.into_iter().map(|(what, count)| Item { count: count.to_string(), what }).collect()
}

/// The day on the battery of a device that stays, where that is another; and whether it is another battery.
fn new_battery(site: &Site, change: &Change, is: Id<Device>) -> Option<(Date, bool)> {
    let day = change.field(fact::Device::battery_installed)?;
    let other = change.old.is_none() || change.is_another();
    let put_in = site.devices[is].battery.filter(|_| !other)?;
    // An earlier day puts right what was written.
    Some((put_in, is_later(day.old.as_ref(), day.new.as_ref())))
}

/// The battery of a device that stays. A day that was not known before is only written on it; a device that is exchanged
/// comes with one. No board is opened for it, so it is a step like what is written.
fn battery(sides: &Sides<'_>, change: &Change, is: Option<Id<Device>>, places: &mut Places) {
    let site = &sides.new.site;
    let Some((is, (put_in, is_new))) = is.and_then(|is| Some((is, new_battery(site, change, is)?))) else { return };
    let called = called(site, is);
    let text = if is_new {
        format!("{called}: take its old battery out, put a new one in; write the day on it, {put_in}")
    } else {
        format!("{called}: write on its battery the day that it was put in, {put_in}")
    };
    add(site, is, "check", text, places);
}

/// What is asked where a thing is said to have been there before, and has a day that comes after that.
pub(super) const ASK: &str = "was it exchanged? Then write the day on the new one; else that day is wrong";

/// The question of a detector that was there before and has the day on which it was made only now.
fn asked(sides: &Sides<'_>, both: Option<(Id<Device>, Id<Device>)>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let Some((was, is)) = both.filter(|(was, is)| old.devices[*was].was_there() && new.devices[*is].was_there()) else {
        return;
    };
    let (was, now) = (&old.devices[was], &new.devices[is]);
    if let Some(day) = now.made.filter(|day| was.made.is_none() && sides.is_since(*day)) {
        add(new, is, "check", format!("{}, there before {day}: {ASK}", called(new, is)), places);
    }
}

/// Adds a step of one device, in the order of its kind.
fn add(site: &Site, id: Id<Device>, kind: &'static str, text: String, places: &mut Places) {
    places.of_device(site, id, Stage::InOrder, Step::new(kind, text));
}

/// The device in the words of the other sheets.
fn called(site: &Site, id: Id<Device>) -> String {
    words::placed(site, id)
}

fn title(site: &Site, id: Id<Device>) -> String {
    site.devices[id].part.map(|part| site.parts[part].title.clone()).unwrap_or_default()
}

fn height(site: &Site, id: Id<Device>) -> String {
    at_height(site, site.devices[id].mount)
}

/// Whether the step that lands a pulled cable says what is across the device's contact.
fn is_landed(sides: &Sides<'_>, device: Id<Device>) -> bool {
    let site = &sides.new.site;
    let has_contact = site.devices[device].part.is_some_and(|part| !site.parts[part].contacts.is_empty());
    let holds = |run: &Run| run.mounted.iter().any(|item| matches!(item, Mounted::Device(id) if *id == device));
    has_contact && site.runs.entries().any(|(id, run)| holds(run) && landed_anew(sides, id))
}

fn shunts(sides: &Sides<'_>, was: Option<Id<Device>>, is: Option<Id<Device>>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let shunt = |site: &Site, id: Option<Id<Device>>| {
        id.and_then(|id| site.devices[id].shunt.as_ref().map(|shunt| shunt.value))
    };
    let (had, has) = (shunt(old, was), shunt(new, is));
    if had == has {
        return;
    }
    if let (Some(value), Some(was)) = (had, was) {
        let text = format!("Resistor {} across the contact of {}", words::resistor(&value), called(old, was));
        add(old, was, "remove", text, places);
    }
    if let (Some(value), Some(is)) = (has, is.filter(|is| !is_landed(sides, *is))) {
        let text = format!("Resistor {} across the contact of {}", words::resistor(&value), called(new, is));
        add(new, is, "fit", text, places);
    }
}

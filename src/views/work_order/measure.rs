//! What to measure and what to walk-test: every zone that the work touched.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::super::commissioning_sheet::power_up;
use super::super::sheet_lines::{Difference, zones_of};
use super::super::{procedure, programming_sheet, zone_descriptions};
use super::Sides;
use super::changes::reading;
use super::isolating::is_life_safety;
use super::place::Step;
use super::tried::{self, is_touched, is_under, renewed};
use super::{alone, devices, opened, switching, touched};
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::meter::meter_words;
use crate::calc::{Spread, State, StateReading};
use crate::diff::{Consequence, Kind, Subject, What};
use crate::model::{Board, Device, DeviceKind, Mounted, Owner, Site, Zone};
use crate::record::fact;
use crate::terms::When;
use crate::words::{self, Paper};

/// A loop to measure, at rest or with one contact in alarm.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Measurement {
    /// The zone's number.
    pub zone: String,
    /// Its description; behind it the contact that is in alarm, where the loop is not at rest.
    pub(crate) description: String,
    /// Board and input.
    pub(crate) at: String,
    /// Ohms with both leads off: usual value and range.
    pub ohms: String,
    /// True where nothing in the loop has a supply, so that its ohms are read while the board is off.
    pub cold: bool,
    /// Volts with the leads on; empty where the board's sensing is not known.
    pub(crate) volts: String,
    /// What it read before; empty where the same, and for a new loop.
    pub was: String,
}

/// Measurements, and zones to walk-test, also those that are only called otherwise. Where conductors were moved the boards were dark, so fire and gas zones are
/// tried as well (`wired`).
/// What is set or reported otherwise (`rows`: programmed, reported) is tried as well.
pub(super) fn of(
    sides: &Sides<'_>,
    wired: bool,
    (programmed, reported): (&[Difference], &[Difference]),
) -> (Vec<Measurement>, Vec<Step>) {
    let site = &sides.new.site;
    let touched = touched(sides);
    let set = zones_of(programmed, programming_sheet::lines::ZONES);
    let told = zones_of(reported, zone_descriptions::lines::ZONES);
    let handled = touched::devices(sides);
    let aimed = devices::aimed(sides);
    let readdressed = tried::readdressed(sides);
    let renewed = renewed(sides);
    let on_renewed = |board: Id<Board>| is_under(site, board, &renewed);
    // A panel or module that is exchanged is programmed anew, with all that hangs on it.
    let programmed_anew = |zone: &Zone| {
        let wired = zone.wired.as_ref().and_then(|wired| wired.board.as_ref());
        let heard = zone.wireless.and_then(|device| site.devices[device].receiver.as_ref());
        wired.or(heard).is_some_and(|board| on_renewed(board.value) || readdressed.contains(&board.value))
    };
    let mut measured = Vec::new();
    let mut walk = Vec::new();
    for (id, zone) in site.zones.entries() {
        if zone.reserved.is_some() {
            continue;
        }
        let touched = touched.contains(&zone.number.value);
        if touched {
            measured.extend(measurement(sides, id));
            measured.extend(in_alarm(sides, id));
        }
        // A wireless one is not heard either while its receiver is dark.
        let was_dark = wired && is_life_safety(zone);
        let number = zone.number.value;
        let other = set.contains(&number) || told.contains(&number);
        let at_device = site.devices_of(id).any(|(device, _)| handled.contains(&device) || aimed.contains(&device));
        if !(touched || was_dark || other || at_device || programmed_anew(zone)) {
            continue;
        }
        let devices: Vec<String> = site.devices_of(id).map(|(device, _)| Paper.contact(site, device)).collect();
        let tried = if devices.is_empty() { String::new() } else { format!(": {}", devices.join("; ")) };
        let read =
            if told.contains(&number) { "; have the service read back number, words, area and code" } else { "" };
        let text = format!("Zone {} {}{tried}{read}", zone.number.value, zone.description.value);
        walk.push(Step::new("walk-test", text));
    }
    let landed_for = touched::owners(sides);
    let opened = opened::circuits(sides);
    // A blank board is switched on without its sounders.
    let sounds = |board: &&Id<Board>| {
        let sounders = site.devices.iter().filter(|device| device.kind == DeviceKind::Sounder);
        let mut homes = sounders.filter_map(|device| site.home(site.runs[device.run?].owner));
        power_up::is_powered(&site.boards[**board]) && homes.any(|home| home == **board)
    };
    for board in tried::blank(sides).iter().filter(sounds) {
        let those = alone::sounders(sides, *board);
        let those = if those.is_empty() { String::new() } else { format!(" ({})", those.join("; ")) };
        let text = format!(
            "{}: switch it off, land its sounders{those}, lids on, ladders away, switch it on again; the commissioning sheet says how sounders are tried",
            Paper.board(site, *board)
        );
        walk.push(Step::new("walk-test", text));
    }
    for (id, device) in site.devices.entries() {
        let tried = match device.kind {
            DeviceKind::Sounder => "sounds",
            DeviceKind::Load if is_always_on(site, device) => "is on",
            DeviceKind::Load => "does what drives it asks",
            DeviceKind::Contact | DeviceKind::Detector | DeviceKind::Wireless | DeviceKind::Fault => continue,
        };
        let key = sides.new_keys.devices.iter().find(|(_, other)| **other == id).map(|(key, _)| key.as_str());
        let changed = sides
            .changes(Kind::Device)
            .filter(|change| !touched::is_on_paper(sides, change))
            .any(|change| change.new.as_ref().is_some_and(|(subject, _)| Some(subject.key.as_str()) == key));
        let circuit = device.run.map(|run| site.runs[run].owner);
        let switched =
            matches!(circuit, Some(Owner::Circuit(circuit)) if switching::is_switched_otherwise(sides, circuit));
        let renewed = device.run.and_then(|run| site.home(site.runs[run].owner)).is_some_and(on_renewed);
        let anew = circuit.is_some_and(|circuit| landed_for.contains(&circuit)) || handled.contains(&id);
        let beside = device.run.is_some_and(|run| opened.contains(&run));
        if changed || switched || renewed || anew || beside {
            walk.push(Step::new("walk-test", format!("{} {tried}", words::placed(site, id))));
        }
    }
    (measured, walk)
}

/// Whether a load is on an output that nothing drives, and no relay or transistor switches it.
fn is_always_on(site: &Site, device: &Device) -> bool {
    let Some(Owner::Circuit(circuit)) = device.run.map(|run| site.runs[run].owner) else { return false };
    let circuit = &site.circuits[circuit];
    let output = circuit.feed.as_ref().and_then(|feed| site.output(feed.value));
    site.switched_by(circuit).is_none() && output.is_some_and(|output| output.when == When::Always)
}

/// How the ohms are read: with the board off, which it is before it is switched on again (`dark`), or is made for it.
pub(crate) fn of_ohms(site: &Site, dark: bool) -> String {
    let before = if dark {
        "Now, while the boards are off.".to_owned()
    } else {
        procedure::told(site, "Switch the board off first: {off}.")
    };
    let after = if dark { String::new() } else { procedure::told(site, " When all are read, switch it on: {on}.") };
    format!(
        "{before} Lift the two conductors of a loop off its terminals, read across them, and land them again. The ranges allow for a meter that is {} (common practice).{after}",
        meter_words()
    )
}

/// What to do with readings of the old revision: a zone's number is all that they have, and its loop may be another one now.
pub(crate) fn outdated(sides: &Sides<'_>, measure: &[Measurement]) -> Option<String> {
    let read: BTreeSet<u32> =
        sides.old.site.measured.iter().flat_map(|day| &day.loops).map(|read| read.zone.value).collect();
    let zones: BTreeSet<u32> = measure.iter().filter_map(|row| row.zone.parse().ok()).collect();
    // A loop that only was beside another under a screw is what it was.
    let zones: BTreeSet<u32> = zones.intersection(&changed(sides)).copied().collect();
    let zones: Vec<String> = zones.intersection(&read).map(u32::to_string).collect();
    let noun = if zones.len() == 1 { "zone" } else { "zones" };
    (!zones.is_empty()).then(|| {
        format!(
            "Readings of {noun} {} that were taken before this work are of the loops as they were: write the new ones into the spec, and take the old ones out where the loop of that number is another now",
            list(&zones, "and")
        )
    })
}

/// Zones of which anything in the wall differs, or whose readings do, and those beside them under a screw that is opened.
fn touched(sides: &Sides<'_>) -> BTreeSet<u32> {
    let mut zones = changed(sides);
    zones.extend(opened::zones(sides));
    zones
}

/// Zones of which anything in the wall differs, or whose readings do.
fn changed(sides: &Sides<'_>) -> BTreeSet<u32> {
    let site = &sides.new.site;
    let mut zones: BTreeSet<u32> = BTreeSet::new();
    for consequence in &sides.found.consequences {
        if let Consequence::Reads { zone, .. } | Consequence::Alarm { zone, .. } = consequence {
            zones.insert(*zone);
        }
    }
    for change in &sides.found.diff.changes {
        let Some((subject, thing)) = &change.new else { continue };
        match subject.kind {
            Kind::Zone => {
                let wired = [
                    fact::Loop::board,
                    fact::Loop::input,
                    fact::Loop::wiring,
                    fact::Zone::kind,
                    fact::Loop::chain,
                    fact::Zone::wireless,
                ];
                if change.what() == What::Added || wired.iter().any(|field| change.field(field).is_some()) {
                    zones.extend(subject.key.parse::<u32>().ok());
                }
            }
            Kind::Device | Kind::Cable if touched::is_on_paper(sides, change) => {}
            Kind::Device => zones.extend(zone_of(thing.of.as_ref())),
            Kind::Cable => {
                zones.extend(zone_of(thing.of.as_ref()));
                zones.extend(fed(site, sides.new_keys.runs.get(&subject.key).map(|run| &site.runs[*run].mounted)));
            }
            Kind::Conductor if touched::is_kept(sides, &subject.key) => {}
            Kind::Conductor => {
                let cable = thing.of.as_ref().and_then(|cable| sides.new_keys.runs.get(&cable.key));
                if let Some(Owner::Zone(zone)) = cable.map(|run| site.runs[*run].owner) {
                    zones.insert(site.zones[zone].number.value);
                }
            }
            // Every loop of a board that is new, exchanged or moved was off its terminals.
            Kind::Board if is_touched(change) => {
                let on_it = |zone: &&Zone| {
                    let board = zone.wired.as_ref().and_then(|wired| wired.board.as_ref());
                    board.is_some_and(|board| site.boards[board.value].name.value == subject.key)
                };
                zones.extend(site.zones.iter().filter(on_it).map(|zone| zone.number.value));
            }
            Kind::Site
            | Kind::Level
            | Kind::Room
            | Kind::Opening
            | Kind::Board
            | Kind::Area
            | Kind::Bus
            | Kind::Circuit
            | Kind::Spare
            | Kind::Communicator
            | Kind::Monitoring
            | Kind::CableType
            | Kind::Part
            | Kind::Accept => {}
        }
    }
    zones
}

fn zone_of(subject: Option<&Subject>) -> Option<u32> {
    subject.filter(|subject| subject.kind == Kind::Zone).and_then(|subject| subject.key.parse().ok())
}

/// The zones of detectors that a run feeds.
pub(super) fn fed(site: &Site, mounted: Option<&Vec<Mounted>>) -> Vec<u32> {
    let zone = |device: Id<Device>| site.devices[device].zone.map(|zone| site.zones[zone].number.value);
    let feeds = mounted.into_iter().flatten().filter_map(Mounted::feed);
    feeds.filter_map(|device| zone(device.value)).collect()
}

fn measurement(sides: &Sides<'_>, id: Id<Zone>) -> Option<Measurement> {
    let site = &sides.new.site;
    let readings = sides.new.loops.get(&id)?;
    let rest = readings.states.iter().find(|reading| reading.state == State::Normal)?;
    let number = site.zones[id].number.value;
    let was = sides.found.consequences.iter().find_map(|consequence| {
        let Consequence::Reads { zone, old, new } = consequence else { return None };
        (*zone == number && reading(*old) != reading(*new)).then(|| reading(*old))
    });
    Some(row(sides, id, rest, site.zones[id].description.value.clone(), was.unwrap_or_default()))
}

/// The readings of a loop with one contact in alarm that are others now: where a resistor stands across a contact, or stood there,
/// they are what proves it.
fn in_alarm(sides: &Sides<'_>, id: Id<Zone>) -> Vec<Measurement> {
    let (site, wiring) = (&sides.new.site, &sides.new.wiring);
    let one = |consequence: &Consequence| {
        let Consequence::Alarm { zone, device, old, new } = consequence else { return None };
        if *zone != site.zones[id].number.value || reading(*old) == reading(*new) {
            return None;
        }
        let device = sides.new_keys.devices.get(&device.key)?;
        let alarm = sides.new.loops.get(&id)?.states.iter().find(|reading| reading.state == State::Alarm(*device))?;
        let state = Paper.state(site, wiring, alarm.state);
        Some(row(sides, id, alarm, format!("{}: {state}", site.zones[id].description.value), reading(*old)))
    };
    sides.found.consequences.iter().filter_map(one).collect()
}

/// A line of what to measure.
fn row(sides: &Sides<'_>, id: Id<Zone>, read: &StateReading, description: String, was: String) -> Measurement {
    let (site, wiring) = (&sides.new.site, &sides.new.wiring);
    let said = |spread: Spread, print: fn(f64) -> String, read: fn(&[Spread]) -> String| {
        let (usual, range) = (words::usual(&[spread], print), read(&[spread]));
        if usual == range { usual } else { format!("{usual} ({range})") }
    };
    Measurement {
        zone: site.zones[id].number.value.to_string(),
        description,
        at: Paper.measured_at(site, wiring, id),
        ohms: said(read.ohms, words::ohms, words::ohms_read),
        cold: procedure::is_passive(site, id),
        volts: read.volts.map(|volts| said(volts, words::volts, words::volts_read)).unwrap_or_default(),
        was,
    }
}

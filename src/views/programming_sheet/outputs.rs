//! Outputs, relays and transistors: what hangs there, and what the board is to switch them by.

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::sound::{Pattern, sounds};
use crate::model::{Board, Circuit, Device, OutputRef, Site, Switching};
use crate::terms::{DrivenBy, EmergencyKey, When, Works, ZoneType};
use crate::words::{self, Paper};

/// How an output is on that nothing drives.
pub(super) const ALWAYS: &str = "always on";

/// An output that is programmed: what is on all the time, and never taken away, is not.
#[derive(Serialize)]
pub(super) struct Row {
    pub(super) output: String,
    pub(super) feeds: String,
    pub(super) by: String,
}

/// The outputs that something hangs on, then the relays and transistors, by circuit.
pub(super) fn rows(site: &Site) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (board, _) in site.boards.entries() {
        let outputs = site.part_of(board).map_or(0, |part| part.outputs.len());
        rows.extend((0..outputs).filter_map(|output| of_output(site, OutputRef { board, output })));
    }
    rows.extend(site.circuits.entries().filter_map(|(id, circuit)| switched(site, id, circuit)));
    rows
}

fn of_output(site: &Site, of: OutputRef) -> Option<Row> {
    let output = site.output(of)?;
    let by = match (output.when, output.switched) {
        (When::Alarm, _) => alarms(site, of.board),
        (When::Always, true) => format!("{ALWAYS}, taken away for a moment to reset the detectors"),
        (When::Always, false) => return None,
    };
    let fed = site.circuits.entries().filter(|(_, circuit)| circuit.feed.as_ref().is_some_and(|feed| feed.value == of));
    let circuits = fed.map(|(_, circuit)| circuit.title.clone());
    let detectors =
        site.devices.entries().filter(|(_, device)| device.supply.as_ref().is_some_and(|at| at.value == of));
    let detectors = detectors.map(|(id, _)| words::placed(site, id));
    let feeds: Vec<String> = circuits.chain(detectors).collect();
    (!feeds.is_empty()).then(|| Row {
        output: format!("{}: output {}", Paper.board(site, of.board), output.name.value),
        feeds: list(&feeds, "and"),
        by,
    })
}

/// What an output for sounders is on for, by the types of zone and the keys that the site has: a pattern for each danger,
/// and what makes no sound.
fn alarms(site: &Site, board: Id<Board>) -> String {
    let keys = || site.boards.iter().flat_map(|board| &board.emergency_keys).map(|in_use| in_use.key.value);
    let silent = keys().any(|key| key == EmergencyKey::PanicSilent)
        || site.zones_in_use().any(|(_, zone)| zone.is_of(ZoneType::PanicSilent));
    let duress = site.monitoring.as_ref().is_some_and(|monitoring| monitoring.duress);
    let loud = [
        (Pattern::Fire, "fire: three long tones, pause"),
        (Pattern::CarbonMonoxide, "carbon monoxide: four short tones, pause"),
        (Pattern::Other, "burglary and other loud alarms: steady"),
    ];
    let loud: Vec<&str> =
        loud.into_iter().filter(|(pattern, _)| sounds(site, board, *pattern)).map(|(_, words)| words).collect();
    let quiet: Vec<&str> = [silent.then_some("silent panic"), duress.then_some("duress"), Some("troubles")]
        .into_iter()
        .flatten()
        .collect();
    let loud = if loud.is_empty() { "no alarm that is in the plan sounds".to_owned() } else { loud.join("; ") };
    let long = if site.areas.is_empty() { "" } else { ". How long: see the area" };
    format!("{loud}. Not for {}{long}", list(&quiet, "or"))
}

/// What drives a relay or transistor; where any alarm does, those that nobody is to notice are left out.
fn drives(site: &Site, id: Id<Circuit>, switching: &Switching) -> String {
    let any_alarm = switching.drives.iter().any(|drive| drive.by.value == DrivenBy::Alarm && drive.kind.is_none());
    let key = switching.drives.iter().any(|drive| drive.by.value == DrivenBy::Key);
    let opens = |device: Id<Device>| site.device_part(device).and_then(|part| part.works) == Some(Works::Operator);
    let operator = site.devices_on(id).any(|(device, _)| opens(device));
    let moves = operator && key;
    let held = operator && switching.drives.iter().any(|drive| drive.lasts.is_none() && !drive.passes_soon());
    let caution = [
        held.then_some("; its input stays closed for as long as that lasts"),
        any_alarm.then_some("; never silent panic or duress"),
        moves.then_some("; only from a keypad from which the door is seen, or where the operator itself stops for what is in its way"),
    ];
    caution.into_iter().flatten().fold(words::drives(site, switching), |said, more| said + more)
}

fn switched(site: &Site, id: Id<Circuit>, circuit: &Circuit) -> Option<Row> {
    let (of, switch, switching) = site.switched_by(circuit)?;
    Some(Row {
        output: format!("{}: {}", Paper.board(site, of.board), words::contact(switch, switching)),
        feeds: words::hung(site, id),
        by: drives(site, id, switching),
    })
}

//! States of a loop, and what the board makes of a reading.

use super::Medium;
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::{Reading, State, Verdict};
use crate::model::{BandEdges, Device, DeviceKind, Input, MeasuredLoop, Site, Zone};
use crate::register::Wiring;
use crate::terms::{BandName, Seen, Side};

/// What the alarm of a contact on an opening is called.
const OPEN: &str = "open";

/// What that of a board's fault contact is called.
const FAULT: &str = "telling a fault";

/// What an alarm of a device that has no word of its own is called.
pub(crate) const IN_ALARM: &str = "in alarm";

/// Everything that an alarm is called.
pub(crate) const ALARMS: [&str; 3] = [OPEN, FAULT, IN_ALARM];

/// What is wrong with a contact that was worked, of the cover or not, and should be closed then or not, with so many ohms
/// across it.
pub(crate) fn contact_worked((cover, closed): (bool, bool), device: &str, ohms: &str) -> String {
    let what = if cover { "cover contact" } else { "contact" };
    let how = if closed { "did not close, or only through" } else { "did not open, or is bridged by" };
    format!("the {what} of {device} {how} about {ohms}")
}

/// The two terminals of a zone's input, with the polarity where the loop feeds its detectors: "I1 and R1".
pub(crate) fn loop_terminals(site: &Site, wiring: &Wiring, zone: Id<Zone>) -> Option<String> {
    let Input { signal, back, .. } = wiring.input_of(site, zone)?.1;
    Some(match site.positive_side(zone) {
        Some(Side::Signal) => format!("{signal} (+) and {back} (−)"),
        Some(Side::Return) => format!("{signal} (−) and {back} (+)"),
        None => format!("{signal} and {back}"),
    })
}

/// What an alarm of a device is called: an opening is open, a fault contact tells a fault, everything else is in alarm.
pub(crate) fn alarm(site: &Site, device: Id<Device>) -> &'static str {
    let device = &site.devices[device];
    match device.kind {
        DeviceKind::Contact if device.opening.is_some() => OPEN,
        DeviceKind::Fault => FAULT,
        DeviceKind::Contact | DeviceKind::Detector | DeviceKind::Sounder | DeviceKind::Load | DeviceKind::Wireless => {
            IN_ALARM
        }
    }
}

/// What the board makes of a reading, what it does with every part at its nominal value first: "normal", "open or alarm",
/// "between the bands".
pub(crate) fn reads(reading: Reading) -> String {
    match reading.verdict {
        Verdict::Reads(band) => band.word().to_owned(),
        Verdict::Unclear(outcomes) => {
            let words: Vec<&str> =
                outcomes.in_order().map(|band| band.map_or("between the bands", BandName::word)).collect();
            list(&words, "or")
        }
        Verdict::Unknown => "not known".to_owned(),
    }
}

impl Medium {
    /// A state of a loop: "at rest", "Front door open", "cable Z7 shorted at its far end".
    pub fn state(self, site: &Site, wiring: &Wiring, state: State) -> String {
        match state {
            State::Normal => "at rest".to_owned(),
            State::Alarm(one) => format!("{} {}", self.contact(site, one), alarm(site, one)),
            State::Alarms(number) => format!("{number} contacts in alarm at once"),
            State::AllAlarms => "all contacts in alarm at once".to_owned(),
            State::Cover(one) => format!("cover of {} off", self.contact(site, one)),
            State::SupplyLost(one) => format!("supply lost at {}", self.contact(site, one)),
            State::Cut(run) => format!("{} cut", self.cable(wiring, run)),
            State::ShortNear(run) => format!("{} shorted at its near end", self.cable(wiring, run)),
            State::ShortFar(run) => format!("{} shorted at its far end", self.cable(wiring, run)),
        }
    }

    /// Board and input of a zone's loop: "Panel, input 7"; empty where the board was reported.
    pub(crate) fn input(self, site: &Site, wiring: &Wiring, zone: Id<Zone>) -> String {
        let board = site.zones[zone].wired.as_ref().and_then(|wired| wired.board.as_ref());
        let board = board.map(|board| self.board(site, board.value));
        let input = wiring.inputs.of_zone.get(&zone).map(|input| format!("input {input}"));
        board.into_iter().chain(input).collect::<Vec<_>>().join(", ")
    }

    /// Where the volts of a zone's loop are measured: "Panel: I7 and R4"; its input where the terminals are not known.
    pub(crate) fn measured_at(self, site: &Site, wiring: &Wiring, zone: Id<Zone>) -> String {
        let terminals = wiring.input_of(site, zone).map(|(board, _)| self.board(site, board));
        let terminals = terminals.zip(loop_terminals(site, wiring, zone));
        terminals.map_or_else(|| self.input(site, wiring, zone), |(board, on)| format!("{board}: {on}"))
    }

    /// The state in which a loop was measured. What it is about may be gone, and then goes by its name in the record.
    pub(crate) fn seen(self, site: &Site, zone: Option<Id<Zone>>, measured: &MeasuredLoop) -> String {
        let of = measured.of.as_ref().map(|of| of.value.as_str());
        let known = |device: &Device| {
            let opening = device.opening.as_ref().map(|opening| site.openings[opening.value].name.value.as_str());
            [device.name.as_ref().map(|name| name.value.as_str()), opening].contains(&of)
        };
        let device = of
            .and_then(|_| zone.and_then(|zone| site.devices_of(zone).find(|(_, device)| known(device))))
            .map(|(id, _)| id);
        let who = device.map(|id| self.contact(site, id)).or(of.map(|of| self.name(of)));
        match (measured.state, who) {
            (Seen::Rest, _) => "at rest".to_owned(),
            (Seen::Alarm, Some(who)) => format!("{who} {}", device.map_or("in alarm", |id| alarm(site, id))),
            (Seen::Alarm, None) => "in alarm".to_owned(),
            (Seen::Cover, Some(who)) => format!("cover of {who} off"),
            (Seen::Cover, None) => "a cover off".to_owned(),
        }
    }
}

/// The edges of a band in words: "1.60 V to 3.10 V", "up to 0.80 V".
pub(crate) fn edges(edges: BandEdges) -> String {
    let (low, high) = match edges {
        BandEdges::Volts(low, high) => (low.map(|v| v.to_string()), high.map(|v| v.to_string())),
        BandEdges::Ohms(low, high) => (low.map(|r| r.to_string()), high.map(|r| r.to_string())),
    };
    match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (None, Some(high)) => format!("up to {high}"),
        (Some(low), None) => format!("from {low}"),
        (None, None) => "everything".to_owned(),
    }
}

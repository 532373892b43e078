//! Readings held against the calculation and against the ones before them.
//!
//! A reading *fits* when it lies in the calculated spread, widened by what a meter may be wrong ([`super::meter`]). It
//! *drifts* when it fits but has moved since the last time by more than two meters can disagree. A time before that does not
//! fit is no baseline: the loop was another then, or has been repaired since. Out of scope: words, and what would
//! explain a reading ([`super::diagnose`]).

use std::collections::BTreeMap;

use super::diagnose::Measured as Value;
use super::loops::{LoopReadings, StateReading};
use super::meter::{fits, shown_by_a_meter, tolerance, volts_shown_by_a_meter};
use super::power::{Consumer, Demand, Feeding, Power, Supply, standby};
use super::spread::Spread;
use super::state::State;
use crate::base::{Id, Span};
use crate::model::{Device, MeasuredLoop, Site, Zone};
use crate::quantity::{Ohms, Volts};
use crate::terms::Seen;

/// Volts by which a supply on mains may differ from its sheet, where that gives no tolerance: common practice.
const SUPPLY_VOLTS: f64 = 0.5;
/// Volts of a charged cell on float, from and to (maker handbooks, from memory), widened as a meter in a warm or cold
/// house needs it.
const FLOAT_OF_CELL: (f64, f64) = (2.20, 2.35);

/// What a reading is, held against what is expected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// It fits.
    Within,
    /// It fits, but has moved since the last time.
    Drifting,
    /// It does not fit.
    Outside,
    /// Nothing is expected: what it belongs to is not there, or cannot be calculated.
    Unknown,
}

/// A reading of a loop, judged.
#[derive(Clone, Debug)]
pub(crate) struct JudgedLoop<'s> {
    /// The day.
    pub(crate) date: jiff::civil::Date,
    /// The reading as written.
    pub(crate) written: &'s MeasuredLoop,
    /// Its zone, where there still is one.
    pub(crate) zone: Option<Id<Zone>>,
    /// The value.
    pub(crate) value: Value,
    /// Where the value stands.
    pub(crate) span: Span,
    /// What was expected: what a meter may show, so that whatever lies in it fits.
    pub(crate) expected: Option<Spread>,
    /// The value of the time before, in the same unit.
    pub(crate) before: Option<Earlier>,
    /// What it is.
    pub(crate) verdict: Verdict,
}

/// A reading of a supply, judged.
#[derive(Clone, Debug)]
pub(crate) struct JudgedSupply<'s> {
    /// The day.
    pub(crate) date: jiff::civil::Date,
    /// The name as written.
    pub(crate) name: &'s str,
    /// True for a battery.
    pub(crate) battery: bool,
    /// Where it stands.
    pub(crate) span: Span,
    /// The value.
    pub(crate) volts: Volts,
    /// From and to, as a meter may show it.
    pub(crate) expected: Option<(Volts, Volts)>,
    /// The value of the time before.
    pub(crate) before: Option<Earlier>,
    /// What it is.
    pub(crate) verdict: Verdict,
}

/// What is compared from one record to the next: zone, state, the device that it names, whether ohms.
type Subject<'s> = (u32, Seen, Option<&'s str>, bool);

/// A day and the value that was taken then.
pub(crate) type Earlier = (jiff::civil::Date, f64);

/// Every value that was taken of a loop, by date and as written; ohms before volts.
pub(crate) fn loops<'s>(site: &'s Site, readings: &BTreeMap<Id<Zone>, LoopReadings>) -> Vec<JudgedLoop<'s>> {
    let by_number: BTreeMap<u32, Id<Zone>> = site.zones.entries().map(|(id, zone)| (zone.number.value, id)).collect();
    let mut last: BTreeMap<Subject<'s>, Earlier> = BTreeMap::new();
    let mut judged = Vec::new();
    for measured in &site.measured {
        // Lines of one record are not before one another; several that say the same cannot be told apart next time.
        let mut taken = BTreeMap::new();
        for written in &measured.loops {
            let zone = by_number.get(&written.zone.value).copied();
            let states = zone.and_then(|zone| readings.get(&zone)).map(|of| states(site, of, written));
            let ohms = written.ohms.as_ref().map(|ohms| (Value::Ohms(ohms.value.0), ohms.value.0, ohms.span));
            let volts = written.volts.as_ref().map(|volts| (Value::Volts(volts.value.0), volts.value.0, volts.span));
            for (value, number, span) in ohms.into_iter().chain(volts) {
                let in_ohms = matches!(value, Value::Ohms(_));
                let calculated = states.as_deref().and_then(|states| hull(states, in_ohms));
                let of = written.of.as_ref().map(|of| of.value.as_str());
                let key = (written.zone.value, written.state, of, in_ohms);
                let before = last.get(&key).copied();
                taken.entry(key).and_modify(|value| *value = None).or_insert(Some((measured.date.value, number)));
                let date = measured.date.value;
                let verdict = calculated
                    .map_or(Verdict::Unknown, |calculated| judge(number, calculated, earlier(before, date), in_ohms));
                let expected = calculated.map(|calculated| shown_by_a_meter(calculated, in_ohms));
                judged.push(JudgedLoop { date, written, zone, value, span, expected, before, verdict });
            }
        }
        for (key, value) in taken {
            match value {
                Some(value) => last.insert(key, value),
                None => last.remove(&key),
            };
        }
    }
    judged
}

/// The states that a reading may be of.
fn states<'r>(site: &Site, readings: &'r LoopReadings, written: &MeasuredLoop) -> Vec<&'r StateReading> {
    let named = |device| is_about(site, written, device);
    let wanted = |reading: &&StateReading| match (written.state, reading.state) {
        (Seen::Rest, State::Normal) => true,
        (Seen::Alarm, State::Alarm(device)) | (Seen::Cover, State::Cover(device)) => named(device),
        _ => false,
    };
    readings.states.iter().filter(wanted).collect()
}

/// Whether a reading may be about a device: it names it, its opening, or none.
pub(crate) fn is_about(site: &Site, written: &MeasuredLoop, device: Id<Device>) -> bool {
    let device = &site.devices[device];
    let opening = device.opening.as_ref().map(|opening| site.openings[opening.value].name.value.as_str());
    let own = device.name.as_ref().map(|name| name.value.as_str());
    written.of.as_ref().is_none_or(|of| [opening, own].contains(&Some(of.value.as_str())))
}

fn hull(states: &[&StateReading], in_ohms: bool) -> Option<Spread> {
    states.iter().filter_map(|state| if in_ohms { Some(state.ohms) } else { state.volts }).reduce(Spread::hull)
}

/// The time before, where that was on another day: two readings of one day are no drift.
fn earlier(before: Option<Earlier>, date: jiff::civil::Date) -> Option<Earlier> {
    before.filter(|(before, _)| *before < date)
}

fn judge(value: f64, calculated: Spread, before: Option<Earlier>, in_ohms: bool) -> Verdict {
    if !fits(value, calculated, in_ohms) {
        return Verdict::Outside;
    }
    let wrong = |value| tolerance(value, in_ohms);
    match before {
        Some((_, before))
            if fits(before, calculated, in_ohms) && (value - before).abs() > wrong(value) + wrong(before) =>
        {
            Verdict::Drifting
        }
        _ => Verdict::Within,
    }
}

/// Every value that was taken of a device's, board's or battery's supply, by date.
pub(crate) fn supplies<'s>(site: &'s Site, power: &Power) -> Vec<JudgedSupply<'s>> {
    let mut last: BTreeMap<(bool, &str), Earlier> = BTreeMap::new();
    let mut judged = Vec::new();
    for measured in &site.measured {
        let devices = measured.devices.iter().map(|taken| (false, taken));
        let batteries = measured.batteries.iter().map(|taken| (true, taken));
        for (battery, (name, volts)) in devices.chain(batteries) {
            let Some(volts) = volts else { continue };
            let calculated = if battery { float(site, &name.value) } else { at_device(site, power, &name.value) };
            let date = measured.date.value;
            let before = last.insert((battery, name.value.as_str()), (date, volts.value.0));
            let verdict = match calculated {
                None => Verdict::Unknown,
                Some((least, greatest)) => judge(
                    volts.value.0,
                    Spread { least: least.0, nominal: least.0, greatest: greatest.0 },
                    earlier(before, date),
                    false,
                ),
            };
            let (span, volts) = (volts.span, volts.value);
            let expected = calculated.map(volts_shown_by_a_meter);
            judged.push(JudgedSupply { date, name: &name.value, battery, span, volts, expected, before, verdict });
        }
    }
    judged
}

/// What a charged battery of a board has on float.
pub(crate) fn float(site: &Site, name: &str) -> Option<(Volts, Volts)> {
    let (id, board) = site.board_named(name)?;
    board.battery.as_ref()?;
    let cells = standby::cells(site.part_of(id)?);
    Some((Volts(cells * FLOAT_OF_CELL.0), Volts(cells * FLOAT_OF_CELL.1)))
}

/// What a device or board gets on mains; see [`on_mains`].
pub(crate) fn at_device(site: &Site, power: &Power, name: &str) -> Option<(Volts, Volts)> {
    let device = site.device_named(name).map(|(id, _)| Consumer::Device(id));
    let consumer = device.or_else(|| site.board_named(name).map(|(id, _)| Consumer::Board(id)))?;
    let (feeding, node) = power.place_of(consumer)?;
    on_mains(feeding, node)
}

/// What a place gets on mains at rest, with what a supply may differ from its sheet; on an output that is on in alarm
/// only, in alarm.
fn on_mains(feeding: &Feeding, node: usize) -> Option<(Volts, Volts)> {
    at_rest(feeding, node).or_else(|| with_tolerance(feeding, node, Demand::Alarm))
}

/// What a place gets on mains at rest, with what a supply may differ from its sheet; `None` where it is off or not known.
pub(crate) fn at_rest(feeding: &Feeding, node: usize) -> Option<(Volts, Volts)> {
    with_tolerance(feeding, node, Demand::Idle)
}

fn with_tolerance(feeding: &Feeding, node: usize, demand: Demand) -> Option<(Volts, Volts)> {
    let (low, high) = feeding.volts(node, Supply::Mains, demand)?;
    let given = feeding.tree.nodes.first().and_then(|root| root.most).is_some_and(|most| most.greatest > most.least);
    let allowed = if given { 0.0 } else { SUPPLY_VOLTS };
    Some((Volts(low.0 - allowed), Volts(high.0 + allowed)))
}

/// A value as it is compared: ohms or volts.
pub(crate) fn number(value: Value) -> f64 {
    match value {
        Value::Ohms(ohms) => ohms,
        Value::Volts(volts) => volts,
    }
}

/// The ohms of a value that was taken with the leads off.
pub(crate) fn ohms(value: Value) -> Option<Ohms> {
    if let Value::Ohms(ohms) = value { Some(Ohms(ohms)) } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(number: i8) -> jiff::civil::Date {
        jiff::civil::date(2027, 4, number)
    }

    #[test]
    fn a_reading_is_held_against_the_spread_and_the_time_before() {
        let expected = Spread { least: 2090.0, nominal: 2200.0, greatest: 2310.0 };
        for (value, before, verdict) in [
            (2200.0, None, Verdict::Within),
            (2330.0, None, Verdict::Within),
            (2340.0, None, Verdict::Outside),
            (2060.0, None, Verdict::Outside),
            (2200.0, Some(2170.0), Verdict::Within),
            (2200.0, Some(2140.0), Verdict::Drifting),
            (f64::INFINITY, Some(2200.0), Verdict::Outside),
            (2200.0, Some(3300.0), Verdict::Within),
        ] {
            assert_eq!(judge(value, expected, before.map(|b| (day(1), b)), true), verdict, "{value} {before:?}");
        }
        assert_eq!(judge(2200.0, expected, earlier(Some((day(1), 2140.0)), day(1)), true), Verdict::Within);
        assert_eq!(judge(2200.0, expected, earlier(Some((day(1), 2140.0)), day(2)), true), Verdict::Drifting);
        let open = Spread { least: 1e6, nominal: f64::INFINITY, greatest: f64::INFINITY };
        assert_eq!(judge(f64::INFINITY, open, Some((day(1), f64::INFINITY)), true), Verdict::Within);
    }
}

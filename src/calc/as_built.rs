//! Readings held against the calculation and against the ones before them.
//!
//! A reading *fits* when it lies in the calculated spread, widened by what a meter may be wrong ([`super::meter`]). It
//! *drifts* when it fits but has moved since the last time by more than two meters can disagree. A time before that does not
//! fit is no baseline: the loop was another then, or has been repaired since. One that does not fit is *history* where a later
//! one of the same kind does: the spec or the wall was another then, and nobody can measure that time again. Of two records of one
//! day the one that is written behind the other is the later. Out of scope: words.

use std::collections::{BTreeMap, BTreeSet};

use super::diagnose::{self, Diagnosis, Fault, Measured as Value};
use super::loops::{LoopReadings, StateReading};
use super::meter::{fits, lies_in, shown_of, tolerance, volts_shown_by_a_meter};
use super::power::{Case, Consumer, Demand, Feeding, Power, Supply, Wire, own_supply};
use super::spread::Spread;
use super::state::State;
use super::{band, two_wire};
use crate::base::{Id, Span};
use crate::model::{Device, MeasuredLoop, Site, Zone};
use crate::quantity::{Ohms, Volts};
use crate::terms::Seen;

/// Volts by which a supply on mains may differ from its sheet, where that gives no tolerance: common practice.
const SUPPLY_VOLTS: f64 = 0.5;

/// Volts under which what is off at rest was not read in alarm.
const OFF: f64 = 1.0;

/// What a reading is, held against what is expected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// It fits.
    Within,
    /// It fits, but has moved since the last time.
    Drifting,
    /// It does not fit.
    Outside,
    /// It does not fit, but a later one does, of this day.
    History(jiff::civil::Date),
    /// Nothing is expected: what it belongs to is not there, or cannot be calculated.
    Unknown,
}

/// What the other value of a line says of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Beside {
    /// Nothing.
    Nothing,
    /// Ohms and volts are of one loop: the unit is no slip.
    Agrees,
    /// The ohms with the leads off fit.
    RightOff,
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
    /// What was expected: the ranges of what a meter may show, so that whatever lies in one of them fits; none where nothing
    /// was.
    pub(crate) expected: Vec<Spread>,
    /// The value of the time before, in the same unit.
    pub(crate) before: Option<Earlier>,
    /// True where there is no later one.
    pub(crate) last: bool,
    /// What it is.
    pub(crate) verdict: Verdict,
    /// The state that the loop should have been in, where it can only be one.
    state: Option<State>,
    /// What the other value of the line says of it.
    pub(crate) beside: Beside,
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
    /// True where there is no later one.
    pub(crate) last: bool,
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
    // What each is of; nothing where several lines of its record say the same.
    let mut subjects = Vec::new();
    for measured in &site.measured {
        let first = judged.len();
        // Lines of one record are not before one another; several that say the same cannot be told apart next time.
        let mut taken = BTreeMap::new();
        for written in &measured.loops {
            let zone = by_number.get(&written.zone.value).copied();
            let of_zone = zone.and_then(|zone| Some((zone, readings.get(&zone)?)));
            let states = of_zone.map(|(_, of)| states(site, of, written));
            // An alarm of a loop with several contacts that names none may be of any.
            let state = states.as_deref().and_then(|states| if let [one] = states { Some(one.state) } else { None });
            let agree = of_zone.is_some_and(|(zone, of)| agree(site, zone, of, written));
            let mut right_off = false;
            let ohms = written.ohms.as_ref().map(|ohms| (Value::Ohms(ohms.value.0), ohms.value.0, ohms.span));
            let volts = written.volts.as_ref().map(|volts| (Value::Volts(volts.value.0), volts.value.0, volts.span));
            for (value, number, span) in ohms.into_iter().chain(volts) {
                let in_ohms = matches!(value, Value::Ohms(_));
                let expected = states.as_deref().map(|states| expected(states, in_ohms)).unwrap_or_default();
                let of = written.of.as_ref().map(|of| of.value.as_str());
                let key = (written.zone.value, written.state, of, in_ohms);
                let before = last.get(&key).copied();
                taken.entry(key).and_modify(|value| *value = None).or_insert(Some((measured.date.value, number)));
                let date = measured.date.value;
                let verdict = judge(number, &expected, earlier(before, date), in_ohms);
                let beside = match (agree, right_off) {
                    (true, _) => Beside::Agrees,
                    (false, true) => Beside::RightOff,
                    (false, false) => Beside::Nothing,
                };
                // A detector that the loop feeds is at rest without the board, whatever it was before.
                let fed = of_zone.is_some_and(|(_, of)| two_wire::feeds(&of.network));
                right_off = !fed && matches!(verdict, Verdict::Within | Verdict::Drifting);
                let last = true;
                judged.push(JudgedLoop {
                    date,
                    written,
                    zone,
                    value,
                    span,
                    expected,
                    before,
                    last,
                    verdict,
                    state,
                    beside,
                });
                subjects.push(state.map(|_| key));
            }
        }
        for subject in subjects.iter_mut().skip(first) {
            *subject = subject.filter(|key| taken.get(key).is_some_and(Option::is_some));
        }
        for (key, value) in taken {
            match value {
                Some(value) => last.insert(key, value),
                None => last.remove(&key),
            };
        }
    }
    look_back(judged.iter_mut().map(|one| (one.date, &mut one.last, &mut one.verdict)).zip(subjects));
    judged
}

/// Of each reading, whether a later one is of the same, and whether one that does not fit is history for that.
fn look_back<'j, S: Ord + Copy>(
    judged: impl DoubleEndedIterator<Item = ((jiff::civil::Date, &'j mut bool, &'j mut Verdict), Option<S>)>
    + ExactSizeIterator,
) {
    let mut later: BTreeSet<S> = BTreeSet::new();
    let mut fitting: BTreeMap<S, jiff::civil::Date> = BTreeMap::new();
    for ((date, last, verdict), subject) in judged.rev() {
        let Some(subject) = subject else { continue };
        *last = later.insert(subject);
        match verdict {
            Verdict::Outside => {
                if let Some(fits) = fitting.get(&subject) {
                    *verdict = Verdict::History(*fits);
                }
            }
            Verdict::Within | Verdict::Drifting => {
                fitting.entry(subject).or_insert(date);
            }
            Verdict::Unknown | Verdict::History(_) => {}
        }
    }
}

/// Whether ohms and volts of one line are of one loop, by the board's divider.
fn agree(site: &Site, zone: Id<Zone>, readings: &LoopReadings, written: &MeasuredLoop) -> bool {
    let both = written.ohms.as_ref().zip(written.volts.as_ref());
    let Some(((ohms, volts), sensing)) = both.zip(site.sensing_of(zone)) else { return false };
    // Volts of a loop that feeds its detectors tell no resistance.
    if two_wire::feeds(&readings.network) {
        return false;
    }
    let (ohms, wrong) = (ohms.value.0, tolerance(ohms.value.0, true));
    let about = Spread { least: ohms - wrong, nominal: ohms, greatest: ohms + wrong };
    band::voltage(sensing, about).is_some_and(|calculated| fits(volts.value.0, calculated, false))
}

/// What would explain a reading, from the state that the loop should have been in and from the other value of its line.
pub(crate) fn explained(site: &Site, readings: &LoopReadings, judged: &JudgedLoop<'_>) -> Option<Diagnosis> {
    let state = judged.state.unwrap_or(State::Normal);
    let sensing = site.sensing_of(readings.zone);
    let mut found = diagnose::in_state(site, readings, sensing, (judged.value, state))?;
    if judged.state.is_none() {
        found.faults.retain(|fault| matches!(fault, Fault::OtherVoltage(_) | Fault::Mistaken { .. }));
    }
    match judged.beside {
        Beside::Nothing => {}
        Beside::Agrees => found.faults.retain(|fault| !matches!(fault, Fault::Mistaken { .. })),
        Beside::RightOff => {
            // The cables were measured with the leads off.
            let damaged =
                |fit: &diagnose::Fit| readings.states.get(fit.state).and_then(|of| of.state.damage()).is_some();
            found.fits.retain(|fit| !damaged(fit));
            found.faults.retain(|fault| matches!(fault, Fault::OtherVoltage(_) | Fault::Mistaken { .. }));
            if !found.faults.iter().any(|fault| matches!(fault, Fault::OtherVoltage(_))) {
                found.faults.push(Fault::AtBoard);
            }
        }
    }
    Some(found)
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

fn expected(states: &[&StateReading], in_ohms: bool) -> Vec<Spread> {
    let of = |state: &&StateReading| if in_ohms { Some(state.ohms) } else { state.volts };
    shown_of(&states.iter().filter_map(of).collect::<Vec<_>>(), in_ohms)
}

/// The time before, where that was on another day: two readings of one day are no drift.
fn earlier(before: Option<Earlier>, date: jiff::civil::Date) -> Option<Earlier> {
    before.filter(|(before, _)| *before < date)
}

/// Holds a value against the ranges of what a meter may show.
fn judge(value: f64, expected: &[Spread], before: Option<Earlier>, in_ohms: bool) -> Verdict {
    let holds = |range: &Spread, value: f64| lies_in(value, *range, in_ohms);
    let Some(range) = expected.iter().find(|range| holds(range, value)) else {
        return if expected.is_empty() { Verdict::Unknown } else { Verdict::Outside };
    };
    let wrong = |value| tolerance(value, in_ohms);
    match before {
        Some((_, before)) if holds(range, before) && (value - before).abs() > wrong(value) + wrong(before) => {
            Verdict::Drifting
        }
        _ => Verdict::Within,
    }
}

/// Every value that was taken of a device's, board's or battery's supply, by date.
pub(crate) fn supplies<'s>(site: &'s Site, power: &Power) -> Vec<JudgedSupply<'s>> {
    let mut last: BTreeMap<(bool, &str), Earlier> = BTreeMap::new();
    let mut judged: Vec<JudgedSupply<'s>> = Vec::new();
    for measured in &site.measured {
        let devices = measured.devices.iter().map(|taken| (false, taken));
        let batteries = measured.batteries.iter().map(|taken| (true, taken));
        for (battery, (name, volts)) in devices.chain(batteries) {
            let Some(volts) = volts else { continue };
            let calculated =
                if battery { float(site, &name.value) } else { read_at(site, power, &name.value, volts.value) };
            let date = measured.date.value;
            let before = last.insert((battery, name.value.as_str()), (date, volts.value.0));
            let expected = calculated.map(volts_shown_by_a_meter);
            let range = expected.map(|(least, most)| Spread { least: least.0, nominal: least.0, greatest: most.0 });
            let verdict = judge(volts.value.0, range.as_slice(), earlier(before, date), false);
            let (span, volts) = (volts.span, volts.value);
            let (name, last) = (name.value.as_str(), true);
            judged.push(JudgedSupply { date, name, battery, span, volts, expected, before, last, verdict });
        }
    }
    look_back(
        judged.iter_mut().map(|one| ((one.date, &mut one.last, &mut one.verdict), Some((one.battery, one.name)))),
    );
    judged
}

/// What a charged battery of a board has on float.
pub(crate) fn float(site: &Site, name: &str) -> Option<(Volts, Volts)> {
    let (id, board) = site.board_named(name)?;
    board.battery.as_ref()?;
    Some(own_supply::float(site.part_of(id)?))
}

/// What a device or board gets on mains at rest; `None` where it is off then, or not known.
pub(crate) fn at_device(site: &Site, power: &Power, name: &str) -> Option<(Volts, Volts)> {
    let (feeding, node) = place(site, power, name)?;
    at_rest(feeding, node)
}

/// What a reading of a device or board is held against. What is off at rest has nothing then, and may have been read in
/// alarm.
fn read_at(site: &Site, power: &Power, name: &str, read: Volts) -> Option<(Volts, Volts)> {
    let (feeding, node) = place(site, power, name)?;
    at_rest(feeding, node).or_else(|| {
        let in_alarm = with_tolerance(feeding, node, Demand::Alarm)?;
        Some(if read.0 < OFF { (Volts(0.0), Volts(0.0)) } else { in_alarm })
    })
}

/// True where a device or board has no supply on mains at rest, and has one in alarm.
pub(crate) fn is_off_at_rest(site: &Site, power: &Power, name: &str) -> bool {
    place(site, power, name).is_some_and(|(feeding, node)| {
        at_rest(feeding, node).is_none() && with_tolerance(feeding, node, Demand::Alarm).is_some()
    })
}

fn place<'p>(site: &Site, power: &'p Power, name: &str) -> Option<(&'p Feeding, usize)> {
    let device = site.device_named(name).map(|(id, _)| Consumer::Device(id));
    let consumer = device.or_else(|| site.board_named(name).map(|(id, _)| Consumer::Board(id)))?;
    power.place_of(consumer)
}

/// What a place gets on mains at rest, with what a supply may differ from its sheet; `None` where it is off or not known.
pub(crate) fn at_rest(feeding: &Feeding, node: usize) -> Option<(Volts, Volts)> {
    with_tolerance(feeding, node, Demand::Idle)
}

fn with_tolerance(feeding: &Feeding, node: usize, demand: Demand) -> Option<(Volts, Volts)> {
    let (low, _) = feeding.volts(node, Supply::Mains, demand)?;
    // What takes less than its sheet says is no fault, and loses less on the way.
    let high = feeding.unloaded(node, Case { supply: Supply::Mains, demand, wire: Wire::Cold })?;
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

    /// A loop with contacts of both forms: one shorts it, the other opens it, and at rest it is between.
    #[test]
    fn what_is_read_at_rest_is_no_alarm() {
        let rest = Spread { least: 2.4, nominal: 2.5, greatest: 2.6 };
        let alarms = shown_of(&[Spread::exact(0.0), Spread::exact(5.0)], false);
        for (value, verdict) in [(0.01, Verdict::Within), (4.98, Verdict::Within), (rest.nominal, Verdict::Outside)] {
            assert_eq!(judge(value, &alarms, Some((day(1), 0.0)), false), verdict, "{value}");
        }
        assert_eq!(judge(2.5, &[], None, false), Verdict::Unknown);
    }

    fn day(number: i8) -> jiff::civil::Date {
        jiff::civil::date(2027, 4, number)
    }

    #[test]
    fn a_reading_is_held_against_the_spread_and_the_time_before() {
        let expected = shown_of(&[Spread { least: 2090.0, nominal: 2200.0, greatest: 2310.0 }], true);
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
            assert_eq!(judge(value, &expected, before.map(|b| (day(1), b)), true), verdict, "{value} {before:?}");
        }
        assert_eq!(judge(2200.0, &expected, earlier(Some((day(1), 2140.0)), day(1)), true), Verdict::Within);
        assert_eq!(judge(2200.0, &expected, earlier(Some((day(1), 2140.0)), day(2)), true), Verdict::Drifting);
        let open = shown_of(&[Spread { least: 1e6, nominal: f64::INFINITY, greatest: f64::INFINITY }], true);
        assert_eq!(judge(f64::INFINITY, &open, Some((day(1), f64::INFINITY)), true), Verdict::Within);
    }
}

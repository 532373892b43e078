//! What is wrong with each loop: every cause that is true and cannot be read off another.
//!
//! A loop without its resistor has no alarm that reads right either; saying so would bury the cause. What is silent is so
//! only beside an error, which cannot be accepted: contacts and resistors that the wiring does not have come before all
//! readings, a loop that is not normal at rest before its other states, and what remedies an alarm is tried on every state.
//! Notes stand beside each other. Out of scope: words.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::calc::remedy::{self, Change};
use crate::calc::{LoopReadings, State, StateReading, Verdict, network, unseen};
use crate::checks::Context;
use crate::checks::loops::loop_known::{
    Known, is_alarm, is_fault, is_normal, is_unclear, is_unclear_fault, judged_by, known, margin_is_small,
    may_be_normal, resistors,
};
use crate::checks::loops::loop_remedy;
use crate::checks::loops::two_wire;
use crate::model::{Device, Run, Sensing, Site, Zone};
use crate::quantity::Metres;
use crate::terms::{BandName, ContactForm, LoopWiring, ZoneType};

/// What is wrong with a loop.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cause {
    /// A contact or resistor that its wiring does not have.
    WiringUnfit,
    /// Two-wire detectors that are not fed, too many, mixed with others, or with a resistor or volts that do not fit.
    TwoWireUnfit,
    /// A shunt that its wiring does not have, or a contact that lacks one.
    ShuntMisplaced,
    /// A wiring with a resistor, and there is none.
    ResistorMissing,
    /// Not normal at rest, as no other loop is that is read by the same figures: it is these that are looked at first. What
    /// would set it right by itself.
    NoneNormal(Option<Change>),
    /// Not normal at rest, and normal if its cables were no longer than this together.
    TooLong(Metres),
    /// Not normal at rest, and right in every state with this.
    ResistorWrong(Change),
    /// Not normal at rest, and no preferred value makes every state right.
    NotNormal,
    /// Contacts in alarm that read normal.
    AlarmNormal,
    /// Cable faults that read normal, or may, although the loop is supervised.
    FaultNormal,
    /// The same of cables that were in the wall before: the loop is taken as it was found.
    ExistingUnseen,
    /// Alarms that read as a cut cable does, in a wiring that is there to tell them apart.
    Indistinct,
    /// Alarms of an end-of-line loop that never reach the board's band for them.
    AlarmBandMissed,
    /// Contacts in alarm that read as nothing certain.
    AlarmUnclear,
    /// Cable faults that read as nothing certain, and not as normal.
    FaultUnclear,
    /// Alarms of a fire zone that read as a cut cable or a lost supply does.
    AlarmLikeFault,
    /// Readings close to the edge of their band.
    MarginSmall,
}

impl Cause {
    /// True where the rule that reports it is an error.
    pub(crate) fn is_error(&self) -> bool {
        match self {
            Self::ExistingUnseen
            | Self::FaultUnclear
            | Self::AlarmLikeFault
            | Self::AlarmBandMissed
            | Self::MarginSmall => false,
            Self::WiringUnfit
            | Self::TwoWireUnfit
            | Self::ShuntMisplaced
            | Self::ResistorMissing
            | Self::NoneNormal(_)
            | Self::TooLong(_)
            | Self::ResistorWrong(_)
            | Self::NotNormal
            | Self::AlarmNormal
            | Self::FaultNormal
            | Self::Indistinct
            | Self::AlarmUnclear => true,
        }
    }
}

/// The causes of every loop that has some.
pub(crate) fn of_site(site: &Site, loops: &BTreeMap<Id<Zone>, LoopReadings>) -> BTreeMap<Id<Zone>, Vec<Cause>> {
    let mut found: BTreeMap<Id<Zone>, Vec<Cause>> =
        loops.iter().map(|(zone, readings)| (*zone, causes(site, readings).unwrap_or_default())).collect();
    for zones in by_sensing(site, loops).into_values().filter(|zones| zones.len() >= SEVERAL) {
        let at_rest = |zone: &Id<Zone>| match found.get(zone).map(Vec::as_slice) {
            Some([Cause::ResistorWrong(change)]) => Some(Some(*change)),
            Some([Cause::NotNormal | Cause::TooLong(_)]) => Some(None),
            Some(_) | None => None,
        };
        let Some(changes) = zones.iter().map(at_rest).collect::<Option<Vec<_>>>() else { continue };
        found.extend(zones.into_iter().zip(changes).map(|(zone, change)| (zone, vec![Cause::NoneNormal(change)])));
    }
    found.retain(|_, causes| !causes.is_empty());
    found
}

/// How many loops or readings of one board are wrong by what they have in common, and not each by itself: ours.
pub(crate) const SEVERAL: usize = 3;

/// The loops by the figures that they are read by: those of which it can be said how they read at rest.
fn by_sensing(site: &Site, loops: &BTreeMap<Id<Zone>, LoopReadings>) -> BTreeMap<Span, Vec<Id<Zone>>> {
    let mut zones: BTreeMap<Span, Vec<Id<Zone>>> = BTreeMap::new();
    for (zone, readings) in loops {
        let Some(sensing) = known(site, *zone).and_then(|known| judged_by(&known)) else { continue };
        if readings.states.first().is_some_and(|rest| rest.reading.verdict != Verdict::Unknown) {
            zones.entry(sensing.place.span).or_default().push(*zone);
        }
    }
    zones
}

/// The loops with a cause that is wanted.
pub(crate) fn found(
    context: Context<'_>,
    wanted: fn(&Cause) -> bool,
) -> impl Iterator<Item = (&LoopReadings, Known<'_>, &Cause)> {
    let causes = context.verdicts.iter().flat_map(|(zone, causes)| causes.iter().map(move |cause| (zone, cause)));
    causes
        .filter(move |(_, cause)| wanted(cause))
        .filter_map(move |(zone, cause)| Some((context.loops.get(zone)?, known(context.site, *zone)?, cause)))
}

/// The contacts whose form the wiring does not have.
pub(crate) fn unfit_contacts(site: &Site, id: Id<Zone>, wiring: LoopWiring) -> Vec<Id<Device>> {
    let unfit = match wiring {
        LoopWiring::NormallyClosed | LoopWiring::DoubleEndOfLine => ContactForm::NormallyOpen,
        LoopWiring::NormallyOpen => ContactForm::NormallyClosed,
        // What a two-wire loop may have has a rule of its own.
        LoopWiring::EndOfLine | LoopWiring::TwoWire => return Vec::new(),
    };
    network::devices(site, id)
        .filter(|device| !network::watches_supply(site, *device))
        .filter(|device| network::contact(site, *device).is_some_and(|contact| contact.0 == unfit))
        .collect()
}

/// The devices that have a shunt and should not, or lack one.
pub(crate) fn misplaced_shunts(site: &Site, id: Id<Zone>, wiring: LoopWiring) -> Vec<Id<Device>> {
    let double = wiring == LoopWiring::DoubleEndOfLine;
    network::devices(site, id)
        .filter(|device| !network::watches_supply(site, *device) && network::contact(site, *device).is_some())
        .filter(|device| site.devices[*device].shunt.is_some() != double)
        .collect()
}

/// The alarms that read as a cut cable does.
pub(crate) fn indistinct(readings: &LoopReadings) -> Vec<&StateReading> {
    let cut = readings.states.iter().find(|reading| matches!(reading.state, State::Cut(_)));
    let several = |state: State| matches!(state, State::Alarms(_) | State::AllAlarms);
    let certain = |reading: &&StateReading| matches!(reading.state, State::Alarm(_)) && is_unclear(reading);
    // Where one alarm alone is unclear, more of them are no matter of how many there are.
    let one_is_clear = !readings.states.iter().any(|reading| certain(&reading));
    readings
        .states
        .iter()
        .filter(|reading| several(reading.state) || matches!(reading.state, State::Alarm(_)))
        .filter(|reading| {
            cut.is_some_and(|cut| cut.reading.verdict == reading.reading.verdict)
                || (one_is_clear && several(reading.state) && is_unclear(reading))
        })
        .collect()
}

/// The alarms of a fire zone's supervised loop that read as a cut cable does, or a lost supply. A short is left out where by its
/// wiring such a loop takes a short for an alarm: a board that feeds its detectors may have a band of its own for each.
pub(crate) fn like_a_fault<'r>(readings: &'r LoopReadings, known: &Known<'_>) -> Vec<&'r StateReading> {
    if !known.is_fire() || !known.wiring.is_supervised() {
        return Vec::new();
    }
    like(readings, if tells_shorts(known) { is_fault_or_lost } else { is_trouble })
}

/// True for a loop that feeds its detectors, on a board that takes no short for an alarm: it has a band for that, and no contacts
/// may close across the pair.
pub(crate) fn tells_shorts(known: &Known<'_>) -> bool {
    let Some(sensing) = known.sensing.filter(|_| known.wiring == LoopWiring::TwoWire) else { return false };
    let has_band = sensing.bands.iter().any(|band| band.reads.value == BandName::Alarm);
    has_band && sensing.feed.as_ref().is_some_and(|feed| !feed.contacts)
}

/// The alarms of an end-of-line loop that read as a cut cable does, on a board with a band for an alarm that none of them
/// reaches: with one resistor a loop is at rest, shorted or open, and nothing between. A board without that band takes an
/// open loop for the alarm. A short is left out, as above.
pub(crate) fn misses_alarm_band<'r>(readings: &'r LoopReadings, known: &Known<'_>) -> Vec<&'r StateReading> {
    let told = |name| known.sensing.is_some_and(|sensing| sensing.bands.iter().any(|band| band.reads.value == name));
    let told_apart = told(BandName::Alarm) && (told(BandName::Tamper) || told(BandName::Open));
    // A cover or a trouble is told as such, whatever the cable does.
    let is_told = matches!(known.zone.kind.as_ref().map(|kind| kind.value), Some(ZoneType::Tamper | ZoneType::Trouble));
    let reached = Verdict::Reads(BandName::Alarm);
    let reaches = readings.states.iter().any(|one| is_contact(one.state) && one.reading.verdict == reached);
    if known.wiring != LoopWiring::EndOfLine || !told_apart || is_told || reaches {
        return Vec::new();
    }
    like(readings, is_trouble)
}

/// The alarms that certainly read as some other states do.
fn like(readings: &LoopReadings, fault: fn(&StateReading) -> bool) -> Vec<&StateReading> {
    let faults = readings.states.iter().filter(|reading| fault(reading));
    let faults: Vec<Verdict> = faults.map(|reading| reading.reading.verdict).collect();
    readings.states.iter().filter(|one| is_contact(one.state) && faults.contains(&one.reading.verdict)).collect()
}

/// True for contacts in alarm.
fn is_contact(state: State) -> bool {
    state.is_alarm()
}

/// True for whatever is wrong with a cable or a supply.
fn is_fault_or_lost(reading: &StateReading) -> bool {
    reading.state.damage().is_some() || is_trouble(reading)
}

/// True for a cut cable and a lost supply.
pub(crate) fn is_trouble(reading: &StateReading) -> bool {
    matches!(reading.state, State::Cut(_) | State::SupplyLost(_))
}

fn causes(site: &Site, readings: &LoopReadings) -> Option<Vec<Cause>> {
    let known = known(site, readings.zone)?;
    let supervised = known.wiring.is_supervised();
    let fitted = !resistors(site, readings.zone).is_empty();
    let unfit = !unfit_contacts(site, readings.zone, known.wiring).is_empty() || (fitted && !supervised);
    let shunts = !misplaced_shunts(site, readings.zone, known.wiring).is_empty();
    let built = [
        (unfit, Cause::WiringUnfit),
        (two_wire::is_unfit(site, readings, &known), Cause::TwoWireUnfit),
        // What is said of shunts holds for the contacts that the wiring has.
        (shunts && !unfit, Cause::ShuntMisplaced),
        (supervised && !fitted, Cause::ResistorMissing),
    ];
    let built = chosen(built);
    if !built.is_empty() {
        return Some(built);
    }
    let judged = judged_by(&known).and_then(|sensing| by_readings(site, readings, &known, sensing));
    Some(judged.unwrap_or_else(|| whatever_the_bands(site, readings, &known)))
}

/// What is wrong however the board reads: faults of cables that read as the loop at rest does.
fn whatever_the_bands(site: &Site, readings: &LoopReadings, known: &Known<'_>) -> Vec<Cause> {
    let unseen = if known.wiring.is_supervised() { unseen::of(readings) } else { Vec::new() };
    let (existing, new): (Vec<_>, Vec<_>) = unseen.into_iter().partition(|unseen| site.is_existing(unseen.run));
    if new.is_empty() { chosen([(!existing.is_empty(), Cause::ExistingUnseen)]) } else { vec![Cause::FaultNormal] }
}

fn by_readings(site: &Site, readings: &LoopReadings, known: &Known<'_>, sensing: &Sensing) -> Option<Vec<Cause>> {
    let wiring = known.wiring;
    let rest = readings.states.first().filter(|rest| rest.reading.verdict != Verdict::Unknown)?;
    if !is_normal(rest) {
        return Some(vec![at_rest(site, readings, wiring, sensing)]);
    }
    let any = |wanted: &dyn Fn(&StateReading) -> bool| readings.states.iter().any(wanted);
    // What stands at the end of a cable whose cut reads normal is beyond the resistor, and reads normal for that reason.
    let beyond: Vec<Id<Run>> =
        readings.states.iter().filter(|state| wiring.is_supervised() && is_normal(state)).filter_map(cut_run).collect();
    let is_beyond = |state: &StateReading| match state.state {
        State::Alarm(device) | State::Cover(device) | State::SupplyLost(device) => {
            site.devices[device].run.is_some_and(|run| beyond.contains(&run))
        }
        State::Normal
        | State::Alarms(_)
        | State::AllAlarms
        | State::Cut(_)
        | State::ShortNear(_)
        | State::ShortFar(_) => false,
    };
    // One change of resistors is looked for that remedies these three, so the first speaks for them.
    let alarm = if any(&|state| is_alarm(state) && is_normal(state) && !is_beyond(state)) {
        Some(Cause::AlarmNormal)
    } else if wiring == LoopWiring::DoubleEndOfLine && !indistinct(readings).is_empty() {
        Some(Cause::Indistinct)
    } else if any(&|state| is_alarm(state) && is_unclear(state)) {
        Some(Cause::AlarmUnclear)
    } else {
        None
    };
    let unseen = |existing: bool| {
        let of = |state: &StateReading| state.state.damage().is_some_and(|(run, _)| site.is_existing(run) == existing);
        wiring.is_supervised() && any(&|state| may_be_normal(state) && of(state))
    };
    let fault = unseen(false);
    let errors: Vec<Cause> = alarm.into_iter().chain(fault.then_some(Cause::FaultNormal)).collect();
    Some(if errors.is_empty() {
        chosen([
            (unseen(true), Cause::ExistingUnseen),
            (any(&is_unclear_fault), Cause::FaultUnclear),
            (!like_a_fault(readings, known).is_empty(), Cause::AlarmLikeFault),
            (!known.is_fire() && !misses_alarm_band(readings, known).is_empty(), Cause::AlarmBandMissed),
            (any(&|state| !is_fault(state) && margin_is_small(sensing, state)), Cause::MarginSmall),
        ])
    } else {
        errors
    })
}

/// The run that is cut.
fn cut_run(reading: &StateReading) -> Option<Id<Run>> {
    if let State::Cut(run) = reading.state { Some(run) } else { None }
}

fn chosen(causes: impl IntoIterator<Item = (bool, Cause)>) -> Vec<Cause> {
    causes.into_iter().filter_map(|(is_true, cause)| is_true.then_some(cause)).collect()
}

fn at_rest(site: &Site, readings: &LoopReadings, wiring: LoopWiring, sensing: &Sensing) -> Cause {
    if let Some(longest) = remedy::longest(site, sensing, &readings.network) {
        Cause::TooLong(longest)
    } else {
        loop_remedy::change(site, readings, wiring, sensing).map_or(Cause::NotNormal, Cause::ResistorWrong)
    }
}

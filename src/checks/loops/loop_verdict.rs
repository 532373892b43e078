//! What is wrong with each loop: every cause that is true and cannot be read off another.
//!
//! A loop without its resistor has no alarm that reads right either; saying so would bury the cause. What is silent is so
//! only beside an error, which cannot be accepted: contacts and resistors that the wiring does not have come before all
//! readings, a loop that is not normal at rest before its other states, and what remedies an alarm is tried on every state.
//! Notes stand beside each other. Out of scope: words.

use std::collections::BTreeMap;

use crate::base::{Id, Spanned};
use crate::calc::remedy::{self, Change};
use crate::calc::spread::Spread;
use crate::calc::{LoopReadings, Reading, State, StateReading, Verdict, band, network};
use crate::checks::Context;
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_unsupervised::is_fire;
use crate::checks::loops::sensing_impossible;
use crate::checks::loops::two_wire;
use crate::model::{Device, Loop, Part, Run, Sensing, Site, Zone};
use crate::profiles::limits;
use crate::quantity::{Metres, Resistance};
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
    let found = loops.iter().map(|(zone, readings)| (*zone, causes(site, readings).unwrap_or_default()));
    found.filter(|(_, causes)| !causes.is_empty()).collect()
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

/// A loop of which nothing was reported, so that something may be concluded from it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Known<'s> {
    /// Its zone.
    pub(crate) zone: &'s Zone,
    /// The loop.
    pub(crate) wired: &'s Loop,
    /// How it is supervised.
    pub(crate) wiring: LoopWiring,
    /// The part of the board that senses it.
    pub(crate) part: &'s Part,
    /// How that board reads a loop of this wiring.
    pub(crate) sensing: Option<&'s Sensing>,
}

impl Known<'_> {
    /// True in a zone of fire or carbon monoxide.
    pub(crate) fn is_fire(&self) -> bool {
        self.zone.kind.as_ref().is_some_and(|kind| is_fire(kind.value))
    }
}

/// What is known of a loop; `None` where something in it, its devices or its board was reported.
pub(crate) fn known(site: &Site, id: Id<Zone>) -> Option<Known<'_>> {
    let zone = Some(&site.zones[id]).filter(|zone| zone.whole)?;
    let wired = zone.wired.as_ref()?;
    let part = site.part_of(wired.board.as_ref()?.value).filter(|part| part.whole)?;
    let is_whole = |part: &Part| part.whole && part.loop_fed.as_ref().is_none_or(|sheet| sheet.reversed().is_empty());
    let whole = |device| site.devices[device].part.is_some_and(|part: Id<Part>| is_whole(&site.parts[part]));
    let mut devices = network::devices(site, id).peekable();
    devices.peek()?;
    let (wiring, sensing) = (wired.wiring.as_ref()?.value, site.sensing_of(id));
    devices.all(whole).then_some(Known { zone, wired, wiring, part, sensing })
}

/// The sensing by which a loop can be judged; `None` where it lacks figures or cannot be as written.
pub(crate) fn judged_by<'s>(known: &Known<'s>) -> Option<&'s Sensing> {
    known.sensing.filter(|sensing| sensing_impossible::faults(sensing).is_empty())
}

/// True for the wirings that have a resistor.
pub(crate) fn is_supervised(wiring: LoopWiring) -> bool {
    match wiring {
        LoopWiring::EndOfLine | LoopWiring::DoubleEndOfLine | LoopWiring::TwoWire => true,
        LoopWiring::NormallyOpen | LoopWiring::NormallyClosed => false,
    }
}

/// True for a state that a contact makes.
pub(crate) fn is_alarm(reading: &StateReading) -> bool {
    !is_fault(reading) && reading.state != State::Normal
}

/// True for a state that a cable makes.
pub(crate) fn is_fault(reading: &StateReading) -> bool {
    reading.state.damage().is_some()
}

/// True where the board takes it for a loop at rest.
pub(crate) fn is_normal(reading: &StateReading) -> bool {
    reading.reading.verdict == Verdict::Reads(BandName::Normal)
}

/// True where what the board makes of it is left to chance.
pub(crate) fn is_unclear(reading: &StateReading) -> bool {
    matches!(reading.reading.verdict, Verdict::Unclear(_))
}

/// True where the board may take it for a loop at rest, or does.
pub(crate) fn may_be_normal(reading: &StateReading) -> bool {
    reading.reading.verdict.may_be(BandName::Normal)
}

/// True for a cable fault that reads as nothing certain, but not as normal.
pub(crate) fn is_unclear_fault(reading: &StateReading) -> bool {
    is_fault(reading) && is_unclear(reading) && !may_be_normal(reading)
}

/// The resistors of a zone's loop, each with the run at whose far end it is; `None` at the board.
pub(crate) fn resistors(site: &Site, zone: Id<Zone>) -> Vec<(Option<Id<Run>>, &Spanned<Resistance>)> {
    site.resistors_of(zone).collect()
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

/// The alarms of a fire zone's supervised loop that read as a cut cable does, or a lost supply. A short is left out: by its
/// wiring such a loop takes a short for an alarm.
pub(crate) fn like_a_fault<'r>(readings: &'r LoopReadings, known: &Known<'_>) -> Vec<&'r StateReading> {
    if !known.is_fire() || !is_supervised(known.wiring) {
        return Vec::new();
    }
    like(readings, is_trouble)
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
    matches!(state, State::Alarm(_) | State::Alarms(_) | State::AllAlarms)
}

/// True for a cut cable and a lost supply.
pub(crate) fn is_trouble(reading: &StateReading) -> bool {
    matches!(reading.state, State::Cut(_) | State::SupplyLost(_))
}

/// True where a board's bands, besides those for a short and a loop at rest, are too few to tell an alarm from a cut.
pub(crate) fn lacks_alarm_band(sensing: &Sensing) -> bool {
    let told = |band: &&crate::model::Band| !matches!(band.reads.value, BandName::Short | BandName::Normal);
    sensing.bands.iter().filter(told).count() < 2
}

/// What a board makes of a loop that is nothing but a short.
pub(crate) fn of_short(sensing: &Sensing) -> Verdict {
    of(sensing, Spread::SHORT)
}

/// What a board makes of a resistance.
pub(crate) fn of(sensing: &Sensing, ohms: Spread) -> Verdict {
    band::judge(sensing, ohms, band::voltage(sensing, ohms)).verdict
}

/// True where a board takes a short for a loop at rest: no resistor in the loop changes that.
pub(crate) fn takes_short_for_rest(sensing: &Sensing) -> bool {
    of_short(sensing).may_be(BandName::Normal)
}

/// True where a reading keeps less distance from the edge of its band than is usual.
pub(crate) fn margin_is_small(sensing: &Sensing, reading: &Reading) -> bool {
    let (Verdict::Reads(name), Some(margin)) = (reading.verdict, reading.margin) else { return false };
    let width = sensing.bands.iter().filter(|band| band.reads.value == name).map(|band| {
        let (low, high, _) = band::edges(band);
        high - low
    });
    let share = f64::from(limits::LOOP_MARGIN_SHARE) / 100.0;
    let by_width = width.filter(|width| width.is_finite()).any(|width| margin < width * share);
    by_width || (!reading.in_ohms && margin < f64::from(limits::LOOP_MARGIN_MILLIVOLTS) / 1000.0)
}

fn causes(site: &Site, readings: &LoopReadings) -> Option<Vec<Cause>> {
    let known = known(site, readings.zone)?;
    let supervised = is_supervised(known.wiring);
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
    if built.is_empty() { by_readings(site, readings, &known, judged_by(&known)?) } else { Some(built) }
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
        readings.states.iter().filter(|state| is_supervised(wiring) && is_normal(state)).filter_map(cut_run).collect();
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
        is_supervised(wiring) && any(&|state| may_be_normal(state) && of(state))
    };
    let fault = unseen(false);
    let errors: Vec<Cause> = alarm.into_iter().chain(fault.then_some(Cause::FaultNormal)).collect();
    Some(if errors.is_empty() {
        chosen([
            (unseen(true), Cause::ExistingUnseen),
            (any(&is_unclear_fault), Cause::FaultUnclear),
            (!like_a_fault(readings, known).is_empty(), Cause::AlarmLikeFault),
            (!known.is_fire() && !misses_alarm_band(readings, known).is_empty(), Cause::AlarmBandMissed),
            (any(&|state| !is_fault(state) && margin_is_small(sensing, &state.reading)), Cause::MarginSmall),
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

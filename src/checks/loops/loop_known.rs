//! What is known of a loop that nothing was reported of, and what its readings mean to its board.

use crate::base::{Id, Spanned};
use crate::calc::spread::Spread;
use crate::calc::{Reading, State, StateReading, Verdict, band, network};
use crate::checks::loops::sensing_faults::faults;
use crate::model::{Loop, Part, Run, Sensing, Site, Zone};
use crate::profiles::limits;
use crate::quantity::Resistance;
use crate::terms::{BandName, LoopWiring};

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
        self.zone.kind.as_ref().is_some_and(|kind| kind.value.is_fire())
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
    known.sensing.filter(|sensing| faults(sensing).is_empty())
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
pub(crate) fn margin_is_small(sensing: &Sensing, one: &StateReading) -> bool {
    let Reading { verdict: Verdict::Reads(_), margin: Some(margin), in_ohms } = one.reading else { return false };
    let width = held_between(sensing, one).map(|(low, high)| high - low).filter(|width| width.is_finite());
    let share = f64::from(limits::LOOP_MARGIN_SHARE) / 100.0;
    let by_width = width.is_some_and(|width| margin < width * share);
    by_width || (!in_ohms && margin < f64::from(limits::LOOP_MARGIN_MILLIVOLTS) / 1000.0)
}

/// What a board holds against its bands: ohms or volts. `None` where it is not known.
pub(crate) fn held(one: &StateReading) -> Option<Spread> {
    if one.reading.in_ohms { Some(one.ohms) } else { one.volts }
}

/// The edges between which a reading lies: of the band that it reads as, and of no other of that name. `None` where it lies
/// in no band, or its ends in bands that only touch.
pub(crate) fn held_between(sensing: &Sensing, one: &StateReading) -> Option<(f64, f64)> {
    let Verdict::Reads(name) = one.reading.verdict else { return None };
    let value = held(one)?;
    let holding = |x: f64| {
        let mut bands = sensing.bands.iter().filter(|band| band.reads.value == name).map(band::edges);
        bands.find(|(low, high, _)| *low <= x && x <= *high)
    };
    Some((holding(value.least)?.0, holding(value.greatest)?.1))
}

/// True where a state is right: at rest normal, every alarm certain and not normal, with shunts none like a cut cable, every cable
/// fault certain; `strict` where none of these may read normal either. `cut` is what a cut cable reads.
pub(crate) fn fits(wiring: LoopWiring, strict: bool, reading: &StateReading, cut: Option<Verdict>) -> bool {
    let like_a_cut = || {
        let contact = reading.state.is_alarm();
        contact && wiring == LoopWiring::DoubleEndOfLine && cut == Some(reading.reading.verdict)
    };
    if reading.state == State::Normal {
        is_normal(reading)
    } else if is_alarm(reading) {
        !is_normal(reading) && !is_unclear(reading) && !like_a_cut()
    } else {
        let unseen = strict && wiring.is_supervised() && is_normal(reading);
        !is_unclear(reading) && !unseen
    }
}

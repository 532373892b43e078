//! Readings inverted: from a measured value to the states it fits and to what else would explain it.
//!
//! Explanations are the usual single faults: the conductors touching somewhere along a run, a leak across the leads,
//! a bad joint in series, another resistor than the one in the spec, a second one beside it, a reading written in another unit.
//! Two faults at once are out of scope.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::model::{Device, Run, Sensing, Site, Zone};
use crate::quantity::preferred::{self, Series};
use crate::quantity::{Metres, Ohms, Resistance};

use super::band;
use super::conductor::LEAKAGE;
use super::contacts;
pub use super::fault::Fault;
use super::loops::{self, LoopReadings, StateReading};
use super::meter;
pub use super::meter::Measured;
use super::network::{self, Element, Network};
use super::spread::{Spread, border};
use super::state::State;
use super::two_wire;

/// Ohms that two conductors may keep between them where a staple or a nail joins them: common practice.
const TOUCH: f64 = 3.0;

/// Ohms that dirt may put into a closed contact: common practice.
const DIRT: f64 = 10.0;

/// The most ohms that a worn contact or a bad joint is taken to have, before the loop counts as open: common practice.
const WORN: f64 = 10_000.0;

/// The least that a resistor for the end of a line has: common practice.
const LEAST_RESISTOR: f64 = 500.0;

/// A state held against the measured value. Distances are in the unit that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Position among the loop's readings.
    pub state: usize,
    /// Distance to the nearest end of the state's spread; 0 inside.
    pub(crate) outside: f64,
    /// True where it lies in the spread, or so near that a meter may be wrong by as much.
    pub(crate) fits: bool,
    /// Distance to the nominal reading.
    pub(crate) from_nominal: f64,
}

/// A measured value inverted.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnosis {
    /// The loop's resistance that was measured or follows from the voltage, in ohm; infinite for none.
    pub ohms: f64,
    /// The states whose spread holds the value, or is as near as a meter may be wrong: cables cut or shorted behind all
    /// others, else nearest nominal first.
    pub fits: Vec<Fit>,
    /// Where none does: the nearest, three at most.
    pub nearest: Vec<Fit>,
    /// What else would explain it, where it is not the reading at rest.
    pub faults: Vec<Fault>,
}

impl Diagnosis {
    /// The states that fit, of the loop's readings.
    pub(crate) fn states(&self, readings: &LoopReadings) -> impl Iterator<Item = State> {
        self.fits.iter().filter_map(|fit| readings.states.get(fit.state)).map(|reading| reading.state)
    }
}

/// A loop, and the state that it was in when it was measured.
#[derive(Clone, Copy)]
struct Taken<'a> {
    site: &'a Site,
    readings: &'a LoopReadings,
    sensing: Option<&'a Sensing>,
    state: State,
}

/// Inverts a measured value of a loop of which everything should be at rest; `None` for a voltage where the board's
/// sensing is not known.
pub fn diagnose(
    site: &Site,
    readings: &LoopReadings,
    sensing: Option<&Sensing>,
    measured: Measured,
) -> Option<Diagnosis> {
    in_state(site, readings, sensing, (measured, State::Normal))
}

/// The same of a loop that was brought into a state: what would explain the value there is something else.
pub(crate) fn in_state(
    site: &Site,
    readings: &LoopReadings,
    sensing: Option<&Sensing>,
    (measured, state): (Measured, State),
) -> Option<Diagnosis> {
    let taken = Taken { site, readings, sensing, state };
    let ohms = match measured {
        Measured::Ohms(ohms) => ohms,
        Measured::Volts(volts) => loop_ohms(sensing?, volts)?,
    };
    // Off its board a detector that feeds on the loop has no supply: ohms show none of its alarms.
    let fed: Vec<Id<Device>> =
        site.devices_of(readings.zone).map(|(id, _)| id).filter(|id| site.loop_fed(*id).is_some()).collect();
    let is_shown = |reading: &StateReading| {
        matches!(measured, Measured::Volts(_)) || !fed.iter().any(|id| reading.state.is_alarm_of(*id))
    };
    let states = readings.states.iter().enumerate().filter(|(_, reading)| is_shown(reading));
    let mut all: Vec<Fit> = states.filter_map(|(state, reading)| fit(state, reading, measured)).collect();
    let by = |key: fn(&Fit) -> f64| move |a: &Fit, b: &Fit| key(a).total_cmp(&key(b)).then(a.state.cmp(&b.state));
    all.sort_by(by(|fit| fit.outside));
    let mut fits: Vec<Fit> = all.iter().copied().filter(|fit| fit.fits).collect();
    fits.sort_by(by(|fit| fit.from_nominal));
    // An alarm that is taken for a damaged cable is the worse mistake.
    let damaged = |fit: &Fit| readings.states.get(fit.state).is_some_and(|reading| reading.state.damage().is_some());
    fits.sort_by_key(damaged);
    // Nothing of the loop itself gives more than its board does.
    if let Some(other) = other_voltage(readings, measured) {
        let faults = std::iter::once(other).chain(mistaken(readings, measured)).collect();
        return Some(Diagnosis { ohms, fits, nearest: Vec::new(), faults });
    }
    let nearest = if fits.is_empty() { nearest(&all) } else { Vec::new() };
    let at_rest = |fit: &Fit| readings.states.get(fit.state).is_some_and(|reading| reading.state == State::Normal);
    // Volts of a loop that feeds its detectors tell no resistance.
    let fed = matches!(measured, Measured::Volts(_)) && two_wire::feeds(&readings.network);
    let faults = if fits.iter().any(at_rest) {
        Vec::new()
    } else {
        let mut found = match measured {
            Measured::Volts(volts) if fed => {
                let is_loop = fits.is_empty() && state == State::Normal;
                let fault = sensing.and_then(|sensing| two_wire::fault(site, &readings.network, sensing, volts));
                fault.filter(|_| is_loop).into_iter().collect()
            }
            Measured::Volts(_) | Measured::Ohms(_) => faults(taken, measured, ohms),
        };
        // Elsewhere a bridge across a resistor is one of the states already.
        if fits.is_empty() && !fed {
            found.extend(left_out(taken, ohms));
        }
        found.extend(mistaken(readings, measured));
        found
    };
    Some(Diagnosis { ohms, fits, nearest, faults })
}

/// Volts above those of every state, by more than a meter may be wrong.
fn other_voltage(readings: &LoopReadings, measured: Measured) -> Option<Fault> {
    let Measured::Volts(volts) = measured else { return None };
    let most = readings.states.iter().filter_map(|reading| reading.volts).map(|spread| spread.greatest);
    let most = most.max_by(f64::total_cmp)?;
    (volts > most + meter::tolerance(most, false)).then_some(Fault::OtherVoltage(most))
}

/// The nearest of the states, and with it at most two that are not much further off.
fn nearest(by_distance: &[Fit]) -> Vec<Fit> {
    let reach = by_distance.first().map_or(0.0, |first| first.outside * 4.0);
    by_distance.iter().copied().take(3).take_while(|fit| fit.outside <= reach).collect()
}

/// The loop that gives a voltage: R = Rp·V/(Vs − V), with nominal values.
fn loop_ohms(sensing: &Sensing, volts: f64) -> Option<f64> {
    let (supply, pull_up) = (sensing.supply?.0, sensing.pull_up?.0);
    Some(if volts >= supply { f64::INFINITY } else { pull_up * volts / (supply - volts) })
}

fn fit(state: usize, reading: &StateReading, measured: Measured) -> Option<Fit> {
    let (spread, value) = match measured {
        Measured::Ohms(ohms) => (reading.ohms, ohms),
        Measured::Volts(volts) => (reading.volts?, volts),
    };
    // Two values without bound are no distance apart, but their difference is no number.
    let distance = |a: f64, b: f64| if a.is_infinite() && b.is_infinite() { 0.0 } else { (a - b).abs() };
    let held = value.clamp(spread.least, spread.greatest);
    Some(Fit {
        state,
        outside: distance(value, held),
        fits: meter::fits(value, spread, matches!(measured, Measured::Ohms(_))),
        from_nominal: distance(value, spread.nominal),
    })
}

fn faults(taken: Taken<'_>, measured: Measured, ohms: f64) -> Vec<Fault> {
    let Taken { site, readings, state, .. } = taken;
    let at_rest = state == State::Normal;
    let Some(base) = readings.states.iter().find(|reading| reading.state == state) else { return Vec::new() };
    let base = base.ohms.nominal;
    let mut found = Vec::new();
    if ohms.is_infinite() {
        found.push(Fault::Open);
        return found;
    }
    if !at_rest {
        found.extend(contact(taken, ohms));
    }
    if ohms < base {
        // First, because an alarm that is taken for a damaged cable is the worse mistake.
        if at_rest {
            found.extend(actuated(site, readings, ohms));
        }
        found.extend(shorts(taken, ohms));
        found.extend(touches(readings, ohms));
        let touch = found.iter().any(|fault| matches!(fault, Fault::Short { .. } | Fault::Touch(..)));
        let short = |reading: &StateReading| matches!(reading.state, State::ShortNear(_));
        let shorts = readings.states.iter().filter(|reading| short(reading)).map(|reading| reading.ohms.least);
        if shorts.min_by(f64::total_cmp).is_some_and(|least| least > TOUCH && ohms <= TOUCH) {
            found.push(Fault::LeadsTouch);
        }
        found.extend(seconds(taken, measured));
        // Where conductors that touch explain it, a leak of less than a hundredth of the loop is that, said above.
        let leak = leak(taken, ohms).filter(|leak| *leak > 1.0);
        let leak = leak.filter(|leak| !touch || base.is_infinite() || *leak > base / 100.0);
        found.extend(leak.map(Fault::Leakage));
    } else if !at_rest || ohms < base * 10.0 || base <= 0.0 {
        found.extend(seconds(taken, measured));
        found.push(Fault::InSeries(ohms - base));
    } else {
        // Where no resistor belongs, one fault explains what is more than the cable: a worn contact, or a resistor left there.
        if at_rest && network::resistors(site, readings.zone).is_empty() && ohms <= WORN {
            found.push(Fault::InSeries(ohms - base));
            let near = preferred::neighbours(Ohms(ohms), Series::E24).map(|(below, above)| [below.0, above.0]);
            let is_one = |value: &f64| ohms >= LEAST_RESISTOR && (ohms / value - 1.0).abs() < 0.02;
            found.extend(near.into_iter().flatten().find(is_one).map(Fault::LeftIn));
        }
        // What good cable leaks is no leak: the loop is open.
        found.push(if ohms < LEAKAGE { Fault::OpenWithLeakage(ohms) } else { Fault::Open });
        return found;
    }
    found.extend(other_resistors(taken, ohms));
    found
}

/// The ohms of a leak across the pair that would give the value, as near to the board as it can be: behind a resistor that
/// stands before the cables, none gives less than that resistor has.
fn leak(taken: Taken<'_>, ohms: f64) -> Option<f64> {
    let network = &taken.readings.network;
    loops::runs(network).into_iter().find_map(|at| {
        let with = |leak: f64| {
            let instead = |part: &Network| {
                let Network::Run(run, ..) = part else { return None };
                let across = Network::Element(Element::Wire(at), Spread::exact(leak));
                (*run == at).then(|| Network::Parallel(vec![part.clone(), across]))
            };
            nominal(taken, &network.replaced(&instead))
        };
        let (least, greatest) = (0.0, MOST_LEAK);
        (with(least) <= ohms && ohms < with(greatest)).then(|| border(least, greatest, |x| with(x) < ohms))
    })
}

/// Ohms above which nothing is called a leak that is looked for.
const MOST_LEAK: f64 = 1e9;

/// The ohms across the contact that was worked which would give the value: one that should be closed is not quite, or one that
/// should be open is bridged.
fn contact(taken: Taken<'_>, ohms: f64) -> Option<Fault> {
    let contact @ (device, which) = match taken.state {
        State::Alarm(device) => (device, network::Which::Alarm),
        State::Cover(device) => (device, network::Which::Cover),
        State::Normal
        | State::Alarms(_)
        | State::AllAlarms
        | State::SupplyLost(_)
        | State::Cut(_)
        | State::ShortNear(_)
        | State::ShortFar(_) => return None,
    };
    let with = |across: f64| {
        let instead = |part: &Network| {
            let Network::Element(Element::Contact(at, which), _) = part else { return None };
            ((*at, *which) == contact).then_some(Network::Element(Element::Shunt(device), Spread::exact(across)))
        };
        nominal(taken, &taken.readings.network.replaced(&instead))
    };
    let (least, greatest) = (0.0, LEAKAGE);
    (with(least) < ohms && ohms < with(greatest)).then(|| Fault::Contact {
        device,
        cover: which == network::Which::Cover,
        closed: contacts::is_closed(taken.site, contact, &BTreeSet::from([contact])),
        ohms: border(least, greatest, |x| with(x) < ohms),
    })
}

/// Where along each run a short would give the value.
fn shorts(taken: Taken<'_>, ohms: f64) -> Vec<Fault> {
    let Taken { site, readings, .. } = taken;
    let spread_in = |wanted: State| readings.states.iter().find(|r| r.state == wanted).map(|r| r.ohms);
    let place = |run: Id<Run>| {
        let (near, far) = (spread_in(State::ShortNear(run))?, spread_in(State::ShortFar(run))?);
        if !(near.least..=far.greatest).contains(&ohms) {
            return None;
        }
        let hidden = [near, far].iter().all(|spread| (spread.least..=spread.greatest).contains(&ohms));
        if hidden && far.nominal > near.nominal {
            return Some(Fault::Short { run, along: None, from_board: before(site, run) });
        }
        let length = site.runs[run].length.as_ref()?.value.0;
        let at = |share| spread(taken, &shorted(&readings.network, run, share));
        let wrong = meter::tolerance(ohms, true);
        // The nearest place that gives the value is where the conductors have the most ohms, and the farthest where the least.
        let along = Spread {
            least: length * border(0.0, 1.0, |share| at(share).greatest < ohms - wrong),
            nominal: length * border(0.0, 1.0, |share| at(share).nominal < ohms),
            greatest: length * border(0.0, 1.0, |share| at(share).least < ohms + wrong),
        };
        Some(Fault::Short { run, along: Some(along), from_board: before(site, run) + Metres(along.nominal) })
    };
    loops::runs(&readings.network).into_iter().filter_map(place).collect()
}

/// The contacts that are open at rest and would give about the value where they are closed: dirt adds some ohms, and a cable is
/// shorter than the spec has it. Those that give it exactly are among the states.
fn actuated(site: &Site, readings: &LoopReadings, ohms: f64) -> Vec<Fault> {
    let about = |reading: &StateReading| {
        let State::Alarm(device) = reading.state else { return None };
        let spread = reading.ohms;
        let near = spread.least / 2.0 <= ohms && ohms <= spread.greatest + DIRT && !meter::fits(ohms, spread, true);
        let open = !contacts::is_closed(site, (device, network::Which::Alarm), &BTreeSet::new());
        (near && open).then_some(Fault::Actuated(device, ohms - spread.nominal))
    };
    readings.states.iter().filter_map(about).collect()
}

/// The runs whose short would read less, by no more than a staple or a nail through both conductors may have. Without
/// them a closed contact of an alarm would be the only explanation of an ohm or two.
fn touches(readings: &LoopReadings, ohms: f64) -> Vec<Fault> {
    let spread_in = |wanted: State| readings.states.iter().find(|r| r.state == wanted).map(|r| r.ohms);
    let touch = |run: Id<Run>| {
        let (near, far) = (spread_in(State::ShortNear(run))?, spread_in(State::ShortFar(run))?);
        let more = far.greatest < ohms && ohms <= far.greatest + TOUCH && !meter::fits(ohms, far, true);
        more.then_some(Fault::Touch(run, ohms - near.nominal))
    };
    loops::runs(&readings.network).into_iter().filter_map(touch).collect()
}

/// The resistors without which the loop reads the value: one at the board is behind the leads that are lifted.
fn left_out(taken: Taken<'_>, ohms: f64) -> Vec<Fault> {
    let Taken { site, readings, .. } = taken;
    let without = |position: usize| with_resistor(&readings.network, position, Spread::exact(0.0));
    let all = network::resistors(site, readings.zone).into_iter().map(|resistor| resistor.value.nominal.0).enumerate();
    all.filter(|(position, _)| meter::fits(ohms, spread(taken, &without(*position)), true))
        .map(|(position, fitted)| Fault::LeftOut { position, fitted })
        .collect()
}

/// Length of the cables from the board to a run's near end.
fn before(site: &Site, run: Id<Run>) -> Metres {
    site.runs_before(run).filter_map(|run| site.runs[run].length.as_ref().map(|length| length.value)).sum()
}

/// The network with a run's conductors joined at a share of its length.
fn shorted(network: &Network, at: Id<Run>, share: f64) -> Network {
    network.replaced(&|part| {
        let Network::Run(run, wire, _) = part else { return None };
        (*run == at).then(|| Network::Element(Element::Wire(at), wire.map(|ohms| ohms * share)))
    })
}

/// For each resistor the value that would give the reading.
fn other_resistors(taken: Taken<'_>, ohms: f64) -> Vec<Fault> {
    let Taken { site, readings, .. } = taken;
    let other = |position: usize, fitted: f64| {
        let with = |value: f64| nominal(taken, &with_resistor(&readings.network, position, Spread::exact(value)));
        // A resistor mistaken for another is seldom further off.
        let (least, greatest) = (fitted / 30.0, fitted * 30.0);
        if !(with(least)..=with(greatest)).contains(&ohms) {
            return None;
        }
        let needed = border(least, greatest, |x| with(x) < ohms);
        let (below, above) = preferred::neighbours(Ohms(needed), Series::E24)?;
        let preferred = if needed / below.0 <= above.0 / needed { below.0 } else { above.0 };
        // The same value again explains nothing.
        ((preferred / fitted - 1.0).abs() > 1e-9).then_some(Fault::Resistor { position, fitted, needed, preferred })
    };
    network::resistors(site, readings.zone)
        .into_iter()
        .enumerate()
        .filter_map(|(position, value)| other(position, value.value.nominal.0))
        .collect()
}

/// A second resistor beside or behind each one, of its own value or of another that the board's loops have.
fn seconds(taken: Taken<'_>, measured: Measured) -> Vec<Fault> {
    let Taken { site, readings, sensing, .. } = taken;
    let own = network::resistors(site, readings.zone);
    let of_board = of_board(site, readings.zone);
    let mut found = Vec::new();
    for (position, value) in own.iter().map(|value| value.value).enumerate() {
        // The same value first: two packed where one belongs.
        let others = of_board.iter().filter(|other| other.nominal != value.nominal);
        for (other, parallel) in std::iter::once(&value).chain(others).flat_map(|one| [(one, true), (one, false)]) {
            let [one, two] = [&value, other].map(|one| Spread::tolerance(one.nominal.0, one.tolerance.0));
            let ohms = if parallel { one.parallel(two) } else { one.series(two) };
            let loop_ohms = spread(taken, &with_resistor(&readings.network, position, ohms));
            let fits = match measured {
                Measured::Ohms(ohms) => meter::fits(ohms, loop_ohms, true),
                Measured::Volts(volts) => sensing
                    .and_then(|sensing| band::voltage(sensing, loop_ohms))
                    .is_some_and(|calculated| meter::fits(volts, calculated, false)),
            };
            if fits {
                let (fitted, second) = (value.nominal.0, other.nominal.0);
                found.push(Fault::Second { position, fitted, second, parallel, ohms });
            }
        }
    }
    found
}

/// The values that the loops of a zone's board have, least first.
fn of_board(site: &Site, zone: Id<Zone>) -> Vec<Resistance> {
    let board = |zone: Id<Zone>| site.zones[zone].wired.as_ref()?.board.as_ref().map(|board| board.value);
    let here = site.zones.entries().map(|(id, _)| id).filter(|id| board(*id) == board(zone));
    let of_zone = |zone| {
        let shunts = network::devices(site, zone).filter_map(|device| site.devices[device].shunt.as_ref());
        network::resistors(site, zone).into_iter().chain(shunts).map(|value| value.value).collect::<Vec<_>>()
    };
    let mut values: Vec<Resistance> = here.flat_map(of_zone).collect();
    values.sort_by(|a, b| a.nominal.0.total_cmp(&b.nominal.0));
    values.dedup_by_key(|value| value.nominal);
    values
}

/// What the reading may have been meant as: the same digits in the other unit, or kilo for one, or ten times off.
fn mistaken(readings: &LoopReadings, measured: Measured) -> Vec<Fault> {
    let meant: Vec<Measured> = match measured {
        Measured::Ohms(ohms) => [1e3, 1e-3, 10.0, 0.1]
            .map(|factor| Measured::Ohms(ohms * factor))
            .into_iter()
            .chain([Measured::Volts(ohms)])
            .collect(),
        Measured::Volts(volts) => [1e-3, 1e3, 10.0, 0.1]
            .map(|factor| Measured::Volts(volts * factor))
            .into_iter()
            .chain([1.0, 1e3].map(|factor| Measured::Ohms(volts * factor)))
            .collect(),
    };
    let fault = |meant| {
        // No state of a damaged cable: nearly every small number is a short.
        let usual = |state: &State| matches!(state, State::Normal | State::Alarm(_));
        let states = readings.states.iter().enumerate().filter(|(_, reading)| usual(&reading.state));
        let found = states.filter_map(|(at, reading)| fit(at, reading, meant)).find(|fit| fit.fits)?;
        let ohms = readings.states.get(found.state)?.ohms.nominal;
        // A closed contact without a resistor and an open loop say nothing of a unit.
        (ohms.is_finite() && ohms > 10.0).then_some(Fault::Mistaken { meant, state: found.state })
    };
    meant.into_iter().filter_map(fault).collect()
}

fn nominal(taken: Taken<'_>, network: &Network) -> f64 {
    spread(taken, network).nominal
}

/// What a network reads in the state that the loop was in.
fn spread(taken: Taken<'_>, network: &Network) -> Spread {
    let devices: Vec<Id<Device>> = network::devices(taken.site, taken.readings.zone).collect();
    let moved = contacts::moved(taken.site, network, &devices, taken.state);
    let closed = |device: Id<Device>, which| contacts::is_closed(taken.site, (device, which), &moved);
    network.resistance(&State::Normal, &closed)
}

/// What a loop at rest reads without some of its resistors, each by its position: as behind those at the board.
pub(crate) fn without(site: &Site, readings: &LoopReadings, positions: &[usize]) -> Spread {
    let taken = Taken { site, readings, sensing: None, state: State::Normal };
    let bare = |network: Network, position: &usize| with_resistor(&network, *position, Spread::exact(0.0));
    spread(taken, &positions.iter().fold(readings.network.clone(), bare))
}

/// The network with another value in the place of a resistor.
pub(super) fn with_resistor(network: &Network, position: usize, ohms: Spread) -> Network {
    network.replaced(&|part| {
        let Network::Element(Element::Resistor(at), _) = part else { return None };
        (*at == position).then_some(Network::Element(Element::Resistor(position), ohms))
    })
}

//! A measured value inverted, in words: the states it fits, the nearest ones, and what else would explain it.

use std::collections::BTreeSet;

use serde::Serialize;

use super::fault_line::{FaultLine, fault_line};
use super::next_measurement::{self, Step};
use super::{procedure, why};
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::as_built::{self, JudgedLoop};
use crate::calc::diagnose::{self, Fault, Fit, Measured};
use crate::calc::halving::{self, Next, Spot};
use crate::calc::meter::volts_shown_by_a_meter;
use crate::calc::network;
use crate::calc::power::Consumer;
use crate::calc::two_wire;
use crate::calc::{LoopReadings, Spread, State as Reached, StateReading};
use crate::compiled::Compiled;
use crate::model::{Device, Opening, Run, Zone};
use crate::record::Names;
use crate::record::figures::states::{self, State};
use crate::record::number::Number;
use crate::words::{self, Paper};

/// What a reading means.
#[derive(Clone, Debug, Serialize)]
pub struct Diagnosis {
    /// The zone's number.
    pub(crate) zone: u32,
    /// Its description.
    pub(crate) description: String,
    /// Board and input.
    pub(crate) input: String,
    /// The value in words: "1.96 kΩ with the leads off".
    pub(crate) measured: String,
    /// The loop in ohm; null where there is no connection, and for volts of a loop that feeds its detectors.
    pub ohms: Option<Number>,
    /// The states whose spread holds it, or is as near as a meter may be wrong; cables cut or shorted last.
    pub fits: Vec<FitLine>,
    /// Where none does: the nearest.
    pub nearest: Vec<FitLine>,
    /// What else would explain it.
    pub faults: Vec<FaultLine>,
    /// How the steps of `next` are done; empty where there are none.
    pub(crate) how: String,
    /// What to measure next, so that fewer of these are left.
    pub(crate) next: Vec<Step>,
}

/// A state held against the value.
#[derive(Clone, Debug, Serialize)]
pub struct FitLine {
    /// In words: "at rest: 2.201 kΩ (2.087 to 2.312 kΩ), reads normal".
    pub text: String,
    /// Distance to the state's spread in the unit measured; 0 inside, null without bound.
    pub(crate) outside: Option<Number>,
    /// The state with its readings.
    pub(crate) state: State,
}

/// The meaning of a reading; `None` where the loop cannot be calculated or, for volts, the board's sensing is not
/// known.
pub fn of(compiled: &Compiled, zone: Id<Zone>, measured: Measured) -> Option<Diagnosis> {
    let Compiled { site, wiring, .. } = compiled;
    let readings = compiled.loops.get(&zone)?;
    let found = diagnose::diagnose(site, readings, why::sensing(site, zone), measured)?;
    // Volts of a loop that feeds its detectors tell no resistance.
    let fed = matches!(measured, Measured::Volts(_)) && two_wire::feeds(&readings.network);
    let foreign = found.faults.iter().any(|fault| matches!(fault, Fault::OtherVoltage(_)));
    let lines = |fits: &[Fit]| fits.iter().filter_map(|fit| fit_line(compiled, readings, fit, measured)).collect();
    let next = next(compiled, readings, measured, &found);
    let how = if procedure::is_passive(site, zone) { procedure::LIFT_DARK } else { procedure::LIFT_FED };
    Some(Diagnosis {
        zone: site.zones[zone].number.value,
        description: site.zones[zone].description.value.clone(),
        input: Paper.input(site, wiring, zone),
        measured: match measured {
            Measured::Ohms(ohms) => format!("{} with the leads off", words::ohms(ohms)),
            Measured::Volts(volts) if foreign || fed => format!("{} with the leads on", words::volts(volts)),
            Measured::Volts(volts) => {
                format!("{} with the leads on, so a loop of {}", words::volts(volts), words::ohms(found.ohms))
            }
        },
        ohms: if fed { None } else { Number::of(found.ohms) },
        fits: lines(&found.fits),
        nearest: lines(&found.nearest),
        faults: found.faults.iter().map(|fault| fault_line(compiled, readings, fault)).collect(),
        how: if next.is_empty() { String::new() } else { procedure::told(site, how) },
        next,
    })
}

/// What would explain a reading of the record that does not fit, each in words.
pub(crate) fn explanations(compiled: &Compiled, judged: &JudgedLoop<'_>) -> Vec<String> {
    let Compiled { site, wiring, .. } = compiled;
    let found = judged.zone.and_then(|zone| compiled.loops.get(&zone)).and_then(|readings| {
        let found = as_built::explained(site, readings, judged)?;
        let states = found.states(readings);
        let fits = states.map(|state| format!("{}{}", Paper.state(site, wiring, state), place(compiled, state)));
        let faults = found.faults.iter().map(|fault| fault_line(compiled, readings, fault).text);
        Some(fits.chain(faults).collect())
    });
    found.unwrap_or_default()
}

/// What to measure next: the reading again where it may be another unit, the loop by itself where it is not yet, then
/// along the cables. Nothing where all is at rest.
fn next(compiled: &Compiled, readings: &LoopReadings, measured: Measured, found: &diagnose::Diagnosis) -> Vec<Step> {
    let Compiled { site, wiring, .. } = compiled;
    let rest = readings.states.iter().position(|reading| reading.state == Reached::Normal);
    if found.fits.iter().any(|fit| Some(fit.state) == rest) {
        return rest_or_short(compiled, readings, found);
    }
    let mut before = Vec::new();
    if found.faults.iter().any(|fault| matches!(fault, Fault::Mistaken { .. })) {
        let again = "Measure again, and write the unit that the display shows (Ω, kΩ, MΩ, V, mV)";
        before.push((again.to_owned(), None, "where it is another unit, ask again with that".to_owned()));
    }
    if found.faults.iter().any(|fault| matches!(fault, Fault::OtherVoltage(_))) {
        let lift = "Take both leads of the loop off, and measure the volts between them and from each to earth, on a range for mains";
        before.push((
            lift.to_owned(),
            None,
            "where there are any, find and part what they come from before any ohms are measured".to_owned(),
        ));
    } else if matches!(measured, Measured::Volts(_)) {
        let alarmed = in_alarm(compiled, readings, found);
        if !alarmed.is_empty() {
            let look = format!(
                "Look at {}: a lamp that burns says that it is in alarm. Clear what set it off, and reset from the keypad",
                list(&alarmed, "and")
            );
            before.push((look, None, "where it comes again without a cause, exchange that detector".to_owned()));
        }
        let input = Paper.input(site, wiring, readings.zone);
        let lift = format!("Take both leads of the loop off ({input}), and measure the ohms between them");
        let right = rest.and_then(|rest| readings.states.get(rest)).map(|reading| reading.ohms);
        let then = if alarmed.is_empty() {
            "the loop is right: look at the screws of that input and at the board"
        } else {
            // Without the board a detector that feeds on the loop is at rest, whatever it was before.
            "the cables are whole: a detector was in alarm, else look at the screws of that input and at the board"
        };
        before.push((lift, right, then.to_owned()));
    }
    before.extend(shut_first(compiled, readings, found));
    before.extend(at_the_board(compiled, readings, found));
    if let Some(measure) = supply_first(compiled, readings, found) {
        let away = "without them an open contact is right: find what takes that supply away (its output or fuse, the cable to it, mains or battery) before anything is exchanged";
        before.insert(0, (measure, None, away.to_owned()));
    }
    let next = halving::next(site, readings, found);
    if next.is_none() && found.fits.is_empty() {
        return next_measurement::each_cable(compiled, readings, before);
    }
    before.extend(next.as_ref().and_then(|next| next_measurement::far_end_first(compiled, readings, found, next)));
    next_measurement::steps(compiled, readings, before, next.as_ref())
}

/// A door or window that stands open is no fault.
fn shut_first(
    compiled: &Compiled,
    readings: &LoopReadings,
    found: &diagnose::Diagnosis,
) -> Option<(String, Option<Spread>, String)> {
    let site = &compiled.site;
    let opened = |state: Reached| {
        let Reached::Alarm(device) = state else { return None };
        site.devices[device].opening.as_ref().map(|opening| opening.value)
    };
    let openings: BTreeSet<Id<Opening>> = found.states(readings).filter_map(opened).collect();
    let names: Vec<String> = openings.iter().map(|opening| Paper.opening(site, *opening)).collect();
    let rest = readings.states.iter().find(|reading| reading.state == Reached::Normal)?;
    let (are, stood) = if names.len() == 1 { ("is", "it stood open") } else { ("are", "one of them stood open") };
    let look = format!("See that {} {are} shut, and measure the ohms between the two leads again", list(&names, "and"));
    (!names.is_empty()).then(|| (look, Some(rest.ohms), stood.to_owned()))
}

/// What is too much in series is looked for in the enclosure first: it is the nearest place, and where a resistor was left that
/// stands at the far end now. So is one that belongs there: behind it the cables read less by its ohms.
fn at_the_board(
    compiled: &Compiled,
    readings: &LoopReadings,
    found: &diagnose::Diagnosis,
) -> Option<(String, Option<Spread>, String)> {
    let Compiled { site, .. } = compiled;
    let more =
        |fault: &Fault| matches!(fault, Fault::InSeries(_) | Fault::LeftIn(_) | Fault::Second { parallel: false, .. });
    let board = site.zones[readings.zone].wired.as_ref()?.board.as_ref()?.value;
    let rest = readings.states.iter().find(|reading| reading.state == Reached::Normal)?;
    let board = Paper.board(site, board);
    let here: Vec<_> =
        site.resistors_of(readings.zone).filter(|(at, _)| at.is_none()).map(|(_, resistor)| resistor).collect();
    if !here.is_empty() {
        let fitted = network::resistors(site, readings.zone).into_iter().enumerate();
        let fitted = fitted.filter(|(_, one)| here.iter().any(|here| here.span == one.span));
        let positions: Vec<usize> = fitted.map(|(position, _)| position).collect();
        let of_one = |fault: &Fault| matches!(fault, Fault::Resistor { position, .. } | Fault::LeftOut { position, .. } | Fault::Second { position, .. } if positions.contains(position));
        if !found.faults.iter().any(|fault| more(fault) || of_one(fault)) {
            return None;
        }
        let belongs: Vec<String> = here.iter().map(|one| words::resistor(&one.value)).collect();
        let look = format!(
            "Look in the enclosure of {board}, between its terminals and the cable: there {} {}, with no other resistor and no bad joint. Measure behind that, at the conductors of the cable itself",
            if belongs.len() == 1 { "belongs" } else { "belong" },
            list(&belongs, "and")
        );
        let there = format!("it lies between the terminals of {board} and the cable: a resistor there, or a joint");
        return Some((look, Some(diagnose::without(site, readings, &positions)), there));
    }
    if !found.faults.iter().any(more) {
        return None;
    }
    let look = format!(
        "Look in the enclosure of {board} for a resistor or a joint between its terminals and the cable, and measure at the conductors of the cable itself"
    );
    let there = format!(
        "it lay between the terminals of {board} and the cable: a resistor that was left there, or a bad joint"
    );
    Some((look, Some(rest.ohms), there))
}

/// At rest and with shorted cables alike, as where the resistor is at the board: a device behind the cables tells which.
fn rest_or_short(compiled: &Compiled, readings: &LoopReadings, found: &diagnose::Diagnosis) -> Vec<Step> {
    let site = &compiled.site;
    let fits: Vec<Reached> = found.states(readings).collect();
    let short = |state: &Reached| match state {
        Reached::ShortNear(run) | Reached::ShortFar(run) => Some(*run),
        Reached::Cut(_)
        | Reached::Normal
        | Reached::Alarm(_)
        | Reached::Cover(_)
        | Reached::SupplyLost(_)
        | Reached::Alarms(_)
        | Reached::AllAlarms => None,
    };
    let shorted: BTreeSet<Id<Run>> = fits.iter().filter_map(short).collect();
    // A device whose alarm shows through some of them.
    let tells = |reading: &StateReading| {
        let Reached::Alarm(device) = reading.state else { return None };
        let at = site.runs.entries().find(|(_, run)| run.mounted.iter().any(|item| item.device() == Some(device)));
        let (at, _) = at.filter(|_| !fits.contains(&reading.state))?;
        let on_the_way: Vec<Id<Run>> = std::iter::once(at).chain(site.runs_before(at)).collect();
        let through: BTreeSet<Id<Run>> = shorted.iter().copied().filter(|run| on_the_way.contains(run)).collect();
        Some((device, reading.ohms, through))
    };
    let tells: Vec<(Id<Device>, Spread, BTreeSet<Id<Run>>)> = readings.states.iter().filter_map(tells).collect();
    // One after the other, each the one that shows the most of what is left.
    let mut left = shorted;
    let mut steps: Vec<Step> = Vec::new();
    loop {
        let new = |through: &BTreeSet<Id<Run>>| through.intersection(&left).count();
        let Some((device, right, through)) = tells.iter().rev().max_by_key(|(.., through)| new(through)) else { break };
        let spots: Vec<Spot> = through.intersection(&left).copied().map(Spot::Cable).collect();
        if spots.is_empty() {
            break;
        }
        left.retain(|run| !through.contains(run));
        let how = if site.devices[*device].opening.is_some() { ", as by opening its door or window" } else { "" };
        let measure = format!(
            "Put {} in alarm{how}, and measure the ohms again with the leads off",
            words::placed(site, *device)
        );
        let number = steps.len() + 1;
        let whole = format!("none touch up to there; go to step {}", number + 1);
        let one =
            next_measurement::steps(compiled, readings, vec![(measure, Some(*right), whole)], Some(&Next::Left(spots)));
        steps.extend(one.into_iter().map(|step| Step { number, ..step }));
    }
    if let Some(last) = steps.last_mut() {
        let whole = if left.is_empty() { "no conductors touch" } else { "none touch up to there" };
        whole.clone_into(&mut last.if_right);
    }
    steps
}

/// Where a contact opens without supply as well, whether it has one comes before it is exchanged.
fn supply_first(compiled: &Compiled, readings: &LoopReadings, found: &diagnose::Diagnosis) -> Option<String> {
    let Compiled { site, power, .. } = compiled;
    let device = |state: Reached| match state {
        Reached::Alarm(device) | Reached::SupplyLost(device) => Some(device),
        Reached::Normal
        | Reached::Alarms(_)
        | Reached::AllAlarms
        | Reached::Cover(_)
        | Reached::Cut(_)
        | Reached::ShortNear(_)
        | Reached::ShortFar(_) => None,
    };
    let opens = found.states(readings).filter_map(device).filter(|device| !site.is_open_at_rest(*device));
    let devices: BTreeSet<Id<Device>> = opens.collect();
    let place = |device: &Id<Device>| {
        if let Some(board) = &site.devices[*device].board {
            return Some(format!("mains and battery of {}", Paper.board(site, board.value)));
        }
        let (feeding, node) = power.place_of(Consumer::Device(*device))?;
        let range = as_built::at_rest(feeding, node).map(volts_shown_by_a_meter);
        let range = range.map(|(least, most)| format!(" ({})", words::range(least.0, most.0, words::volts)));
        Some(format!("+ and - of {}{}", words::placed(site, *device), range.unwrap_or_default()))
    };
    let places: Vec<String> = devices.iter().filter_map(place).collect();
    (!places.is_empty())
        .then(|| format!("With everything connected, measure the volts of its supply: {}", list(&places, "and")))
}

/// The detectors that feed on the loop and would give the reading in alarm, with their rooms.
fn in_alarm(compiled: &Compiled, readings: &LoopReadings, found: &diagnose::Diagnosis) -> Vec<String> {
    let site = &compiled.site;
    let states = found.fits.iter().filter_map(|fit| readings.states.get(fit.state));
    let mut alarmed: Vec<Id<Device>> = states
        .flat_map(|reading| {
            let devices = site.devices_of(readings.zone).map(|(id, _)| id);
            devices.filter(|id| site.loop_fed(*id).is_some() && reading.state.is_alarm_of(*id)).collect::<Vec<_>>()
        })
        .collect();
    alarmed.sort();
    alarmed.dedup();
    alarmed.into_iter().map(|id| words::placed(site, id)).collect()
}

fn fit_line(compiled: &Compiled, readings: &LoopReadings, fit: &Fit, measured: Measured) -> Option<FitLine> {
    let Compiled { site, wiring, .. } = compiled;
    let reading = readings.states.get(fit.state)?;
    let (spread, print): (_, fn(f64) -> String) = match measured {
        Measured::Ohms(_) => (reading.ohms, words::ohms),
        Measured::Volts(_) => (reading.volts?, words::volts),
    };
    let (usual, bounds) = (print(spread.nominal), words::bounds(&[spread], print));
    let figures = if usual == bounds { usual } else { format!("{usual} ({bounds})") };
    let away = match fit.outside {
        0.0 => String::new(),
        outside if outside.is_infinite() => ", no connection at all".into(),
        outside if fit.fits => format!(", {} away, which a meter may be wrong", print(outside)),
        outside => format!(", {} away", print(outside)),
    };
    let reads = words::reads(reading.reading);
    let place = place(compiled, reading.state);
    Some(FitLine {
        text: format!("{}{place}: {figures}{away}; board reads {reads}", Paper.state(site, wiring, reading.state)),
        outside: Number::of(fit.outside),
        state: states::state(&Names::of(site, wiring), reading),
    })
}

/// Where the device or cable of a state is: " (Kitchen, end of cable Z7)"; empty for a state of the whole loop.
fn place(compiled: &Compiled, state: Reached) -> String {
    let Compiled { site, wiring, .. } = compiled;
    match state {
        Reached::Alarm(device) | Reached::Cover(device) | Reached::SupplyLost(device) => {
            let room = words::room(site, site.devices[device].room);
            let run = site.runs.entries().find(|(_, run)| run.mounted.iter().any(|item| item.device() == Some(device)));
            let cable = run.map(|(run, _)| format!("end of {}", Paper.cable(wiring, run)));
            let told = words::says(&Paper.state(site, wiring, state).to_lowercase(), &room.to_lowercase());
            let parts: Vec<String> = Some(room).filter(|_| !told).into_iter().chain(cable).collect();
            if parts.is_empty() { String::new() } else { format!(" ({})", parts.join(", ")) }
        }
        Reached::Cut(run) | Reached::ShortNear(run) | Reached::ShortFar(run) => {
            format!(" ({} to {})", words::start(site, run), words::end(site, run))
        }
        Reached::Normal | Reached::Alarms(_) | Reached::AllAlarms => String::new(),
    }
}

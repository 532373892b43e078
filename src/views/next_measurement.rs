//! What to measure next, in words: numbered steps, each with what to lift where, what is right, and what either outcome means.

use serde::Serialize;

use super::loop_path::mark_of;
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::diagnose::{Diagnosis, Fit};
use crate::calc::halving::{self, Next, Spot, Step as Halving, Test};
use crate::calc::network;
use crate::calc::{LoopReadings, Spread, State};
use crate::compiled::Compiled;
use crate::model::{Mounted, Run, Site, Zone};
use crate::register::{Function, Wiring};
use crate::words::{self, Paper};

/// A step.
#[derive(Clone, Debug, Serialize)]
pub struct Step {
    /// From 1.
    pub(crate) number: usize,
    /// What to lift and to measure.
    pub(crate) measure: String,
    /// What a meter may show there; empty where nothing is calculated of it.
    pub(crate) right: String,
    /// What follows where it shows that.
    pub(crate) if_right: String,
    /// What follows where it shows something else.
    pub(crate) if_not: String,
}

/// The steps. `before` are those that come first: what to measure, what is right, and what follows from that.
pub(crate) fn steps(
    compiled: &Compiled,
    readings: &LoopReadings,
    before: Vec<(String, Option<Spread>, String)>,
    next: Option<&Next>,
) -> Vec<Step> {
    let mut all: Vec<Step> = Vec::new();
    for (measure, right, if_right) in before {
        let number = all.len() + 1;
        let right = right.map(expected).unwrap_or_default();
        all.push(Step { number, measure, right, if_right, if_not: String::new() });
    }
    // In the order in which they are numbered, so that the first ones come first.
    let mut waiting: Vec<&Halving> = Vec::new();
    let first = next.map(|next| follows(compiled, readings, next, all.len(), &mut waiting)).unwrap_or_default();
    let opening = all.len();
    let mut at = 0;
    while let Some(step) = waiting.get(at).copied() {
        at += 1;
        let number = opening + at;
        let mut follow = |next| follows(compiled, readings, next, opening, &mut waiting);
        let [if_right, if_not] = [follow(&step.elsewhere), follow(&step.inside)];
        let measure = test(compiled, readings, step.test);
        all.push(Step { number, measure, right: expected(step.right), if_right, if_not });
    }
    if all.is_empty() && !first.is_empty() {
        let measure = "Nothing more to measure: only one place is left".to_owned();
        all.push(Step { number: 1, measure, right: String::new(), if_right: String::new(), if_not: first });
        return all;
    }
    for step in all.iter_mut().take(opening) {
        step.if_not = if step.number < opening {
            format!("go to step {}", step.number + 1)
        } else if first.is_empty() && !step.right.is_empty() {
            // Where nothing follows, what the last of them shows is the next question.
            "ask again with what it shows".to_owned()
        } else {
            first.clone()
        };
    }
    all
}

/// What tells a cable that is shorted from conductors that touch on what it ends at, before a wall is opened: where only that cable
/// is left, and something is on its far end.
pub(crate) fn far_end_first(
    compiled: &Compiled,
    readings: &LoopReadings,
    found: &Diagnosis,
    next: &Next,
) -> Option<(String, Option<Spread>, String)> {
    let Compiled { site, wiring, .. } = compiled;
    let Next::Left(spots) = next else { return None };
    let [Spot::Cable(run)] = spots.as_slice() else { return None };
    let is_far_short =
        |fit: &Fit| readings.states.get(fit.state).is_some_and(|reading| reading.state == State::ShortFar(*run));
    let ends_at_something = site.runs[*run].mounted.iter().any(|item| !matches!(item, Mounted::Run(_)));
    (ends_at_something && found.fits.iter().any(is_far_short)).then(|| {
        let lift = format!(
            "At {}, take both conductors of {} off what they end at, and measure the same again",
            words::end(site, *run),
            Paper.cable(wiring, *run)
        );
        let sound = "where nothing touches any more, the cable is sound: look at what was on it there, as for a resistor that is missing or bridged";
        (lift, None, sound.to_owned())
    })
}

/// Where no single fault explains what was measured: the cables of the loop that start at the board, each by itself. `before` as in
/// [`steps`].
pub(crate) fn each_cable(
    compiled: &Compiled,
    readings: &LoopReadings,
    before: Vec<(String, Option<Spread>, String)>,
) -> Vec<Step> {
    let Compiled { site, wiring, .. } = compiled;
    let home = halving::home_runs(site, readings);
    let mut all = steps(compiled, readings, before, None);
    let opening = all.len();
    let [_, _, ..] = home.as_slice() else { return all };
    if let Some(last) = all.last_mut() {
        last.if_not = format!("go to step {}", opening + 1);
    }
    for (at, (run, right)) in home.iter().enumerate() {
        let number = opening + at + 1;
        let (cable, from) = (Paper.cable(wiring, *run), words::start(site, *run));
        let if_right = if at + 1 == home.len() {
            format!("where each cable was right, it is what joins them at {from}")
        } else {
            format!("go to step {}", number + 1)
        };
        all.push(Step {
            number,
            measure: format!("At {from}, take both conductors of {cable} off, and measure into that cable"),
            right: expected(*right),
            if_right,
            if_not: format!("it is {cable} or what is behind it: ask again when that is right"),
        });
    }
    all
}

/// What a meter may show.
fn expected(spread: Spread) -> String {
    words::ohms_read(&[spread])
}

/// "go to step 3", or what is left.
fn follows<'n>(
    compiled: &Compiled,
    readings: &LoopReadings,
    next: &'n Next,
    opening: usize,
    waiting: &mut Vec<&'n Halving>,
) -> String {
    match next {
        Next::Measure(step) => {
            waiting.push(step);
            format!("go to step {}", opening + waiting.len())
        }
        Next::Left(spots) => {
            let spots: Vec<String> = spots.iter().map(|spot| self::spot(compiled, readings, *spot)).collect();
            format!("it is {}", list(&spots, "or"))
        }
    }
}

fn spot(compiled: &Compiled, readings: &LoopReadings, spot: Spot) -> String {
    let Compiled { site, wiring, .. } = compiled;
    match spot {
        Spot::Cable(run) => {
            let (from, to) = (words::start(site, run), words::end(site, run));
            format!("{}, from {from} to {to}", Paper.cable(wiring, run))
        }
        Spot::Joint(run) => format!("a joint at the end of {}", at_end(site, wiring, run)),
        Spot::Device(device) => words::placed(site, device),
        Spot::Left(run) => format!("a resistor that was left at the end of {}", at_end(site, wiring, run)),
        Spot::Resistor(position) => resistor(site, wiring, readings.zone, position),
    }
}

/// A resistor of a loop and where it is: "the resistor of 2.2 kΩ at Garden door (kitchen), end of cable Z7".
pub(crate) fn resistor(site: &Site, wiring: &Wiring, zone: Id<Zone>, position: usize) -> String {
    let all = network::resistors(site, zone);
    let Some(one) = all.get(position) else { return "the resistor".to_owned() };
    let value = one.value.nominal;
    let is_it = |item: &Mounted| matches!(item, Mounted::Resistor(value) if value.span == one.span);
    match site.runs.entries().find(|(_, run)| run.mounted.iter().any(is_it)) {
        Some((run, _)) => format!("the resistor of {value} at the end of {}", at_end(site, wiring, run)),
        None => format!("the resistor of {value} at the board"),
    }
}

/// "cable Z7 (Garden door, kitchen)": with the device there, else the room.
pub(crate) fn at_end(site: &Site, wiring: &Wiring, run: Id<Run>) -> String {
    let (place, cable) = (end(site, run), Paper.cable(wiring, run));
    if place.is_empty() { cable } else { format!("{cable}, at {place}") }
}

/// Where a run ends: at the device there, else in an enclosure or a room.
fn end(site: &Site, run: Id<Run>) -> String {
    let device = site.runs[run].mounted.iter().find_map(Mounted::device);
    device.map_or_else(|| words::end(site, run), |device| words::placed(site, device))
}

fn test(compiled: &Compiled, readings: &LoopReadings, test: Test) -> String {
    let Compiled { site, wiring, .. } = compiled;
    let both = |run| {
        let zone = readings.zone;
        let marks = [Function::LoopOut(zone), Function::LoopBack(zone)].map(|of| mark_of(site, wiring, run, of));
        format!("{} and {} of {}", marks[0], marks[1], Paper.cable(wiring, run))
    };
    match test {
        Test::Into(run) => {
            let start = site.runs[run].upstream.map_or_else(|| words::start(site, run), |before| end(site, before));
            format!("At {start}, where it starts, lift {}, and measure into that cable", both(run))
        }
        Test::Behind(run) => {
            format!("At {}, where it ends, lift {}, and measure across what they were on", end(site, run), both(run))
        }
        Test::Resistor(position, _) => {
            format!("Lift one end of {}, and measure it alone", resistor(site, wiring, readings.zone, position))
        }
        Test::Device(device) => {
            format!("At {}, lift one conductor, and measure across its contact", words::placed(site, device))
        }
    }
}

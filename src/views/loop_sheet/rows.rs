//! The states of a loop in few rows: what reads alike stands in one.
//!
//! Two rules. States that print the same figures and are reported alike are one row, whatever they are. States of one
//! kind (contacts, shorts) that are reported alike and whose spreads overlap are one row with the bounds of all.

use std::collections::BTreeSet;

use serde::Serialize;

use super::super::loop_marks;
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::loops::{self, StateReading};
use crate::calc::{LoopReadings, Spread, State};
use crate::model::{Device, Run, Site};
use crate::register::Wiring;
use crate::words::{self, Paper, bounds, ohms, usual, volts};

/// A row of the sheet.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    /// From 1.
    pub(super) number: String,
    /// The states that it holds.
    #[serde(skip)]
    pub(super) states: Vec<State>,
    state: String,
    /// Where its first state stands among the loop figures.
    figures: String,
    rest: bool,
    ohms: String,
    ohms_range: String,
    volts: String,
    volts_range: String,
    reads: String,
    margin: String,
}

/// Shorts and contacts of a few ohms cannot be told apart with a meter and the leads' own resistance.
const FEW_OHMS: f64 = 20.0;

/// In place of ohms that no meter can show.
const NO_OHMS: &str = "–";

/// The rows of a loop's readings.
pub(crate) fn rows(site: &Site, wiring: &Wiring, readings: &LoopReadings) -> Vec<Row> {
    let mut groups: Vec<Vec<&StateReading>> = Vec::new();
    for reading in &readings.states {
        let with = groups.iter().position(|group| group.iter().any(|other| belong(reading, other)));
        match with.and_then(|position| groups.get_mut(position)) {
            Some(group) => group.push(reading),
            None => groups.push(vec![reading]),
        }
    }
    (1..).zip(groups).map(|(number, group)| row(site, wiring, readings, number, &group)).collect()
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Rest,
    Alarm,
    Cover,
    Supply,
    Cut,
    Short,
}

fn kind(state: State) -> Kind {
    match state {
        State::Normal => Kind::Rest,
        State::Alarm(_) | State::Alarms(_) | State::AllAlarms => Kind::Alarm,
        State::Cover(_) => Kind::Cover,
        State::SupplyLost(_) => Kind::Supply,
        State::Cut(_) => Kind::Cut,
        State::ShortNear(_) | State::ShortFar(_) => Kind::Short,
    }
}

/// Whether two readings stand in one row.
fn belong(one: &StateReading, other: &StateReading) -> bool {
    let (kinds, alike) = ((kind(one.state), kind(other.state)), one.reading.verdict == other.reading.verdict);
    if kinds.0 == Kind::Rest || kinds.1 == Kind::Rest || !alike {
        return false;
    }
    let few = |reading: &StateReading| reading.ohms.greatest < FEW_OHMS;
    let overlap = one.ohms.least <= other.ohms.greatest && other.ohms.least <= one.ohms.greatest;
    let same = |print: fn(&StateReading) -> String| print(one) == print(other);
    let of_a_kind = kinds.0 == kinds.1 && matches!(kinds.0, Kind::Alarm | Kind::Short);
    (same(|r| usual(&[r.ohms], ohms)) && same(|r| bounds(&[r.ohms], ohms)))
        || (of_a_kind && (overlap || (few(one) && few(other))))
}

fn row(site: &Site, wiring: &Wiring, readings: &LoopReadings, number: usize, group: &[&StateReading]) -> Row {
    let ohm_spreads: Vec<Spread> = group.iter().map(|reading| reading.ohms).collect();
    let volt_spreads: Vec<Spread> = group.iter().filter_map(|reading| reading.volts).collect();
    let tightest = group
        .iter()
        .map(|reading| reading.reading)
        .min_by(|a, b| a.margin.unwrap_or(f64::INFINITY).total_cmp(&b.margin.unwrap_or(f64::INFINITY)));
    let states: Vec<State> = group.iter().map(|reading| reading.state).collect();
    let first = readings.states.iter().position(|reading| states.first() == Some(&reading.state)).unwrap_or_default();
    let unsupplied = group.iter().any(|reading| reading.ohms_with_leads_off(site, readings.zone).is_none());
    let with_volts = |print: &dyn Fn() -> String| if volt_spreads.is_empty() { String::new() } else { print() };
    Row {
        number: number.to_string(),
        state: Words { site, wiring, readings }.of(&states),
        figures: loop_marks::state(site.zones[readings.zone].number.value, first),
        rest: states == [State::Normal],
        ohms: if unsupplied { NO_OHMS.to_owned() } else { usual(&ohm_spreads, ohms) },
        ohms_range: if unsupplied { NO_OHMS.to_owned() } else { bounds(&ohm_spreads, ohms) },
        volts: with_volts(&|| usual(&volt_spreads, volts)),
        volts_range: with_volts(&|| bounds(&volt_spreads, volts)),
        reads: tightest.map(words::reads).unwrap_or_default(),
        margin: tightest.map(words::margin).unwrap_or_default(),
        states,
    }
}

struct Words<'a> {
    site: &'a Site,
    wiring: &'a Wiring,
    readings: &'a LoopReadings,
}

impl Words<'_> {
    /// The states of a row in words: contacts, covers, supply, cuts, shorts.
    fn of(&self, states: &[State]) -> String {
        let said = |state: &State| Paper.state(self.site, self.wiring, *state);
        let mut words: Vec<String> = states.iter().filter(|state| kind(**state) == Kind::Rest).map(said).collect();
        words.extend(self.alarms(states));
        words.extend(states.iter().filter(|state| matches!(kind(**state), Kind::Cover | Kind::Supply)).map(said));
        let of = |wanted: Kind| -> Vec<Id<Run>> {
            let mut runs = Vec::new();
            for state in states.iter().filter(|state| kind(**state) == wanted) {
                if let State::Cut(run) | State::ShortNear(run) | State::ShortFar(run) = state
                    && !runs.contains(run)
                {
                    runs.push(*run);
                }
            }
            runs
        };
        words.extend(self.cables(&of(Kind::Cut), "cut"));
        // Of a cable that reads otherwise when it is shorted at its other end, the end is said.
        let shorts = |states: &[State], run: Id<Run>| {
            states
                .iter()
                .filter(|state| kind(**state) == Kind::Short && state.damage().is_some_and(|(at, _)| at == run))
                .count()
        };
        let all: Vec<State> = self.readings.states.iter().map(|reading| reading.state).collect();
        let (whole, ends): (Vec<Id<Run>>, Vec<_>) =
            of(Kind::Short).into_iter().partition(|run| shorts(states, *run) == shorts(&all, *run) && states.len() > 1);
        words.extend(self.cables(&whole, "shorted"));
        let is_one_end =
            |state: &&State| kind(**state) == Kind::Short && state.damage().is_some_and(|(at, _)| ends.contains(&at));
        words.extend(states.iter().filter(is_one_end).map(said));
        words.join("; ")
    }

    fn alarms(&self, states: &[State]) -> Vec<String> {
        let all = self.readings.states.iter().filter(|reading| matches!(reading.state, State::Alarm(_))).count();
        let single: Vec<Id<Device>> =
            states.iter().filter_map(|state| if let State::Alarm(id) = state { Some(*id) } else { None }).collect();
        let together = states.contains(&State::AllAlarms);
        let counts = states.iter().filter(|state| matches!(state, State::Alarms(_)));
        let mut words = Vec::new();
        if together && single.len() == all && all > 1 {
            return vec![format!("any contact {}, or all", self.verb(&single))];
        }
        for verb in words::ALARMS {
            let named: Vec<Id<Device>> =
                single.iter().copied().filter(|id| words::alarm(self.site, *id) == verb).collect();
            let names: Vec<String> = named.iter().map(|id| Paper.contact(self.site, *id)).collect();
            if !names.is_empty() && names.len() == all && all > 2 {
                words.push(format!("any one contact {verb}"));
            } else if !names.is_empty() {
                words.push(format!("{} {verb}", list(&names, "or")));
            }
        }
        words.extend(counts.map(|state| Paper.state(self.site, self.wiring, *state)));
        words.extend(together.then(|| Paper.state(self.site, self.wiring, State::AllAlarms)));
        words
    }

    fn verb(&self, devices: &[Id<Device>]) -> &'static str {
        let all = |verb: &&&str| devices.iter().all(|id| words::alarm(self.site, *id) == **verb);
        words::ALARMS.iter().find(all).unwrap_or(&words::IN_ALARM)
    }

    fn cables(&self, runs: &[Id<Run>], what: &str) -> Option<String> {
        let all: BTreeSet<Id<Run>> = loops::runs(&self.readings.network).into_iter().collect();
        match runs {
            [] => None,
            _ if runs.len() == all.len() && all.len() > 1 => Some(format!("any cable {what}")),
            _ => {
                let labels: Vec<&str> = runs.iter().map(|run| words::cable(self.wiring, *run)).collect();
                Some(format!("cable {} {what}", list(&labels, "or")))
            }
        }
    }
}

//! Loops with the board on: volts at rest and in alarm, and the ohms of loops that have something fed in them.

use serde::Serialize;

use crate::base::Id;
use crate::calc::{LoopReadings, Spread, State, StateReading};
use crate::compiled::Compiled;
use crate::model::Zone;
use crate::views::procedure::is_passive;
use crate::words::{self, Paper};

/// A loop.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    number: String,
    description: String,
    at: String,
    rest_ohms: String,
    /// Empty to write the reading in; a dash where it was taken cold.
    ohms_reading: &'static str,
    rest_volts: String,
    alarm: String,
}

/// What the spec has to say to the installer about a zone.
#[derive(Debug, Serialize)]
pub(crate) struct Remark {
    number: String,
    text: String,
}

/// The remark of a zone.
pub(crate) fn remark(zone: &Zone) -> Option<Remark> {
    zone.note.as_ref().map(|note| Remark { number: zone.number.value.to_string(), text: note.clone() })
}

/// The row of a zone with a loop.
pub(crate) fn row(compiled: &Compiled, id: Id<Zone>) -> Option<Row> {
    let Compiled { site, wiring, loops, .. } = compiled;
    let zone = &site.zones[id];
    zone.wired.as_ref()?;
    let readings = loops.get(&id);
    let rest = readings.and_then(|readings| readings.states.first());
    let passive = is_passive(site, id);
    let ohms = rest.map(|rest| words::ohms_read(&[rest.ohms])).unwrap_or_default();
    Some(Row {
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        at: Paper.measured_at(site, wiring, id),
        rest_ohms: if passive { "read cold".to_owned() } else { ohms },
        ohms_reading: if passive { "–" } else { "" },
        rest_volts: rest.and_then(|rest| rest.volts).map(|volts| words::volts_read(&[volts])).unwrap_or_default(),
        alarm: readings.map(alarm).unwrap_or_default(),
    })
}

/// What any one contact in alarm reads: volts where the board's sensing is known, else ohms.
fn alarm(readings: &LoopReadings) -> String {
    let states: Vec<&StateReading> =
        readings.states.iter().filter(|reading| matches!(reading.state, State::Alarm(_))).collect();
    shown(&states)
}

/// The volts of some states, where the board's sensing is known, else their ohms.
pub(super) fn shown(states: &[&StateReading]) -> String {
    let volts: Vec<Spread> = states.iter().filter_map(|state| state.volts).collect();
    let ohms: Vec<Spread> = states.iter().map(|state| state.ohms).collect();
    match (ohms.is_empty(), volts.is_empty()) {
        (true, _) => String::new(),
        (_, false) => words::volts_read(&volts),
        (_, true) => words::ohms_read(&ohms),
    }
}

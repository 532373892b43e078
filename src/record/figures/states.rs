//! The expected readings of a loop in the JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::super::names::Names;
use super::super::number::Number;
use crate::calc::loops::StateReading;
use crate::calc::{self, LoopReadings, Spread, Verdict};
use crate::terms::BandName;

/// What is read in one state of a loop.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[allow(clippy::struct_field_names, reason = "the fields are named as in the JSON")]
pub(crate) struct State {
    /// "at-rest", "alarm", "alarms" (so many at once), "all-alarms", "cover-off", "supply-lost", "cable-cut",
    /// "cable-shorted-near" or "cable-shorted-far" (at the end towards the board, or away from it).
    pub(crate) state: &'static str,
    /// The device that it is about, by its `id`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) device: Option<String>,
    /// Label of the cable that it is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) cable: Option<String>,
    /// How many contacts are in alarm at once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) count: Option<usize>,
    /// Ohms at the leads, disconnected from the board.
    pub(crate) ohms: Bounds,
    /// Volts at the terminals; null where nobody says how the board senses.
    pub(crate) volts: Option<Bounds>,
    /// What the board reports: first with every part at its nominal value, then what else it may report. "between-bands"
    /// is where no band holds it, so that what it reports is left to its maker. Empty where nobody says how the board reads.
    pub(crate) reads: Vec<&'static str>,
    /// Distance in volt to the nearest edge of the band, below zero outside of it; null where no edge limits it.
    pub(crate) margin_volts: Option<Number>,
    /// The same in ohm, for a board whose bands are in ohm.
    pub(crate) margin_ohms: Option<Number>,
}

/// A value with its bounds.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct Bounds {
    /// The least it can be; null for no connection.
    pub(crate) min: Option<Number>,
    /// With every part at its nominal value; null for no connection.
    pub(crate) nominal: Option<Number>,
    /// The greatest it can be; null for no connection.
    pub(crate) max: Option<Number>,
}

impl Bounds {
    /// The bounds of a spread.
    pub(crate) fn of(spread: Spread) -> Self {
        Self { min: Number::of(spread.least), nominal: Number::of(spread.nominal), max: Number::of(spread.greatest) }
    }
}

/// The states of a loop: at rest, alarms, covers, cable faults; none where it could not be calculated.
pub(crate) fn states(names: &Names<'_>, readings: Option<&LoopReadings>) -> Vec<State> {
    readings.into_iter().flat_map(|readings| &readings.states).map(|reading| state(names, reading)).collect()
}

/// One reading of a loop.
pub(crate) fn state(names: &Names<'_>, reading: &StateReading) -> State {
    let (word, device, run, count) = match reading.state {
        calc::State::Normal => ("at-rest", None, None, None),
        calc::State::Alarm(device) => ("alarm", Some(device), None, None),
        calc::State::Alarms(count) => ("alarms", None, None, Some(count)),
        calc::State::AllAlarms => ("all-alarms", None, None, None),
        calc::State::Cover(device) => ("cover-off", Some(device), None, None),
        calc::State::SupplyLost(device) => ("supply-lost", Some(device), None, None),
        calc::State::Cut(run) => ("cable-cut", None, Some(run), None),
        calc::State::ShortNear(run) => ("cable-shorted-near", None, Some(run), None),
        calc::State::ShortFar(run) => ("cable-shorted-far", None, Some(run), None),
    };
    let margin =
        |in_ohms: bool| reading.reading.margin.filter(|_| reading.reading.in_ohms == in_ohms).and_then(Number::of);
    State {
        state: word,
        device: device.map(|device| names.device(device).text),
        cable: run.and_then(|run| names.label(run)),
        count,
        ohms: Bounds::of(reading.ohms),
        volts: reading.volts.map(Bounds::of),
        reads: match reading.reading.verdict {
            Verdict::Reads(band) => vec![band.word()],
            Verdict::Unclear(outcomes) => {
                outcomes.in_order().map(|band| band.map_or("between-bands", BandName::word)).collect()
            }
            Verdict::Unknown => Vec::new(),
        },
        margin_volts: margin(false),
        margin_ohms: margin(true),
    }
}

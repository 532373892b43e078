//! How the states, bands and remedies of a loop are told in the findings about it.

use crate::base::Id;
use crate::base::wording::count;
use crate::calc::{LoopReadings, Spread, State, StateReading, Verdict};
use crate::checks::loops::loop_verdict::Known;
use crate::checks::{Context, words};
use crate::diag::{Diagnostic, Rule};
use crate::model::{BandEdges, Device, Run, Sensing};
use crate::quantity::{Ohms, Volts};
use crate::terms::BandName;

/// How many states a finding lists; the others are counted.
const LISTED: usize = 8;

/// The label of the cable that a run is or shares.
pub fn cable(context: Context<'_>, run: Id<Run>) -> &str {
    context.wiring.cable_of(run).map_or("", |cable| cable.label.as_str())
}

/// A state in words: "“Reed contact” in alarm", "cable Z7 shorted at its far end".
pub fn state(context: Context<'_>, state: State) -> String {
    let device = |device: Id<Device>| words::device(&context.site.devices[device]);
    let cable = |run| cable(context, run);
    match state {
        State::Normal => "at rest".to_owned(),
        State::Alarm(one) => format!("{} in alarm", device(one)),
        State::Alarms(number) => format!("{number} contacts in alarm at once"),
        State::AllAlarms => "all contacts in alarm at once".to_owned(),
        State::Cover(one) => format!("cover of {} open", device(one)),
        State::SupplyLost(one) => format!("supply lost at {}", device(one)),
        State::Cut(run) => format!("cable {} cut", cable(run)),
        State::ShortNear(run) => format!("cable {} shorted at its near end", cable(run)),
        State::ShortFar(run) => format!("cable {} shorted at its far end", cable(run)),
    }
}

/// What the board makes of it: "normal", "short or normal", "between the bands".
pub fn reads(reading: &StateReading) -> String {
    match reading.reading.verdict {
        Verdict::Reads(band) => band.word().to_owned(),
        Verdict::Spans(low, high) => format!("{} or {}", low.word(), high.word()),
        Verdict::Between(Some(band)) => format!("{} or between the bands", band.word()),
        Verdict::Between(None) => "between the bands".to_owned(),
        Verdict::Unknown => "unknown".to_owned(),
    }
}

/// What is measured: volts at the terminals, or ohms where the board senses by ohms.
pub fn measured(reading: &StateReading) -> String {
    match reading.volts {
        Some(volts) if !reading.reading.in_ohms => bounds(volts, |volts| Volts(volts).to_string()),
        _ => bounds(reading.ohms, |ohms| Ohms(ohms).to_string()),
    }
}

fn bounds(spread: Spread, print: impl Fn(f64) -> String) -> String {
    let (least, greatest) = (print(spread.least), print(spread.greatest));
    if least == greatest { least } else { format!("{least} to {greatest}") }
}

/// One line of figures: "at rest: 2.43 V to 2.57 V, reads normal".
pub fn line(context: Context<'_>, reading: &StateReading) -> String {
    format!("{}: {}, reads {}", state(context, reading.state), measured(reading), reads(reading))
}

/// Adds the readings of some states, and how many more there are.
#[must_use]
pub fn figures(context: Context<'_>, finding: Diagnostic, readings: &[&StateReading]) -> Diagnostic {
    let listed = readings.iter().take(LISTED).fold(finding, |finding, one| finding.figure(line(context, one)));
    match readings.len().saturating_sub(LISTED) {
        0 => listed,
        more => listed.figure(format!("and {} alike", count(more, "more state", None))),
    }
}

/// Adds the bands of a board that have a name among those given; all where none is.
#[must_use]
pub fn bands(finding: Diagnostic, sensing: Option<&Sensing>, names: &[BandName]) -> Diagnostic {
    let bands = sensing.into_iter().flat_map(|sensing| &sensing.bands);
    bands.filter(|band| names.is_empty() || names.contains(&band.reads.value)).fold(finding, |finding, band| {
        finding.figure(format!("band {}: {}", band.reads.value.word(), edges(band.edges)))
    })
}

/// The edges of a band in words: "1.60 V to 3.10 V", "up to 0.80 V".
pub fn edges(edges: BandEdges) -> String {
    let (low, high) = match edges {
        BandEdges::Volts(low, high) => (low.map(|v| v.to_string()), high.map(|v| v.to_string())),
        BandEdges::Ohms(low, high) => (low.map(|r| r.to_string()), high.map(|r| r.to_string())),
    };
    match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (None, Some(high)) => format!("up to {high}"),
        (Some(low), None) => format!("from {low}"),
        (None, None) => "everything".to_owned(),
    }
}

/// The last place of a loop's cable where there is one: the run that no other goes on from.
pub fn last_place(context: Context<'_>, readings: &LoopReadings) -> Option<Id<Run>> {
    let site = context.site;
    let runs = crate::calc::loops::runs(&readings.network);
    let mut ends = runs.iter().copied().filter(|run| {
        !site.runs[*run].branch && !site.runs.iter().any(|next| next.upstream == Some(*run) && !next.branch)
    });
    ends.next().filter(|_| ends.next().is_none())
}

/// The readings of a loop that are wanted.
pub fn states(readings: &LoopReadings, wanted: impl Fn(&StateReading) -> bool) -> Vec<&StateReading> {
    readings.states.iter().filter(|reading| wanted(reading)).collect()
}

/// A finding of `rule` about readings that lie between bands: titled by the first of them, with the figures of all and
/// every band of the board. `say` adds the words of the rule. `None` where there is no such reading.
pub fn unclear(
    context: Context<'_>,
    rule: &'static Rule,
    known: &Known<'_>,
    readings: &[&StateReading],
    say: impl FnOnce(Diagnostic) -> Diagnostic,
) -> Option<Diagnostic> {
    let first = readings.first()?;
    let number = known.zone.number.value;
    let title = format!("zone {number} reads {} with {}", reads(first), state(context, first.state));
    let finding = say(Diagnostic::new(rule, known.wired.place.span, title)).about(number);
    Some(bands(figures(context, finding, readings), known.part.sensing.as_ref(), &[]))
}

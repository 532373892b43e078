//! How the states, bands and remedies of a loop are told in the findings about it.

use crate::base::Id;
use crate::base::wording::count;
use crate::calc::band;
use crate::calc::spread::Spread;
use crate::calc::{LoopReadings, StateReading, Verdict};
use crate::checks::Context;
use crate::checks::loops::loop_known::{Known, judged_by, of, of_short, resistors};
use crate::diag::{Diagnostic, Rule};
use crate::model::{Run, Sensing, Site};
use crate::terms::BandName;
use crate::words::{self, Screen};

/// How many states a finding lists; the others are counted.
const LISTED: usize = 8;
/// Ohms below which a loop is closed by a contact and not by a resistor.
const CLOSED: f64 = 10.0;

/// What is measured: volts at the terminals, or ohms where the board senses by ohms.
pub(crate) fn measured(reading: &StateReading) -> String {
    match reading.volts {
        Some(volts) if !reading.reading.in_ohms => words::bounds(&[volts], words::volts),
        _ => words::bounds(&[reading.ohms], words::ohms),
    }
}

/// One line of figures: "at rest: 2.43 V to 2.57 V, reads normal".
pub(crate) fn line(context: Context<'_>, reading: &StateReading) -> String {
    format!(
        "{}: {}, reads {}",
        Screen.state(context.site, context.wiring, reading.state),
        measured(reading),
        words::reads(reading.reading)
    )
}

/// Adds the readings of some states, and how many more there are.
#[must_use]
pub(crate) fn figures(context: Context<'_>, finding: Diagnostic, readings: &[&StateReading]) -> Diagnostic {
    let listed = readings.iter().take(LISTED).fold(finding, |finding, one| finding.figure(line(context, one)));
    match readings.len().saturating_sub(LISTED) {
        0 => listed,
        more => listed.figure(format!("and {} alike", count(more, "more state", None))),
    }
}

/// Adds the bands of a board that have a name among those given; all where none is.
#[must_use]
pub(crate) fn bands(finding: Diagnostic, sensing: Option<&Sensing>, names: &[BandName]) -> Diagnostic {
    let bands = sensing.into_iter().flat_map(|sensing| &sensing.bands);
    bands.filter(|band| names.is_empty() || names.contains(&band.reads.value)).fold(finding, |finding, band| {
        finding.figure(format!("band {}: {}", band.reads.value.word(), words::edges(band.edges)))
    })
}

/// The last place of a loop's cable where there is one: the run that no other goes on from.
pub(crate) fn last_place(context: Context<'_>, readings: &LoopReadings) -> Option<Id<Run>> {
    let site = context.site;
    let runs = crate::calc::loops::runs(&readings.network);
    let mut ends = runs.iter().copied().filter(|run| !site.runs[*run].branch && site.next_run(*run).is_none());
    ends.next().filter(|_| ends.next().is_none())
}

/// True where a loop's cable branches: in a run, or at the board.
pub(crate) fn is_branched(context: Context<'_>, readings: &LoopReadings) -> bool {
    let site = context.site;
    let runs = crate::calc::loops::runs(&readings.network);
    runs.iter().any(|run| on_branch(site, *run))
        || runs.iter().filter(|run| site.runs[**run].upstream.is_none()).count() > 1
}

/// True for a branch and for what goes on from one.
pub(crate) fn on_branch(site: &Site, run: Id<Run>) -> bool {
    std::iter::once(run).chain(site.runs_before(run)).any(|run| site.runs[run].branch)
}

/// Where the resistor has to stand so that every cable is supervised; `None` where it stands there already.
pub(crate) fn resistor_to_last(context: Context<'_>, readings: &LoopReadings) -> Option<String> {
    let last = last_place(context, readings).filter(|_| !is_branched(context, readings));
    let Some(last) = last else {
        return Some(
            "Let one cable pass from place to place, without branches, and put the whole resistor at its last place; or give each branch a zone of its own.".to_owned(),
        );
    };
    let is_there = matches!(resistors(context.site, readings.zone).as_slice(), [(Some(run), _)] if *run == last);
    (!is_there).then(|| {
        format!(
            "Put the whole resistor at the last place, the far end of {}, behind everything else.",
            Screen.cable(context.wiring, last)
        )
    })
}

/// What is to do where a short that stands before everything else is not read as a short, whatever the resistor is.
pub(crate) fn short_unread(known: &Known<'_>) -> Option<&'static str> {
    match of_short(judged_by(known)?) {
        verdict if verdict.may_be(BandName::Normal) => Some(
            "By its bands this input takes a short for a loop at rest, whatever resistor is in it: sense the loop by an input with a band for a short. Or, where all its contacts are closed at rest, wire it \"normally-closed\" without the resistor, and accept that a short is not seen.",
        ),
        Verdict::Unclear(_) => Some(
            "This input has no band that a short lies in, and nothing in the loop changes that: copy the band from the board's sheet if it has one, sense the loop by another input, or accept this.",
        ),
        Verdict::Reads(_) | Verdict::Unknown => None,
    }
}

/// What is to do where a loop that is open at the board's own terminals may be read as one at rest.
pub(crate) fn open_unread(known: &Known<'_>) -> Option<String> {
    let sensing = judged_by(known)?;
    let open = band::voltage(sensing, Spread::OPEN);
    of(sensing, Spread::OPEN).may_be(BandName::Normal).then(|| {
        let stands = open.map_or_else(String::new, |open| format!(" stands at {}, and", words::bounds(&[open], words::volts)));
        format!("By its bands this input may take an open loop for one at rest, whatever cable and resistor are in it: it{stands} the band for normal reaches there. Copy the bands and supply-tolerance= again from the board's sheet, or sense the loop by another input.")
    })
}

/// What is to do where an alarm opens the loop, or shorts it, and the input has no band there.
pub(crate) fn alarm_unread(known: &Known<'_>, alarms: &[&StateReading]) -> Option<String> {
    let sensing = judged_by(known)?;
    let verdicts = [
        ("an open loop", "open", Spread::OPEN, "the full supply"),
        ("a short", "short", Spread::SHORT, "nearly nothing"),
    ];
    verdicts.into_iter().find_map(|(what, band, ohms, stands)| {
        let is_meant = alarms.iter().any(|alarm| {
            let nominal = alarm.ohms.nominal;
            if ohms.nominal.is_infinite() { nominal.is_infinite() } else { nominal < CLOSED }
        });
        // Near the edge of a band that is there, another resistor may help.
        let has_none = !sensing.bands.iter().any(|written| written.reads.value.word() == band);
        let verdict = of(sensing, ohms);
        let is_unread =
            matches!(verdict, Verdict::Unclear(_)) && !BandName::ALL.iter().any(|band| verdict.may_be(*band));
        (is_meant && has_none && is_unread).then(|| {
            let board = Screen.name(&known.part.name.value);
            format!(
                "By the bands of {board} {what} is nothing: it stands at {stands}, whatever the resistor is. Copy the band that is missing from the board's sheet into `sensing` of that part: band \"{band}\" with its {}=.",
                if band == "open" { "min" } else { "max" }
            )
        })
    })
}

/// The readings of a loop that are wanted.
pub(crate) fn states(readings: &LoopReadings, wanted: impl Fn(&StateReading) -> bool) -> Vec<&StateReading> {
    readings.states.iter().filter(|reading| wanted(reading)).collect()
}

/// A finding of `rule` about readings that lie between bands: titled by the first of them, with the figures of all and
/// every band of the board. `say` adds the words of the rule. `None` where there is no such reading.
pub(crate) fn unclear(
    context: Context<'_>,
    rule: &'static Rule,
    known: &Known<'_>,
    readings: &[&StateReading],
    say: impl FnOnce(Diagnostic) -> Diagnostic,
) -> Option<Diagnostic> {
    let first = readings.first()?;
    let number = known.zone.number.value;
    let title = format!(
        "zone {number} reads {} with {}",
        words::reads(first.reading),
        Screen.state(context.site, context.wiring, first.state)
    );
    let finding = say(Diagnostic::new(rule, known.wired.place.span, title)).about(number);
    Some(bands(figures(context, finding, readings), known.sensing, &[]))
}

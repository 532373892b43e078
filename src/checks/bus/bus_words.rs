//! How places, terminators and figures of a bus are told in the findings about it.

use crate::base::Span;
use crate::base::wording::{capital, count, list};
use crate::calc::bus::{BusFigures, Fitting, Layout};
use crate::checks::Context;
use crate::diag::Diagnostic;
use crate::model::{Bus, Mounted, Owner};
use crate::profiles::bus::{STUB, TERMINATOR, stub_assumptions};
use crate::quantity::{BitsPerSecond, Metres, Ohms, print};
use crate::words::{self, Screen};

/// A place in words: "keypad `hall-keypad`", "the far end of cable `DATA-3`".
pub(crate) fn place(context: Context<'_>, layout: &Layout, at: usize) -> String {
    let Some(place) = layout.places.get(at) else { return String::new() };
    match (place.boards.first(), place.run) {
        (Some(board), _) => Screen.board(context.site, *board),
        (None, Some(run)) => format!("the far end of {}", Screen.cable(context.wiring, run)),
        (None, None) => String::new(),
    }
}

/// Several places, joined by "and".
pub(crate) fn places(context: Context<'_>, layout: &Layout, at: &[usize]) -> String {
    list(&at.iter().map(|at| place(context, layout, *at)).collect::<Vec<_>>(), "and")
}

/// Where a place stands in the spec.
pub(crate) fn place_span(context: Context<'_>, layout: &Layout, at: usize) -> Span {
    let site = context.site;
    let Some(place) = layout.places.get(at) else { return Span::default() };
    match (place.run, place.boards.first()) {
        (Some(run), _) => site.runs[run].span(),
        (None, Some(board)) => site.boards[*board].name.span,
        (None, None) => Span::default(),
    }
}

/// A terminator in words, with its place: "the 120 Ω built into panel `main`".
pub(crate) fn terminator(context: Context<'_>, layout: &Layout, position: usize) -> String {
    let Some(terminator) = layout.terminators.get(position) else { return String::new() };
    match terminator.fitting {
        Fitting::BuiltIn(board) => {
            format!("the {} built into {}", terminator.ohms, Screen.board(context.site, board))
        }
        Fitting::Written(..) => format!("the {} at {}", terminator.ohms, place(context, layout, terminator.place)),
    }
}

/// Where a terminator stands in the spec: the node, or the name of the board that it is built into.
pub(crate) fn terminator_span(context: Context<'_>, layout: &Layout, position: usize) -> Span {
    let site = context.site;
    match layout.terminators.get(position).map(|terminator| terminator.fitting) {
        Some(Fitting::BuiltIn(board)) => site.boards[board].name.span,
        Some(Fitting::Written(run, at)) => {
            let items = site.mounted(Owner::Bus(layout.bus), run);
            items.get(at).and_then(Mounted::terminator).map(|value| value.span).unwrap_or_default()
        }
        None => Span::default(),
    }
}

/// What to do for a terminator at a place that lacks one.
pub(crate) fn put(context: Context<'_>, layout: &Layout, at: usize) -> String {
    let site = context.site;
    let taken_off = layout.ports.iter().filter(|port| port.place == at).any(|port| {
        let built_in = site.bus_port(layout.bus, port.board).and_then(|port| port.terminator);
        built_in.is_some() && site.is_terminator_off(layout.bus, port.board)
    });
    let there = place(context, layout, at);
    if taken_off {
        format!("put on the terminator that is built into {there}: leave out `built-in-terminator=#false`")
    } else if at == 0 {
        format!("put `terminator (ohm)120` at {there}, in the bus itself")
    } else {
        format!("put `terminator (ohm)120` at {there}, in the braces of its run")
    }
}

/// What to do about a terminator that should not be there.
pub(crate) fn take_off(context: Context<'_>, layout: &Layout, position: usize) -> String {
    let site = context.site;
    let said = terminator(context, layout, position);
    match layout.terminators.get(position).map(|terminator| terminator.fitting) {
        Some(Fitting::BuiltIn(board)) => {
            let on = if site.starts_at(layout.bus, board) {
                Screen.owner(site, Owner::Bus(layout.bus))
            } else {
                Screen.board(site, board)
            };
            format!("take off {said} (its sheet says how) and write `built-in-terminator=#false` on {on}")
        }
        Some(Fitting::Written(..)) | None => format!("take away {said}"),
    }
}

/// What a terminator must be, with what it rests on.
pub(crate) fn terminator_limit() -> String {
    format!(
        "a terminator of {} at each of the two ends, and none elsewhere ({})",
        Ohms(TERMINATOR.value),
        TERMINATOR.source()
    )
}

/// Steps as one sentence with a capital.
pub(crate) fn sentence(steps: &[String]) -> String {
    if steps.is_empty() { String::new() } else { capital(&list(steps, "and")) + "." }
}

/// A length as printed at this site.
pub(crate) fn length(context: Context<'_>, length: Metres) -> String {
    print::length(length, context.site.lengths)
}

/// Millivolts with one decimal, rounded down, so that what is under a limit reads so.
pub(crate) fn millivolts(volts: f64) -> String {
    format!("{:.1} mV", (volts * 1e4).floor() / 10.0)
}

/// A number of unit loads: "7", "4.5".
pub(crate) fn unit_loads(number: f64) -> String {
    let said = format!("{number:.3}");
    said.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A rate rounded down to three digits, so that what is printed still works.
pub(crate) fn rate(rate: BitsPerSecond) -> BitsPerSecond {
    let digit = 10_f64.powf(rate.0.log10().floor() - 2.0);
    BitsPerSecond((rate.0 / digit).floor() * digit)
}

/// The limit of a stub, with what it rests on.
pub(crate) fn stub_limit(context: Context<'_>) -> String {
    format!(
        "a stub may be {}: a tenth of the driver's rise time times the speed in the cable ({}); assumed are {}",
        length(context, words::tenths_down(Metres(STUB.value), context.site.lengths)),
        STUB.source(),
        stub_assumptions()
    )
}

/// The order along the cable with distances and terminators, one line of figures for each place of the trunk that has a
/// board or a terminator; of many the first and last.
pub(crate) fn order(context: Context<'_>, figures: &BusFigures, finding: Diagnostic) -> Diagnostic {
    const LISTED: usize = 12;
    let layout = &figures.layout;
    let from = layout.distances(layout.ends().0);
    let lines: Vec<String> = layout
        .trunk
        .iter()
        .map(|at| {
            let here = layout.terminators.iter().filter(|one| one.place == *at);
            let fitted: Vec<String> = here.map(|one| format!("terminator {}", one.ohms)).collect();
            let away = from.get(*at).copied().unwrap_or_default();
            let what = std::iter::once(place(context, layout, *at)).chain(fitted).collect::<Vec<_>>().join(", ");
            format!("{}: {what}", length(context, away))
        })
        .collect();
    let skipped = lines.len().saturating_sub(LISTED);
    let head = lines.len().min(LISTED / 2);
    let tail = if skipped == 0 { head } else { lines.len().saturating_sub(LISTED / 2) };
    let mut finding = lines.iter().take(head).fold(finding, Diagnostic::figure);
    if skipped > 0 {
        finding = finding.figure(format!("… and {} more", count(skipped, "place", None)));
    }
    lines.iter().skip(tail).fold(finding, Diagnostic::figure)
}

/// A finding about a bus: it stands at the bus's name, and `accept` knows it by that.
pub(crate) fn about(finding: Diagnostic, bus: &Bus) -> Diagnostic {
    finding.about(&bus.name.value)
}

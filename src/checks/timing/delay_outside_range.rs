//! A delay, an abort window or a number of alarms that is outside what the published range has.

use super::advice;
use crate::base::{Span, Spanned};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::timing::{Range, delays};
use crate::quantity::Seconds;
use crate::words::Screen;

check!(
    "delay-outside-range",
    Basis::Published("ANSI/SIA CP-01, editions as the finding says, from memory in part"),
    "a time of an area that is outside its published range"
);

/// A value that an area gives, against its range.
struct Given {
    what: &'static str,
    span: Span,
    shown: String,
    value: f64,
    range: Range,
    /// What to write instead.
    instead: String,
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let limits = delays(site.edition);
    let doors = context.doors;
    for (id, area) in site.areas.entries() {
        let advice = advice::of(site, doors, id);
        let time = |what, time: &Option<Spanned<Seconds>>, range: Range, instead| {
            time.as_ref().map(|time| Given {
                what,
                span: time.span,
                shown: shown(time.value, range),
                value: time.value.0,
                range,
                instead,
            })
        };
        let trips = area.swinger_shutdown.as_ref().map(|trips| Given {
            what: "number of alarms until a zone is shut out",
            span: trips.span,
            shown: trips.value.to_string(),
            value: f64::from(trips.value),
            range: limits.trips,
            instead: format!("swinger-shutdown={}", limits.trips.most.value.min(2.0)),
        });
        let given = [
            time("entry delay", &area.entry, limits.entry, advice.entry_words(area)),
            time("exit delay", &area.exit, limits.exit, format!("exit=(s){}", advice.exit)),
            time("abort window", &area.abort, limits.abort, format!("abort=(s){}", advice.abort)),
            trips,
        ];
        for given in given.into_iter().flatten().filter(|given| !given.range.holds(given.value)) {
            let name = Screen.name(&area.name.value);
            let finding =
                Diagnostic::new(&RULE, given.span, format!("area {name} has {} as its {}", given.shown, given.what))
                    .here(if given.value < given.range.least.value { "too little" } else { "too much" })
                    .why(paragraph(&given))
                    .help(format!("Write {}, or accept this with the reason.", given.instead))
                    .figure(figure(&given))
                    .about(&area.name.value);
            sink.push(finding);
        }
    }
}

/// A time as printed; with all its digits where it would be rounded to an end of the range that it is outside of.
fn shown(time: Seconds, range: Range) -> String {
    let printed = time.to_string();
    let is_end = [range.least, range.most].iter().any(|end| end.time().to_string() == printed);
    if is_end { format!("{} s", time.0) } else { printed }
}

fn paragraph(given: &Given) -> &'static str {
    match (given.what, given.value < given.range.least.value) {
        ("entry delay", true) => {
            "Whoever comes in has to reach the keypad and key in a code. With less time the house alarms at its own people, which is the commonest false alarm."
        }
        ("entry delay", false) => "For all that time nobody is called although somebody came in.",
        ("exit delay", true) => {
            "Whoever arms has to be out of the door with all bags when it ends. A door that opens later is an alarm."
        }
        ("exit delay", false) => {
            "For all that time the house is not watched, although its keypad says that it is armed."
        }
        ("abort window", true) => "Nobody has time to stop a false alarm before it is sent.",
        ("abort window", false) => "For all that time a real alarm is kept back.",
        (_, true) => "A zone that is never heard is not watched.",
        (_, false) => {
            "A contact that rattles in the wind calls the service again and again, until somebody comes who can bypass it."
        }
    }
}

fn figure(given: &Given) -> String {
    let Range { least, most } = given.range;
    let ends = if given.what.starts_with("number") {
        format!("{} to {}", least.value, most.value)
    } else {
        format!("{} to {}", least.time(), most.time())
    };
    format!("{}: {ends} ({})", given.what, given.range.source())
}

//! A battery of a board, siren or lock that was past its years when readings were last taken.

use jiff::civil::Date;

use crate::base::Span;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Measured;
use crate::words::Screen;

check!("battery-old", Basis::Practice, "a battery that is past its years");

/// Years after which a panel's battery is replaced: common practice says 3 to 5.
const YEARS: i16 = 5;

fn run(context: Context<'_>, sink: &mut Sink) {
    let Some(last) = context.site.measured.last() else { return };
    for (id, board) in context.site.boards.entries() {
        let Some((battery, installed)) = board.battery.as_ref().and_then(|b| Some((b, b.installed?))) else { continue };
        let whose = Screen.board(context.site, id);
        sink.extend(finding(last, &whose, battery.capacity.span, installed).map(|found| found.about(&board.name.value)));
    }
    for (id, device) in context.site.devices.entries() {
        let Some(installed) = device.own_battery() else { continue };
        let whose = Screen.device(context.site, id);
        sink.extend(finding(last, &whose, device.span(), installed).map(|found| about::device(context.site, device, found)));
    }
}

/// A finding about a battery that was put in on a day, where it was too old when readings were last taken.
fn finding(last: &Measured, whose: &str, place: Span, then: Date) -> Option<Diagnostic> {
    let day = last.date.value;
    let birthday_is_to_come = (day.month(), day.day()) < (then.month(), then.day());
    let years = day.year() - then.year() - i16::from(birthday_is_to_come);
    if years < YEARS {
        return None;
    }
    Some(
        Diagnostic::new(&RULE, place, format!("the battery of {whose} was {years} years old on {day}"))
            .here(format!("put in {then}"))
            .also(last.date.span, "the last readings")
            .why("A lead-acid battery that still shows its volts may have a fraction of its hours left, and nobody notices before the mains fails.")
            .help("Replace it, take the old one to a collection point, and write the day of the new one where the old day stands."),
    )
}

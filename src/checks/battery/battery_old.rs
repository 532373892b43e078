//! A battery that was past its years when it was last measured.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("battery-old", Basis::Practice, "a battery that is past its years");

/// Years after which a panel's battery is replaced: common practice says 3 to 5.
const YEARS: i16 = 5;

fn run(context: Context<'_>, sink: &mut Sink) {
    let Some(last) = context.site.measured.last() else { return };
    for (id, board) in context.site.boards.entries() {
        let Some((battery, installed)) = board.battery.as_ref().and_then(|b| Some((b, b.installed?))) else { continue };
        let (then, day) = (installed, last.date.value);
        let birthday_is_to_come = (day.month(), day.day()) < (then.month(), then.day());
        let years = day.year() - then.year() - i16::from(birthday_is_to_come);
        if years < YEARS {
            continue;
        }
        sink.push(
            Diagnostic::new(&RULE, battery.capacity.span, format!("the battery of {} was {years} years old on {day}", Screen.board(context.site, id)))
                .here(format!("put in {installed}"))
                .also(last.date.span, "the last readings")
                .why("A lead-acid battery that still shows its volts may have a fraction of its hours left, and nobody notices before the mains fails.")
                .help("Replace it, take the old one to a collection point, and write the day into installed=.")
                .about(&board.name.value),
        );
    }
}

//! An area whose entry delay and abort window together keep an alarm back for too long.

use super::advice;
use crate::calc::timing::needed;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::timing::delays;
use crate::quantity::Seconds;
use crate::words::Screen;

check!(
    "entry-and-abort-long",
    Basis::Published("ANSI/SIA CP-01, edition not named, from memory"),
    "an entry delay and an abort window that are too long together"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let limits = delays(site.edition);
    let doors = context.doors;
    for (id, area) in site.areas.entries() {
        let Some(entry) = area.entry else { continue };
        let sum = area.abort.map_or(entry.value, |abort| entry.value + abort.value);
        // A time that is outside its own range is reported as that.
        let alone =
            limits.entry.holds(entry.value.0) && area.abort.is_none_or(|abort| limits.abort.holds(abort.value.0));
        if !alone || sum.0 <= limits.together.value {
            continue;
        }
        let advice = advice::of(site, doors, id);
        let help = match needed(doors, id) {
            _ if advice.fits => format!("Write {}, or accept this with the reason.", advice.entry_words(area)),
            Some((door, _)) => format!(
                "Put a keypad nearer to {}, for whoever comes in there needs more than is left, or accept this with the reason.",
                Screen.opening(site, door.opening)
            ),
            None => "Shorten one of the two, or accept this with the reason.".to_owned(),
        };
        let name = Screen.name(&area.name.value);
        let title = match area.abort {
            Some(abort) => format!(
                "area {name} keeps an alarm back for {} of entry and {} of abort: {sum}",
                entry.value, abort.value
            ),
            None => format!(
                "area {name} keeps an alarm back for {} of entry alone, and the abort window is not written",
                entry.value
            ),
        };
        let finding = Diagnostic::new(&RULE, entry.span, title).here(format!("{} to come in", entry.value));
        let finding = match area.abort {
            Some(abort) => finding.also(abort.span, format!("{} more", abort.value)),
            None => finding,
        };
        let finding = finding
            .why("Who breaks in through a door with a delay has all of it before anybody is called: first the entry delay, then the abort window.")
            .help(help)
            .figure(format!("together: at most {} ({})", Seconds(limits.together.value), limits.together.source()))
            .about(&area.name.value);
        sink.push(finding);
    }
}

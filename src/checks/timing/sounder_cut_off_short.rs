//! Sounders that are silent before anybody has heard them.

use crate::calc::sound::NOTICED;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("sounder-cut-off-short", Basis::Practice, "sounders that are silent before anybody has heard them");

fn run(context: Context<'_>, sink: &mut Sink) {
    for area in &context.site.areas {
        let Some(time) = area.sounder_cut_off.filter(|time| time.value < NOTICED) else { continue };
        let name = Screen.name(&area.name.value);
        sink.push(
            Diagnostic::new(&RULE, time.span, format!("sounders of area {name} sound for {} only", time.value))
                .here("hardly noticed")
                .why("Nobody who sleeps or is in the garden hears what an alarm says in that time, and a burglar waits it out.")
                .help("Look at the unit: minutes are usual. Write sounder-cut-off=(min)5, or as the ordinance wants it.")
                .about(&area.name.value),
        );
    }
}

//! Sounders that sound longer than many places allow.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::timing::CUT_OFF;
use crate::words::Screen;

check!("sounder-cut-off-long", Basis::Practice, "sounders that sound longer than many places allow");

fn run(context: Context<'_>, sink: &mut Sink) {
    for area in &context.site.areas {
        let Some(time) = area.sounder_cut_off.filter(|time| time.value.0 > CUT_OFF.value) else { continue };
        let name = Screen.name(&area.name.value);
        let finding = Diagnostic::new(&RULE, time.span, format!("sounders of area {name} sound for {}", time.value))
            .here("longer than many places allow")
            .why("Ordinances often limit a sounder that is heard outdoors to 10 or 15 minutes; past that it is a nuisance that is fined, and nobody listens to it any more.")
            .help("Write sounder-cut-off=(min)10 after a look at the local ordinance, or accept this with what it allows.")
            .figure(format!("often limited to {} ({})", CUT_OFF.time(), CUT_OFF.source()))
            .about(&area.name.value);
        sink.push(finding);
    }
}

//! A board that lets go of its battery above all that it gives on mains.

use crate::calc::power::own_supply::{cells, greatest_volts};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Volts;
use crate::words::rated;

check!(
    "cut-off-above-outputs",
    Basis::Mismatch,
    "a board that lets go of its battery above all that it gives on mains"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in &context.site.parts {
        let greatest = greatest_volts(part);
        let cut_off = part.charger.as_ref().and_then(|charger| charger.cut_off);
        let Some(cut_off) = cut_off.filter(|cut_off| greatest.0 > 0.0 && *cut_off > greatest) else { continue };
        let title =
            format!("part `{}` lets go of its battery at {cut_off}, and gives {greatest} on mains", part.name.value);
        let finding = Diagnostic::new(&RULE, part.name.span, title)
            .here("cut-off= is more than the volts of its outputs")
            .why("Most boards give what their battery has, and let go of it well below what they give on mains: as it is written, such a board has no time on battery. Only one that steps its volts down can do this.")
            .help(format!("Copy cut-off= of the charger and volts= of the outputs from the sheet again. Accept it if the board has a battery of {} and steps its volts down.", rated(Volts(cells(part) * 2.0))))
            .about(&part.name.value);
        sink.push(finding);
    }
}

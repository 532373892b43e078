//! A loop that is not normal at rest because of its cable's length.

use crate::calc::remedy;
use crate::checks::Context;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::print;
use crate::terms::BandName;
use crate::words::{self, Screen};

check!("loop-too-long", Basis::Contradiction, "a loop whose cable is too long to be normal at rest");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (readings, known, cause) in found(context, |cause| matches!(cause, Cause::TooLong(_))) {
        let (Cause::TooLong(longest), Some(rest)) = (cause, readings.states.first()) else { continue };
        let number = known.zone.number.value;
        let length = print::length(remedy::length(site, &readings.network), site.lengths);
        let longest = print::length(words::rounded_down(*longest, site.lengths), site.lengths);
        let reads = words::reads(rest.reading);
        let title = format!("with {length} of cable the loop of zone {number} reads {reads} at rest");
        let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here(format!("{length} of cable in all"))
            .why("Every foot of conductor adds its resistance, out and back, and more on a hot day. The board takes that for a disturbed loop.")
            .help(format!("With this cable the loop works up to {longest} in all. Take a heavier cable, sense the loop by a board that is nearer, or correct a length that is written wrong."))
            .about(number);
        let finding = crate::calc::loops::runs(&readings.network).into_iter().fold(finding, |finding, run| {
            let cable = Screen.cable(context.wiring, run);
            match &site.runs[run].length {
                Some(length) => finding.also(length.span, cable),
                None => finding,
            }
        });
        let finding = loop_words::figures(context, finding, &[rest]);
        sink.push(loop_words::bands(finding, known.sensing, &[BandName::Normal]));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{LengthUnit, Metres};

    #[test]
    fn a_length_is_rounded_down_in_the_unit_that_is_printed() {
        let printed = |length, unit| print::length(words::rounded_down(Metres(length), unit), unit);
        assert_eq!(printed(100.99 * 0.3048, LengthUnit::Feet), "100 ft");
        assert_eq!(printed(30.19, LengthUnit::Metres), "30.1 m");
    }
}

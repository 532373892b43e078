//! A loop's resistor that gets hotter than is usual.

use crate::checks::Context;
use crate::checks::loops::loop_known;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Sensing;
use crate::profiles::limits;
use crate::quantity::{Resistance, Watts};

check!("resistor-overloaded", Basis::Practice, "a loop's resistor that takes over half of a quarter watt");

fn run(context: Context<'_>, sink: &mut Sink) {
    let share = f64::from(limits::RESISTOR_LOAD_SHARE) / 100.0;
    let most = f64::from(limits::RESISTOR_RATING_MILLIWATTS) / 1000.0 * share;
    for zone in context.loops.keys() {
        let Some(known) = loop_known::known(context.site, *zone) else { continue };
        let Some(sensing) = loop_known::judged_by(&known) else { continue };
        for (_, resistor) in loop_known::resistors(context.site, *zone) {
            let Some(power) = power(sensing, resistor.value).filter(|power| power.0 > most) else { continue };
            let number = known.zone.number.value;
            let finding = Diagnostic::new(&RULE, resistor.span, format!("the resistor of zone {number} takes {power}"))
                .here(resistor.value.to_string())
                .also(sensing.place.span, "the board's supply and pull-up")
                .why("A resistor that runs hot day and night drifts off its value, and in a wall box it warms what is beside it.")
                .help("Take a resistor rated for twice that power at least: 1/2 W or 1 W.")
                .figure(limits::RESISTOR_LOAD.cited())
                .about(number);
            sink.push(finding);
        }
    }
}

/// What it takes with the loop's other resistance at nothing: V²/R of its share of the board's voltage.
fn power(sensing: &Sensing, resistor: Resistance) -> Option<Watts> {
    let supply = sensing.supply?.0 * (1.0 + sensing.supply_tolerance.0);
    let pull_up = sensing.pull_up?.0 * (1.0 - sensing.tolerance.0);
    // Greatest at the end of the tolerance that is nearer to the pull-up.
    let ohms = pull_up.clamp(resistor.least().0, resistor.greatest().0);
    let current = supply / (ohms + pull_up);
    (ohms > 0.0).then_some(Watts(current * current * ohms))
}

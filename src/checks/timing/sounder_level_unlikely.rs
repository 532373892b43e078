//! A sounder's level that no sheet gives.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::print;
use crate::words::Screen;

check!(
    "sounder-level-unlikely",
    Basis::Practice,
    "a sounder's level, or the distance it is given at, that no sheet has"
);

const LEVELS: std::ops::RangeInclusive<f64> = 40.0..=140.0;
const FARTHEST: f64 = 30.0;

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for part in &site.parts {
        let Some(sound) = part.sound else { continue };
        if LEVELS.contains(&sound.level.0) && sound.at.0 <= FARTHEST {
            continue;
        }
        let name = Screen.name(&part.name.value);
        let at = print::length(sound.at, site.lengths);
        sink.push(
            Diagnostic::new(&RULE, part.name.span, format!("sounder {name} is said to have {} at {at}", sound.level))
                .here("has this sound")
                .why("No sounder's sheet gives that. What arrives in the bedrooms is computed from it.")
                .help("Write sound level=(dBA)… at=(ft)… as its sheet gives it, usually at 10 ft or 1 m; or accept this with the sheet's page.")
                .about(&part.name.value),
        );
    }
}

//! A way that is written twice, or whose time and length do not fit.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, Walk};
use crate::quantity::print;
use crate::words::Screen;

check!("walk-contradiction", Basis::Contradiction, "a way that is written twice, or whose time and length do not fit");

/// Metres a second between which people walk through a house: doors and stairs at the one end, a run at the other.
const WALKED: std::ops::RangeInclusive<f64> = 0.1..=3.0;

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for area in &site.areas {
        for (position, walk) in area.walks.iter().enumerate() {
            let from = Screen.opening(site, walk.from.value);
            let to = Screen.board(site, walk.to.value);
            let finding = if let Some(earlier) = twin(area, position, walk) {
                Diagnostic::new(&RULE, walk.from.span, format!("the way from {from} to {to} is written twice"))
                    .here("once more")
                    .also(earlier.from.span, "written here")
                    .why("One way has one length: the delays are held against one of the two, and nobody says which.")
                    .help("Keep the one that was walked, and take the other out.")
            } else if let (Some(time), Some(length)) = (&walk.time, &walk.length)
                && !WALKED.contains(&(length.value.0 / time.value.0))
            {
                let length_words = print::length(length.value, site.lengths);
                let title = format!("the way from {from} to {to} cannot be {length_words} and take {}", time.value);
                Diagnostic::new(&RULE, time.span, title)
                    .here("by the watch")
                    .also(length.span, "by the tape")
                    .why("Nobody walks at that speed. The time is what the delays are held against, and one of the two is wrong.")
                    .help("Walk it again with a watch, write time= as it was, and take length= out.")
            } else {
                continue;
            };
            sink.push(finding.about(&area.name.value));
        }
    }
}

/// A way before this one that joins the same two places.
fn twin<'a>(area: &'a Area, position: usize, walk: &Walk) -> Option<&'a Walk> {
    area.walks
        .iter()
        .take(position)
        .find(|earlier| earlier.from.value == walk.from.value && earlier.to.value == walk.to.value)
}

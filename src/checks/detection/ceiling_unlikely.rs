//! A ceiling that no house has.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::print;
use crate::words::Screen;

check!("ceiling-unlikely", Basis::Practice, "a level whose ceiling is lower or higher than that of any house");

/// Heights in metres, from a crawl space to the hall of a barn: common practice.
pub(super) const HEIGHTS: std::ops::RangeInclusive<f64> = 0.5..=15.0;

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for level in &site.levels {
        let Some(ceiling) = level.ceiling.filter(|ceiling| !HEIGHTS.contains(&ceiling.0)) else { continue };
        let name = Screen.name(&level.name.value);
        let height = print::height(ceiling, site.lengths);
        sink.push(
            Diagnostic::new(&RULE, level.name.span, format!("the ceiling of level {name} is at {height}"))
                .here(format!("ceiling= is {height}"))
                .why("No house has one so low or so high. Heights on the sheets, and what is said of detectors, are held against it.")
                .help("Look at the unit and the point: write ceiling=(ft)9 for nine feet, ceiling=(m)2.5 for two metres and a half. Or accept this with how it was measured.")
                .about(&level.name.value),
        );
    }
}

//! A board that senses loops, and its part does not say how.

use crate::base::wording::{count, list};
use crate::calc::band::edges;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Part, Sensing, Site};

check!("sensing-missing", Basis::Practice, "a board that senses loops, and its part does not say how");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for part in site.parts.iter().filter(|part| part.whole) {
        let loops = loops_of(site, part);
        let lacks = lacking(part.sensing.as_ref());
        if loops == 0 || lacks.is_empty() {
            continue;
        }
        let span = part.sensing.as_ref().map_or(part.name.span, |sensing| sensing.place.span);
        let finding = Diagnostic::new(&RULE, span, format!("how part `{}` reads a loop is not known", part.name.value))
            .here(format!("without {}", list(&lacks, "and")))
            .why(format!("{} can be calculated in ohms only: what a meter shows with the leads off. Whether the board takes that for normal, for an alarm or for a fault cannot be said, and no alarm or cable fault is checked.", count(loops, "loop", None)))
            .help(format!("Give the part its `sensing`. Look in the sheet for {}.", list(&lacks, "and")))
            .about(&part.name.value);
        sink.push(finding);
    }
}

/// How many loops boards of this part sense.
fn loops_of(site: &Site, part: &Part) -> usize {
    let boards = site.zones.iter().filter_map(|zone| zone.wired.as_ref()?.board.as_ref());
    boards.filter(|board| site.part_of(board.value).is_some_and(|other| other.name == part.name)).count()
}

/// The figures without which no reading can be judged.
fn lacking(sensing: Option<&Sensing>) -> Vec<&'static str> {
    const SUPPLY: &str = "the voltage at an open input";
    const PULL_UP: &str = "the resistor behind it (or the current into a short)";
    const BANDS: &str = "the thresholds between short, normal and open";
    let Some(sensing) = sensing else { return vec![SUPPLY, PULL_UP, BANDS] };
    let in_volts = !sensing.bands.iter().any(|band| edges(band).2);
    let figures = [
        (SUPPLY, in_volts && sensing.supply.is_none()),
        (PULL_UP, in_volts && sensing.pull_up.is_none()),
        (BANDS, sensing.bands.is_empty()),
    ];
    figures.into_iter().filter(|(_, lacks)| *lacks).map(|(figure, _)| figure).collect()
}

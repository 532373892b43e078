//! A board that senses loops, and its part does not say how.

use crate::base::wording::{count, list};
use crate::base::{Id, Span};
use crate::calc::band::edges;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Part, Sensing, Site, Zone};

check!("sensing-missing", Basis::Practice, "a board that senses loops, and its part does not say how");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // A board without inputs reads no loop, which is told of the loop.
    for part in site.parts.iter().filter(|part| part.whole && !part.inputs.is_empty()) {
        // The ways in which its loops are read, each with how many there are.
        let mut read: Vec<(Option<&Sensing>, usize)> = Vec::new();
        for sensing in loops_of(site, part) {
            match read.iter_mut().find(|(known, _)| known.map(place) == sensing.map(place)) {
                Some((_, loops)) => *loops += 1,
                None => read.push((sensing, 1)),
            }
        }
        for (sensing, loops) in read {
            let lacks = lacking(sensing);
            if lacks.is_empty() {
                continue;
            }
            let span = sensing.map_or(part.name.span, place);
            let finding = Diagnostic::new(&RULE, span, format!("how part `{}` reads a loop is not known", part.name.value))
                .here(format!("without {}", list(&lacks, "and")))
                .why(format!("{} can be calculated in ohms only: what a meter shows with the leads off. Whether the board takes that for normal, for an alarm or for a fault cannot be said: no alarm is checked, and of cable faults only those that read as the loop at rest does.", count(loops, "loop", None)))
                .help(format!("Give the part its `sensing`. Look in the sheet for {}.", list(&lacks, "and")))
                .about(&part.name.value);
            sink.push(finding);
        }
    }
}

/// True where it is told of the board of a zone's loop that its part does not say how it senses.
pub(crate) fn is_told(site: &Site, zone: Id<Zone>) -> bool {
    site.zones[zone].wired.is_some() && !lacking(site.sensing_of(zone)).is_empty()
}

fn place(sensing: &Sensing) -> Span {
    sensing.place.span
}

/// How each loop that boards of this part sense is read.
fn loops_of<'s>(site: &'s Site, part: &Part) -> impl Iterator<Item = Option<&'s Sensing>> {
    let board = |zone: &Zone| zone.wired.as_ref().and_then(|wired| site.part_of(wired.board.as_ref()?.value));
    let zones = site.zones.entries().filter(move |(_, zone)| board(zone).is_some_and(|of| of.name == part.name));
    zones.map(|(id, _)| site.sensing_of(id))
}

/// The figures without which no reading can be judged.
fn lacking(sensing: Option<&Sensing>) -> Vec<&'static str> {
    const SUPPLY: &str = "the voltage at an open input (supply=)";
    const PULL_UP: &str = "the resistor behind it, or the current into a short (pull-up=)";
    const BANDS: &str = "the thresholds between short, normal and open (band)";
    let Some(sensing) = sensing else { return vec![SUPPLY, PULL_UP, BANDS] };
    let in_volts = !sensing.bands.iter().any(|band| edges(band).2);
    let figures = [
        (SUPPLY, in_volts && sensing.supply.is_none()),
        (PULL_UP, in_volts && sensing.pull_up.is_none()),
        (BANDS, sensing.bands.is_empty()),
    ];
    figures.into_iter().filter(|(_, lacks)| *lacks).map(|(figure, _)| figure).collect()
}

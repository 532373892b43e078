//! A green-and-yellow conductor that carries something else than the protective earth.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::CableType;
use crate::quantity::Colour;
use crate::terms::WireUse;
use crate::words::{self, Screen};

check!(
    "green-and-yellow-used",
    Basis::Published("IEC 60757:2021, quoted: GNYE is kept for the protective earth"),
    "a green-and-yellow conductor that is not for the earth"
);

/// How many cables a finding points at.
const LISTED: usize = 8;

/// A conductor of a cable type, by its position.
type Conductor = (Id<CableType>, usize);

/// Where it is in use, and what it does there.
type Uses = Vec<(Span, String)>;

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    let mut used: BTreeMap<Conductor, Uses> = BTreeMap::new();
    for cable in &wiring.cables {
        for one in cable.conductors.iter().filter(|one| one.function.wire_use() != WireUse::Reserved) {
            if one.colour.is_some_and(Colour::is_of_the_earth) {
                let does = words::function(site, cable, one);
                let here = (site.runs[one.run].span(), format!("{}: {does}", Screen.name(&cable.label)));
                used.entry((cable.kind, one.position)).or_default().push(here);
            }
        }
    }
    for ((kind, position), places) in used {
        let kind = &site.cables[kind];
        let Some(conductor) = kind.conductors.get(position) else { continue };
        let title = format!("the green-and-yellow conductor of cable `{}` is no earth here", kind.name.value);
        let finding = Diagnostic::new(&RULE, conductor.colour.span, title)
            .here("in use")
            .why("Whoever opens this box in years takes a green-and-yellow conductor for the protective earth: joins it to one, or touches it as such. Then a loop or a supply is on the metal of the house.")
            .help("Leave it free: write for=\"spare\" at this conductor, and no for=\"spare\" at as many others as are needed; where there are too few, take another cable. One that is landed already keeps its place until its `wire` line is taken out of register.kdl.")
            .about(&kind.name.value);
        let more = places.len().saturating_sub(LISTED);
        let finding = places.into_iter().take(LISTED).fold(finding, |finding, (span, does)| finding.also(span, does));
        sink.push(if more > 0 { finding.figure(format!("and {more} more")) } else { finding });
    }
}

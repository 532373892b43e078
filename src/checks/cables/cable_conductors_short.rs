//! A cable with fewer conductors than it must carry.

use crate::base::wording::count;
use crate::base::{Id, Span};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{CableType, Site};
use crate::register::{Cable, TooFew};
use crate::words::{self, Screen};

check!("cable-conductors-short", Basis::Contradiction, "a cable with fewer conductors than it must carry");

fn run(context: Context<'_>, sink: &mut Sink) {
    for short in &context.wiring.too_few {
        if let Some(cable) = context.wiring.cables.get(short.cable) {
            sink.push(finding(context.site, cable, short));
        }
    }
}

fn finding(site: &Site, cable: &Cable, short: &TooFew) -> Diagnostic {
    let run = &site.runs[cable.run];
    let kind = &site.cables[cable.kind];
    let needed = short.needs.len();
    let span = run.cable.as_ref().map_or(run.span(), |written| written.span);
    let title = format!("cable {} has {}, and {needed} are needed", cable.label, count(short.has, "conductor", None));
    let mut finding = Diagnostic::new(&RULE, span, title)
        .here(format!("`{}` has {}", kind.name.value, short.has))
        .why("Someone would stand at the far end with a wire too few in the wall. What a cable carries is what is mounted at its end and all that lies beyond it.");
    for guest in cable.carries.iter().filter(|guest| **guest != cable.run) {
        let guest = &site.runs[*guest];
        let along = guest.along.as_ref().map_or_else(Span::default, |along| along.span);
        finding = finding.also(along, format!("{} shares this cable", Screen.owner(site, guest.owner)));
    }
    let needs: Vec<String> = short.needs.iter().map(|(run, function)| words::pair(site, *run, *function)).collect();
    for (at, what) in needs.iter().enumerate().filter(|(at, what)| !needs.iter().take(*at).any(|told| told == *what)) {
        let conductors = needs.iter().skip(at).filter(|other| *other == what).count();
        finding = finding.figure(format!("{what}: {}", count(conductors, "conductor", None)));
    }
    let help = match enough(site, cable.kind, needed) {
        Some(other) => format!("Take `{}`, which has {}.", other.name.value, other.count.value),
        None => format!("Define a cable type with at least {needed} conductors, or pull a second cable."),
    };
    about::owner(site, run.owner, finding.help(help).about(&cable.label))
}

/// The type with the fewest conductors that are enough, of the same size and jacket if there is one.
fn enough(site: &Site, kind: Id<CableType>, needed: usize) -> Option<&CableType> {
    let short = &site.cables[kind];
    site.cables
        .iter()
        .filter(|other| other.count.value as usize >= needed)
        .min_by_key(|other| (other.size != short.size, other.jacket != short.jacket, other.count.value))
}

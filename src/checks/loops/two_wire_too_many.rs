//! More two-wire detectors than an input feeds, by current at rest or by the board's list.

use crate::base::Id;
use crate::base::wording::count;
use crate::checks::Context;
use crate::checks::loops::two_wire::{self, Fed};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Device;
use crate::quantity::Amperes;

check!("two-wire-too-many", Basis::Contradiction, "more two-wire detectors than an input feeds");

fn run(context: Context<'_>, sink: &mut Sink) {
    for fed in two_wire::fed(context) {
        if let Some(idle) = two_wire::too_much(&fed) {
            sink.push(current(context, &fed, idle));
        } else if let Some((alike, most)) = two_wire::too_many(&fed) {
            let (number, of_kind) = (fed.known.zone.number.value, count(alike.len(), "detector", None));
            let title = format!("zone {number} has {of_kind} of a kind on an input that takes {most}");
            sink.push(told(context, &fed, title, (&alike, most as usize)));
        }
    }
}

fn current(context: Context<'_>, fed: &Fed<'_>, idle: Amperes) -> Diagnostic {
    let number = fed.known.zone.number.value;
    let limit = fed.feed.limit.as_ref().map_or(Amperes(0.0), |limit| limit.value);
    let mut left = limit.0;
    // As many as fit, in the order of the loop.
    let fit = fed.detectors.iter().take_while(|(_, sheet)| {
        left -= sheet.idle.0;
        left >= -limit.0 * 1e-9
    });
    let fit = fit.count();
    let all: Vec<Id<Device>> = fed.detectors.iter().map(|(id, _)| *id).collect();
    let title = format!("the detectors of zone {number} take {idle} at rest, and its input feeds {limit}");
    let one = fed.detectors.first().map_or(Amperes(0.0), |(_, sheet)| sheet.idle);
    if fit == 0 {
        // One alone is too much: a figure in the wrong unit, or detectors that the input is not made for.
        let finding = told(context, fed, title, (&all, fit));
        let finding = fed
            .detectors
            .first()
            .iter()
            .fold(finding, |finding, (_, sheet)| finding.also(sheet.place.span, "idle= by the detector's sheet"));
        return finding.help(format!("One alone takes {one} at rest, and the input feeds {limit}: hold idle= of the detector's part and limit= of the board's against the sheets. A two-wire detector mostly takes microamperes (µA) at rest."));
    }
    told(context, fed, title, (&all, fit))
}

/// The finding, with those of some detectors labelled that are more than fit.
fn told(context: Context<'_>, fed: &Fed<'_>, title: String, (some, fit): (&[Id<Device>], usize)) -> Diagnostic {
    let site = context.site;
    let over = some.iter().skip(fit).map(|id| site.devices[*id].span());
    let left = fed.detectors.len() + fit - some.len();
    let finding = Diagnostic::new(&RULE, fed.known.wired.place.span, title)
        .here(count(fed.detectors.len(), "two-wire detector", None))
        .also(fed.feed.span(), "what the input feeds, by the board's sheet")
        .why("Every detector takes a little from the loop at rest. With too many the loop has too few volts for the last of them, and a detector in alarm may not pull it down far enough.")
        .help(format!("Leave {} on it, and give the others a zone and an input of their own.", count(left, "detector", None)))
        .about(fed.known.zone.number.value);
    if fit == 0 { finding } else { over.fold(finding, |finding, span| finding.also(span, "too many")) }
}

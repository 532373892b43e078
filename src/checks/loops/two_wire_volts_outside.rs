//! A two-wire detector that may get too few volts, or too many.

use crate::calc::State;
use crate::calc::two_wire as calc;
use crate::checks::Context;
use crate::checks::loops::two_wire;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::{self, Screen};

check!("two-wire-volts-outside", Basis::Contradiction, "a two-wire detector that may get too few volts, or too many");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for fed in two_wire::fed(context) {
        let Some(readings) = context.loops.get(&fed.zone) else { continue };
        let counted = two_wire::too_much(&fed).is_some() || two_wire::too_many(&fed).is_some();
        let foreign = !two_wire::foreign(site, &fed).is_empty();
        // Each of these is told by itself, and changes the volts.
        if counted || foreign || !two_wire::other_resistors(site, &fed).is_empty() {
            continue;
        }
        let outside = two_wire::outside(site, readings, &fed);
        let Some((first, sheet, volts)) = outside.first() else { continue };
        let number = fed.known.zone.number.value;
        let few = volts.least < sheet.min.0;
        let (has, limit) = if few {
            (format!("may have only {}", words::volts(volts.least)), format!("works from {}", sheet.min))
        } else {
            let max = sheet.max.map(|max| max.to_string()).unwrap_or_default();
            (format!("may have {}", words::volts(volts.greatest)), format!("withstands {max} at most"))
        };
        let title = format!("{} of zone {number} {has} at rest, and {limit}", Screen.device(site, *first));
        let help = if few {
            "Take fewer detectors on this input, a thicker cable, or detectors that work from fewer volts."
        } else {
            "Take detectors that stand the board's volts: the board's list names them."
        };
        let mut finding = Diagnostic::new(&RULE, site.devices[*first].span(), title)
            .here(limit)
            .also(sheet.place.span, "the detector's sheet")
            .also(fed.feed.span(), "the board's sheet")
            .why("Below its least voltage a detector does not see, and nothing on the board tells; above its greatest it fails.")
            .help(help)
            .about(number);
        for (id, _, volts) in outside.iter().skip(1) {
            finding = finding.also(site.devices[*id].span(), words::bounds(&[*volts], words::volts));
        }
        if let Some(taken) = calc::taken(site, fed.zone, State::Normal) {
            finding = finding.figure(format!("the loop takes up to {taken} at rest"));
        }
        sink.push(finding.figure(format!(
            "at {}: {}",
            Screen.device(site, *first),
            words::bounds(&[*volts], words::volts)
        )));
    }
}

//! Wraps that do not go around a cable and over their print.

use std::collections::BTreeSet;

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::labels::sheet;
use crate::words::Screen;

check!("wrap-too-short", Basis::Practice, "a wrap label that does not cover its print");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    let Some(said) = &site.label_sheet else { return };
    let grid = sheet::grid(site);
    let Some(printed) = grid.printed.filter(|_| sheet::overlap(&grid).is_none()) else { return };
    let kinds: BTreeSet<_> = wiring.cables.iter().map(|cable| cable.kind).collect();
    for kind in kinds.into_iter().map(|kind| &site.cables[kind]) {
        let Some(diameter) = kind.diameter else { continue };
        let needed = sheet::wrap_needed(printed, diameter);
        if needed <= grid.label.height {
            continue;
        }
        let title = format!(
            "a wrap of {} mm does not go around {} and over its print",
            grid.label.height,
            Screen.name(&kind.name.value)
        );
        sink.push(
            Diagnostic::new(&RULE, said.span, title)
                .here(format!("{needed:.1} mm are wanted"))
                .also(kind.name.span, "its diameter is given here")
                .why("The clear tail of a wrap goes once around the cable and then over the print: its height is at least π times the diameter plus the printed zone. Where it ends on the print, that rubs off.")
                .help(format!("Take wraps of {needed:.0} mm or more for this cable, or such with a lower printed zone."))
                .about(&kind.name.value),
        );
    }
}

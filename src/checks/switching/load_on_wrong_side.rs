//! A load switched on the side that it has joined to something else.

use crate::checks::switching::hung::switched;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::SwitchedSide;
use crate::words::Screen;

check!("load-on-wrong-side", Basis::Contradiction, "a load switched on the side that must stay on its supply");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for one in switched(site).filter(|one| !one.switching.dry) {
        let side = one.switch.side();
        for hung in one.hung(site) {
            let Some(part) = hung.part(site) else { continue };
            if part.supply.as_ref().and_then(|need| need.common) != Some(side) {
                continue;
            }
            let other = match side {
                SwitchedSide::Plus => SwitchedSide::Minus,
                SwitchedSide::Minus => SwitchedSide::Plus,
            };
            let title = format!(
                "{} switches the {} of {}, which must stay on its supply",
                Screen.switch(site, one.of),
                side.printed(),
                Screen.consumer(site, hung.consumer)
            );
            let finding = Diagnostic::new(&RULE, hung.span, title)
                .here(format!("its {} is joined to others or to the housing", side.printed()))
                .also(one.span(), format!("switches the {}", side.printed()))
                .also(part.name.span, "its sheet")
                .why("The side that is joined inside has a way of its own to the supply, past whatever switches it here: the load stays on for ever, or the switch is shorted.")
                .help(format!(
                    "Put it on an output of the board that switches the {}, or take a load whose sides are both free.",
                    other.printed()
                ));
            sink.push(about::consumer(site, hung.consumer, finding));
        }
    }
}

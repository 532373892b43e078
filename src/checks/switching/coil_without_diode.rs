//! A coil without a diode across it.

use crate::checks::switching::hung::switched;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("coil-without-diode", Basis::Practice, "a coil on a relay or transistor without a diode across it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for one in switched(site) {
        for hung in one.hung(site).into_iter().filter(|hung| hung.bare_coil) {
            let what = if one.switch.common().is_some() {
                "burns the contact a little each time, and reaches loops and bus beside it"
            } else {
                "kills a transistor the first time"
            };
            let title = format!("no diode stands across the coil of {}", Screen.consumer(site, hung.consumer));
            let finding = Diagnostic::new(&RULE, hung.span, title)
                .here("a coil, with no diode")
                .also(one.span(), format!("switched by this {}", one.switch.noun()))
                .why(format!("A coil that is switched off gives its energy back as a burst of some hundred volts. It {what} (common practice)."))
                .help("Fit a diode across the coil, at the coil, its banded end to the plus, and write diode=#true. Where the coil has one built in, write that in the `supply` or `own-supply` of its part.");
            sink.push(about::consumer(site, hung.consumer, finding));
        }
    }
}

//! A relay or transistor of which nobody says what drives it.

use crate::checks::switching::hung::switched;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::words::Screen;

check!("switch-without-drive", Basis::Works, "a relay or transistor of which nobody says what drives it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // A drive that could not be read was reported.
    for one in switched(site).filter(|one| one.switching.drives.is_empty() && site.sound) {
        let title = format!(
            "nothing drives {}, which switches {}",
            Screen.switch(site, one.of),
            Screen.owner(site, Owner::Circuit(one.id))
        );
        let finding = Diagnostic::new(&RULE, one.span(), title)
            .here("by what?")
            .also(one.circuit.name.span, "without a `drive`")
            .why("Whoever programs the panel must know when it is to switch, and whoever tries it what must happen. Until then its loads are counted as if they were always on.")
            .help("Add a `drive` to the circuit: drive \"alarm\", or whatever is to switch it.");
        sink.push(about::owner(site, Owner::Circuit(one.id), finding));
    }
}

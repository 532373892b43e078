//! A relay or transistor that two circuits have driven by different events.

use crate::checks::switching::hung::{Switched, switched};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Owner, Switching};
use crate::words::{self, Screen};

check!("switch-driven-differently", Basis::Contradiction, "a relay that two circuits have driven by different events");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut all: Vec<Switched<'_>> = switched(site).filter(|one| !one.switching.drives.is_empty()).collect();
    all.sort_by_key(|one| one.of);
    for of_one in all.chunk_by(|one, other| one.of == other.of) {
        let [first, others @ ..] = of_one else { continue };
        let Some(other) = others.iter().find(|other| !are_alike(other.switching, first.switching)) else { continue };
        let title = format!(
            "{} is driven by {} in one circuit and by {} in another",
            Screen.switch(site, first.of),
            words::drives(site, first.switching),
            words::drives(site, other.switching)
        );
        let finding = Diagnostic::new(&RULE, other.span(), title)
            .here(format!("driven by {}", words::drives(site, other.switching)))
            .also(first.span(), format!("driven by {}", words::drives(site, first.switching)))
            .why("It has one coil, or one output of the board: what drives it moves both circuits. The currents and the battery were reckoned as if each went by itself.")
            .help("Give both circuits the same `drive`, or one of them another relay.");
        let finding = about::owner(site, Owner::Circuit(first.id), finding);
        sink.push(about::owner(site, Owner::Circuit(other.id), finding));
    }
}

/// True where the same events drive both, in whatever order they are written.
fn are_alike(one: &Switching, other: &Switching) -> bool {
    let within = |one: &Switching, other: &Switching| one.drives.iter().all(|drive| other.drives.contains(drive));
    within(one, other) && within(other, one)
}

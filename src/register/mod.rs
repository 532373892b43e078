//! Labels and landings: which text stands on each cable, and which conductor lands on which terminal.
//!
//! Everything is proposed here from the spec alone, in canonical order, so that the same spec always gives the
//! same wiring. Keeping what is in the wall over remodels (`register.kdl`: labels and landings given once and
//! then kept) belongs here as well and takes precedence over a proposal; it is not built yet.
//!
//! Terms: a *cable* is what is pulled, from its near end (towards the board) to its far end. A *guest* is a run
//! that shares another run's cable. A *link* is a short wire inside an enclosure. Out of scope: verdicts (those
//! are `checks`), so what does not fit is recorded as a fault and nothing more.

pub mod conductors;
pub mod demand;
pub mod inputs;
pub mod labels;
pub mod landings;
pub mod wiring;

pub use wiring::{Cable, ConductorUse, Fitted, Function, Inputs, OnTerminal, Point, TooFew, Wiring};

use crate::model::Site;

/// Proposes labels and landings for a site.
pub fn propose(site: &Site) -> Wiring {
    let mut wiring = Wiring { inputs: inputs::allocate(site), ..Wiring::default() };
    let labels = labels::propose(site);
    for (run, item) in site.runs.entries().filter(|(_, run)| !run.along_written) {
        let Some(kind) = &item.cable else { continue };
        let guests =
            site.runs.entries().filter(|(_, guest)| guest.along.as_ref().is_some_and(|host| host.value == run));
        let carries = std::iter::once(run).chain(guests.map(|(id, _)| id)).collect();
        let label = labels.get(&run).cloned().unwrap_or_default();
        wiring.cables.push(Cable { run, kind: kind.value, label, carries, conductors: Vec::new(), spare: Vec::new() });
    }
    conductors::allocate(site, &mut wiring);
    landings::land(site, &mut wiring);
    wiring
}

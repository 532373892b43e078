//! Labels and landings: which text stands on each cable, and which conductor lands on which terminal.
//!
//! What is in the wall is in the [`Register`] and stays as it is: a cable keeps its label and its conductors their
//! functions and terminals for as long as the spec has it, wherever its node stands. What the spec says in so many words
//! (`label=`, `input=`) is followed and noted. Everything new is proposed in canonical order, from what is free, so that
//! the same spec and register always give the same wiring. A cable that the spec no longer has is dead: it keeps its
//! label for ever, and its terminals until somebody writes that it is off them.
//!
//! Terms: a *cable* is what is pulled, from its near end (towards the board) to its far end. A *guest* is a run
//! that shares another run's cable. A *link* is a short wire inside an enclosure. Out of scope: verdicts (those
//! are `checks` and `register_file`), so what does not fit is recorded as a fault and nothing more.

pub(crate) mod conductors;
pub(crate) mod dead;
pub(crate) mod demand;
pub(crate) mod enter;
pub(crate) mod entry;
pub(crate) mod features;
pub(crate) mod inputs;
pub(crate) mod labels;
pub(crate) mod landings;
mod leads;
mod missing;
pub(crate) mod notice;
pub(crate) mod owner;
pub(crate) mod place;
pub(crate) mod recognise;
pub(crate) mod recognised;
pub(crate) mod shields;
mod supplies;
mod undone;
pub(crate) mod wiring;

pub use dead::{DeadCable, DeadConductor};
pub use entry::{CableEntry, InputEntry, Known, Landing, Mounting, Register, State, Wire};
pub(crate) use notice::Notice;
pub(crate) use owner::OwnerName;
pub(crate) use place::{End, Place};
pub use wiring::{Cable, ConductorUse, Fitted, FittedKind, Function, Lead, OnTerminal, Point, TooFew, Wiring};
pub(crate) use wiring::{ShieldEnd, ShieldLanding};

use std::collections::BTreeMap;

use crate::base::Id;
use crate::model::{Run, Site};
use recognised::Recognised;

/// A site's wiring with its register kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kept {
    /// Labels and landings of everything in the spec.
    pub wiring: Wiring,
    /// The register's next state. Only that of a site without errors may be written.
    pub register: Register,
    /// What moves, and what contradicts.
    pub(crate) notices: Vec<Notice>,
}

/// Gives a site its labels and landings: those of its register, and new ones for what is new.
pub fn keep(site: &Site, register: &Register) -> Kept {
    let mut notices = Vec::new();
    let register = &undone::undone(site, register, &mut notices);
    let known = Recognised::new(site, register, &mut notices);
    missing::note(site, &known, &mut notices);
    let inputs = inputs::allocate(site, &known, &mut notices);
    let mut wiring = Wiring { inputs, ..Wiring::default() };
    let labels = labels::give(site, &known, &mut notices);
    let mut guests: BTreeMap<Id<Run>, Vec<Id<Run>>> = BTreeMap::new();
    for (guest, run) in site.runs.entries() {
        if let Some(host) = &run.along {
            guests.entry(host.value).or_default().push(guest);
        }
    }
    for (run, item) in site.runs.entries().filter(|(_, run)| !run.along_written) {
        let Some(kind) = &item.cable else { continue };
        let carries: Vec<Id<Run>> = std::iter::once(run).chain(guests.remove(&run).into_iter().flatten()).collect();
        wiring.cable_of.extend(carries.iter().map(|run| (*run, wiring.cables.len())));
        let label = labels.get(&run).cloned().unwrap_or_default();
        wiring.cables.push(Cable {
            run,
            kind: kind.value,
            label,
            carries,
            conductors: Vec::new(),
            spare: Vec::new(),
            shield: None,
        });
    }
    let landed = conductors::allocate(site, &known, &mut wiring);
    landings::land(site, &known, &landed, &mut wiring);
    shields::land(site, &mut wiring);
    leads::connect(site, &mut wiring);
    let next = enter::enter(site, &known, &wiring);
    enter::note_changes(site, &known, &next, &wiring, &mut notices);
    wiring.dead = dead::of(site, &next);
    wiring.given = next.labels().map(str::to_owned).collect();
    Kept { wiring, register: next, notices }
}

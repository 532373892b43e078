//! Cables that are again what they were before another took their place on paper: the other was never pulled.

use super::Sides;
use super::cables::{Ends, ends};
use super::place::Places;
use crate::diff::{Kind, Subject, was_dead};
use crate::register::{Cable, DeadCable};

/// The dead cable that a cable of the new site was.
pub(super) fn dead_before<'s>(sides: &Sides<'s>, is: &Cable) -> Option<&'s DeadCable> {
    let subject = Subject::new(Kind::Cable, is.label.as_str());
    was_dead(&sides.found.diff, sides.old, sides.new, &subject)
}

/// The two ends of a cable that took the place of another on paper, which is used again: the register takes it as never pulled, and
/// only who is there can see whether it was.
pub(super) fn steps(sides: &Sides<'_>, was: &Cable, places: &mut Places) {
    let site = &sides.old.site;
    let Ends { near, near_words, far, far_words, .. } = ends(site, &sides.old_labels, was);
    let label = &was.label;
    for (room, other, here) in [(near, &far_words, format!(" at {near_words}")), (far, &near_words, String::new())] {
        let text = format!(
            "{label}{here}: register.kdl takes the cable that was to go from {near_words} to {far_words} as never pulled. See that no cable to {other} is here; if one is, take it off, cap it and mark this end DEAD"
        );
        places.add(site, room, "remove", text);
    }
}

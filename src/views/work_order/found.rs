//! Steps for a cable that was in the wall before and is used: found by its two ends, off where one of them is no longer.

use super::cables::{Ends, ends, landed_at, lift_again, lifted};
use super::place::{Found, Places, in_room};
use super::{Sides, devices, exchanged, landings, resistors, undone};
use crate::diff::{Change, STARTS_IN};
use crate::record::fact;
use crate::register::{Cable, End};

/// The end of a cable that is used again, where that is no longer: nothing of it stays on a terminal there. Then the ends that stay
/// as they are landed.
pub(super) fn leave(sides: &Sides<'_>, change: &Change, was: &Cable, is: &Cable, places: &mut Places) -> Vec<End> {
    let site = &sides.old.site;
    let before = ends(site, &sides.old_labels, was);
    let now = ends(&sides.new.site, &sides.new_labels, is);
    let label = &was.label;
    let rest = "from now on: what is left of it here is capped and marked, or comes out";
    let mut stay = Vec::new();
    if change.field(STARTS_IN).is_some() {
        let (off, new) = (lifted(site, was, &before.near_words), in_room(&sides.new.site, now.near));
        let text = format!(
            "{label} (to {}) at {}: {off}; it starts{new}, at {}, {rest}",
            before.far_words, before.near_words, now.near_words
        );
        places.add(site, before.near, "remove", text);
    } else if !exchanged::is_on_one(sides, is, End::Near) {
        if landed_at(sides.old, was, End::Near, &before.near_words)
            == landed_at(sides.new, is, End::Near, &now.near_words)
        {
            stay.push(End::Near);
        } else {
            lift_again(sides, was, &before, places);
        }
    }
    if change.field(fact::Place::room).is_some() {
        let new = in_room(&sides.new.site, now.far);
        let again = resistors::again(sides, was, is, places);
        let text = format!(
            "{label} (from {}): take it off here{again}; it ends{new}, at {}, {rest}",
            before.near_words, now.far_words
        );
        places.add(site, before.far, "remove", text);
    } else if !exchanged::is_on_one(sides, is, End::Far)
        && landed_at(sides.old, was, End::Far, "") == landed_at(sides.new, is, End::Far, "")
    {
        // A device that is exchanged is told with its cables; those that are landed as a whole tell it themselves.
        let devices = devices::exchanged(sides, false);
        let is_told = is
            .conductors
            .iter()
            .any(|used| landings::stands_at_one(&sides.new.site, used.run, End::Far, devices.iter().copied()));
        stay.extend((!is_told).then_some(End::Far));
    }
    stay
}

/// The steps for a cable that was in the wall before: it is found by its two ends and gets its label. One that was dead has it.
pub(super) fn take_over(sides: &Sides<'_>, cable: &Cable, places: &mut Places) {
    let site = &sides.new.site;
    let Ends { near, near_line, far, far_line, .. } = ends(site, &sides.new_labels, cable);
    let (label, kind) = (&cable.label, site.cables[cable.kind].described());
    if let Some(dead) = undone::dead_before(sides, cable) {
        let landed = if dead.off { "" } else { ", perhaps still on its terminals" };
        let called = if dead.label == *label { String::new() } else { format!(", labelled {label} or {}", dead.label) };
        let found = format!(
            "{label} is in the wall, dead until now ({kind}){called}{landed}: find its two ends with a meter, take DEAD off its labels and connect it again"
        );
        let again = format!("{label}, the cable that was dead: connect it again");
        let end = |room, line: &str| Found {
            room,
            first: format!("{found}; {label} on this end, {line}"),
            second: format!("{again}; its label on this end, {line}"),
        };
        if far_line.is_empty() {
            return places.add(site, near, "inspect", end(near, &near_line).first);
        }
        return places.find(site, [end(near, &near_line), end(far, &far_line)]);
    }
    if far_line.is_empty() {
        let text = format!(
            "{label}, in the wall already ({kind}): its far end was not found; {label} on this end, {near_line}"
        );
        return places.add(site, near, "inspect", text);
    }
    let found =
        format!("{label}, in the wall already ({kind}): identify both its ends with a meter before you cut or land it");
    let end = |room, line: &str| Found {
        room,
        first: format!("{found}; {label} on this end, {line}"),
        second: format!("{label}, once both its ends are identified: its label on this end, {line}"),
    };
    places.find(site, [end(near, &near_line), end(far, &far_line)]);
}

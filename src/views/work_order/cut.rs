//! Steps for a cable that is cut where it lies: both pieces, or the one towards the board, stay on their screws, and the new ends
//! get labels and are landed.

use super::cables::{Ends, ends, hole, landed_at, lift_again, retired};
use super::landings::stands_at_one;
use super::place::{Places, Stage};
use super::{Sides, devices, exchanged, resistors};
use crate::diff::Cut;
use crate::model::Site;
use crate::register::{Cable, End};
use crate::words::Paper;

/// Whether a cable is a piece of one that is cut.
pub(super) fn is_piece(sides: &Sides<'_>, cable: &Cable) -> bool {
    is_kept(sides, cable, End::Near) || is_kept(sides, cable, End::Far)
}

/// Whether an end of a cable is the end that a cut cable keeps: it stays where it was.
pub(super) fn is_kept(sides: &Sides<'_>, cable: &Cable, end: End) -> bool {
    sides.found.cuts.iter().any(|cut| match end {
        End::Near => cut.near == cable.label,
        End::Far => cut.far_stays && cut.far == cable.label,
    })
}

/// Adds the steps of every cut; those of another cable in place of the piece that goes are told like any other's.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    for cut in &sides.found.cuts {
        let was = sides.old_keys.cable(sides.old, &cut.was);
        let near = sides.new_keys.cable(sides.new, &cut.near);
        let far = sides.new_keys.cable(sides.new, &cut.far);
        if let (Some(was), Some(near), Some(far)) = (was, near, far) {
            one(sides, cut, [was, near, far], places);
            resistors::of_cable(sides, (Some(was), Some(far)), places);
        }
    }
}

fn one(sides: &Sides<'_>, cut: &Cut, [was, near, far]: [&Cable; 3], places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let before = ends(old, &sides.old_labels, was);
    let [piece, rest] = [near, far].map(|cable| ends(new, &sides.new_labels, cable));
    let label = &was.label;
    let at = new.ends_in(near.run).map(|board| format!(" at {}", Paper.board(new, board))).unwrap_or_default();
    let text = format!(
        "{label} (from {} to {}): find it here with a meter, and cut it{at}",
        before.near_words, before.far_words
    );
    places.add_at(Stage::Cut, new, piece.far, "remove", text);
    let towards = |cable: &Cable, there: &str, line: &str| {
        format!("{} on the end of the piece of {label} towards {there}, {line}", cable.label)
    };
    places.add_at(Stage::Cut, new, piece.far, "label", towards(near, &piece.near_words, &piece.far_line));
    stays(sides, (was, near), (&before, &piece), End::Near, places);
    land(sides, near, End::Far, &piece, places);
    if cut.far_stays {
        places.add_at(Stage::Cut, new, rest.near, "label", towards(far, &rest.far_words, &rest.near_line));
        stays(sides, (was, far), (&before, &rest), End::Far, places);
        land(sides, far, End::Near, &rest, places);
        return;
    }
    let called = if was.label == far.label { retired(sides, was, far) } else { None };
    let dead = match called {
        Some(called) => format!("change the label on this end to {called}, second line DEAD"),
        None => "mark this end DEAD below its label".to_owned(),
    };
    let text = format!(
        "{label}, the old piece (from the cut{at}): take it off here; if it stays in the wall, cap it and {dead}"
    );
    places.add(old, before.far, "remove", text);
    let hole = hole(old, was);
    places.pull_out(format!("{label}, the old piece, from the cut{at} to {}{hole}", before.far_words));
}

/// The end of a piece that stays where it was: its label, and its landing where that is another now.
fn stays(sides: &Sides<'_>, (was, is): (&Cable, &Cable), (before, now): (&Ends, &Ends), end: End, places: &mut Places) {
    let side = |ends: &Ends| match end {
        End::Near => (ends.near, ends.near_line.clone(), format!(" at {}", ends.near_words)),
        End::Far => (ends.far, ends.far_line.clone(), String::new()),
    };
    let ((_, had, _), (room, line, here)) = (side(before), side(now));
    let site = &sides.new.site;
    if was.label != is.label {
        places.add(site, room, "label", format!("{} becomes {}: change the label{here}, {line}", was.label, is.label));
    } else if had != line {
        places.add(site, room, "label", format!("change the label of {}{here}: {line}, until now {had}", is.label));
    }
    // A device that is exchanged tells all that lands on it.
    let devices = devices::exchanged(sides, false);
    if is.conductors.iter().any(|used| stands_at_one(site, used.run, end, devices.iter().copied())) {
        return;
    }
    let landed = landed_at(sides.new, is, end, &now.near_words);
    let until_now = landed_at(sides.old, was, end, &before.near_words);
    let board = |site: &Site, cable: &Cable| site.start_board(cable.run).filter(|_| end == End::Near);
    let (from, to) = (board(&sides.old.site, was), board(site, is));
    let is_other = from != to.and_then(|to| sides.board_before(to));
    // Off a board that is exchanged it is lifted with that.
    let is_lifted = if is_other {
        from.is_some_and(|was| sides.exchanged.has(was, true))
    } else {
        exchanged::is_on_one(sides, is, end)
    };
    if landed.is_empty() || !(is_lifted || is_other || landed != until_now) {
        return;
    }
    if from.is_some() && !is_lifted {
        lift_again(sides, was, before, places);
    }
    let until_now = if from.is_some() || is_lifted { String::new() } else { format!(". Until now: {until_now}") };
    places.add(site, room, "land", format!("{}{here}: {landed}{until_now}", is.label));
}

/// The landing of an end that is new.
fn land(sides: &Sides<'_>, cable: &Cable, end: End, ends: &Ends, places: &mut Places) {
    let (room, here) = match end {
        End::Near => (ends.near, format!(" at {}", ends.near_words)),
        End::Far => (ends.far, String::new()),
    };
    let landed = landed_at(sides.new, cable, end, &ends.near_words);
    if !landed.is_empty() {
        places.add(&sides.new.site, room, "land", format!("{}{here}: {landed}", cable.label));
    }
}

//! Steps for joints that are made otherwise now: crimped until now, soldered from now on.

use super::Sides;
use super::landings::staying;
use super::place::Places;
use crate::base::Id;
use crate::model::{Run, Site};
use crate::register::Cable;
use crate::words::Paper;

/// The cables that stay and whose joints at their ends are made otherwise now, as they were and as they are.
pub(super) fn remade<'s>(sides: &Sides<'s>) -> Vec<(&'s Cable, &'s Cable)> {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let is_other = |(was, is): &(&Cable, &Cable)| {
        let how = (old.joining(was.run), new.joining(is.run));
        let is_joined = !old.runs[was.run].after.is_empty() && !new.runs[is.run].after.is_empty();
        is_joined && matches!(how, (Some(before), Some(now)) if before != now)
    };
    staying(sides).into_iter().filter(is_other).collect()
}

/// A run, and those that it is joined to at its end.
pub(super) fn through(site: &Site, run: Id<Run>) -> Vec<Id<Run>> {
    std::iter::once(run).chain(site.runs_after(run).map(|(after, _)| after)).collect()
}

/// Adds a step for each such cable.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let site = &sides.new.site;
    for (was, is) in remade(sides) {
        let how = (sides.old.site.joining(was.run), site.joining(is.run));
        let (Some(board), (Some(before), Some(now))) = (site.ends_in(is.run), how) else { continue };
        let (label, board) = (&is.label, Paper.board(site, board));
        let (before, now) = (before.printed(), now.printed());
        let text = format!("{label} in {board}: make each of its joints there again, {now}; until now {before}");
        places.add(site, site.runs[is.run].room, "land", text);
    }
}

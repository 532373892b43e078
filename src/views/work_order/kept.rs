//! Marks on the conductors of cables that stay: what is kept for later, or no longer.

use std::collections::BTreeMap;

use super::Sides;
use super::cables::ends;
use super::landings::staying;
use super::place::Places;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::register::Cable;
use crate::words;

/// Adds a step at both ends of each cable that stays, for what its conductors are kept for. A mark moves no conductor.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let site = &sides.new.site;
    for (was, is) in staying(sides) {
        let (before, now) = (kept(sides.old, was), kept(sides.new, is));
        // What is kept for: conductors; of those that are kept no longer, none.
        let mut marks: BTreeMap<Option<&str>, Vec<usize>> = BTreeMap::new();
        for (position, what) in now.iter().filter(|(position, what)| before.get(position) != Some(what)) {
            marks.entry(Some(what)).or_default().push(*position);
        }
        let spare = |position: &&usize| !now.contains_key(position) && is.spare.contains(position);
        for position in before.keys().filter(spare) {
            marks.entry(None).or_default().push(*position);
        }
        let at = ends(site, &sides.new_labels, is);
        for (what, positions) in marks {
            let names: Vec<String> = positions.iter().map(|at| words::conductor(site, is, *at)).collect();
            let state = match what {
                Some(what) => format!("kept for {what} from now on"),
                None => "spare from now on".to_owned(),
            };
            let names = list(&names, "and");
            for (room, end) in at.in_rooms() {
                places.add(site, room, "check", format!("{}: park and mark {names} on {end}, {state}", is.label));
            }
        }
    }
}

/// Conductors that are kept for later, by position, with what for.
fn kept(compiled: &Compiled, cable: &Cable) -> BTreeMap<usize, String> {
    let kept = cable
        .conductors
        .iter()
        .filter_map(|used| Some((used.position, used.function.kept_for(&compiled.site, used.run)?)));
    kept.collect()
}

//! Steps for cables that stay, and whose conductors are written down in other colours.

use std::collections::BTreeSet;

use super::Sides;
use super::landings::staying;
use super::place::Places;
use crate::diff::facts::nested::COLOUR;
use crate::diff::{Change, Kind, Subject};
use crate::words;

/// A step for each cable that stays and has conductors of other colours now, by what is written: none was exchanged in the wall.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let is_other = |change: &Change| change.field(COLOUR).is_some();
    let of = |change: &Change| change.new.as_ref().and_then(|(_, thing)| thing.of.clone());
    let others: BTreeSet<Subject> =
        sides.changes(Kind::Conductor).filter(|change| is_other(change)).filter_map(of).collect();
    for (was, is) in staying(sides) {
        if !others.contains(&Subject::new(Kind::Cable, is.label.as_str())) {
            continue;
        }
        let each = is.conductors.iter().filter_map(|used| {
            let had = was.conductors.iter().find(|had| had.position == used.position)?;
            let [had, has] = [(old, was, had), (new, is, used)]
                .map(|(site, of, used)| words::conductor_mark(site, of, used.position));
            (had != has).then(|| format!("{has} where {had} was"))
        });
        let each: Vec<String> = each.collect();
        if !each.is_empty() {
            let text = format!(
                "{}: its conductors are written down in other colours: {}; see at both ends which is which, and land them as the terminal schedule has it",
                is.label,
                each.join(", ")
            );
            places.add(new, new.start_room(is.run), "check", text);
        }
    }
}

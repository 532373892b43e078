//! Marks by which the loop sheet and the loop figures link to each other: made of numbers alone, so that no name in a
//! spec can change where a link leads.

/// How many states of a loop the loop figures unfold; of more, `loopwright why` tells the rest.
pub(crate) const MOST_STATES: usize = 60;

/// The place of a zone on a page: "zone-7".
pub(crate) fn zone(number: u32) -> String {
    format!("zone-{number}")
}

/// The place of a state's row among the loop figures, by its position in the readings: "zone-7-s1"; the zone's place
/// where the state has no row.
pub(crate) fn state(number: u32, position: usize) -> String {
    if position < MOST_STATES { format!("{}-s{}", zone(number), position + 1) } else { zone(number) }
}

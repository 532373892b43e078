//! Marks by which the terminal schedule and the drawings of enclosures and devices link to each other: made of numbers
//! alone, so that no name in a spec can change where a link leads.
//!
//! A board has the number of its place in the order of the schedule, from 1; a row that of its place in its table.

/// A row of the table of terminals: "board-2-7".
pub(crate) fn row(board: usize, nth: usize) -> String {
    format!("board-{board}-{}", nth + 1)
}

/// A joint of a series loop: "board-2-joint-1".
pub(crate) fn joint(board: usize, nth: usize) -> String {
    of(board, "joint", nth)
}

/// A row of what is joined in the enclosure: "board-2-end-1".
pub(crate) fn end(board: usize, nth: usize) -> String {
    of(board, "end", nth)
}

/// The spare conductors of a cable: "board-2-spare-1".
pub(crate) fn spare(board: usize, nth: usize) -> String {
    of(board, "spare", nth)
}

/// A dead cable: "board-2-dead-1".
pub(crate) fn dead(board: usize, nth: usize) -> String {
    of(board, "dead", nth)
}

/// A row of a room, which has the number of its place on the schedule: "room-3-1".
pub(crate) fn room(room: usize, nth: usize) -> String {
    format!("room-{room}-{}", nth + 1)
}

fn of(board: usize, what: &str, nth: usize) -> String {
    format!("board-{board}-{what}-{}", nth + 1)
}

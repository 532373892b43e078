//! Inputs of boards by the number that is printed there.

use crate::base::Id;

use super::board::Board;
use super::part::{Input, Part};
use super::site::Site;

impl Part {
    /// The input of that number.
    pub(crate) fn input(&self, number: u32) -> Option<&Input> {
        self.inputs.iter().find(|input| input.number.value == number)
    }
}

impl Site {
    /// The input of that number on a board.
    pub(crate) fn input(&self, board: Id<Board>, number: u32) -> Option<&Input> {
        self.part_of(board)?.input(number)
    }
}

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

    /// The inputs of a board by the numbers by which its panel knows them: those of the board itself, or those from `inputs-from=`
    /// on. Each with its own number.
    pub(crate) fn known_inputs(&self, board: Id<Board>) -> impl Iterator<Item = (u32, u32)> {
        let own = self.part_of(board).into_iter().flat_map(|part| part.inputs.iter().map(|input| input.number.value));
        let first = own.clone().min().unwrap_or_default();
        let from = self.boards[board].kind.inputs_from().unwrap_or(first);
        own.map(move |number| (from.saturating_add(number - first), number))
    }
}

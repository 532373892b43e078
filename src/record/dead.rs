//! Dead cables: in the wall, and no run of the spec. They are no facts that are compared: what becomes of a cable is told
//! where it goes.

use super::item::record;
use super::names::Names;
use crate::base::Id;
use crate::model::Board;
use crate::register;

record! {
    /// A cable in the wall that the spec no longer has.
    DeadCable {
        /// The text on both ends.
        label: String,
        /// What it belonged to, in the register's words.
        belonged_to: String,
        /// Why it is dead.
        because: String,
        /// True where its conductors are off their terminals.
        off: bool,
        /// Name of its type.
        #[serde(rename = "type")]
        kind: String,
        /// Name of the board at which it starts, where that is known.
        near_board: Option<String>,
        /// Name of the board at which it ends.
        far_board: Option<String>,
        /// Name of the room in which it starts, where that was written down.
        from_room: Option<String>,
        /// Name of the room in which it ends, as it was called when the cable was in use.
        room: Option<String>,
        /// Its conductors that were in use.
        conductors: Vec<DeadConductor>,
    }

    /// A conductor of a dead cable.
    DeadConductor {
        /// Position in the cable, from 1.
        position: u32,
        /// Colour as a code of IEC 60757.
        colour: Option<String>,
        /// What it did, in the register's words.
        did: &'static str,
        /// The terminal that its near end is still on.
        near: Option<DeadTerminal>,
        /// The terminal that its far end is still on.
        far: Option<DeadTerminal>,
    }

    /// A terminal that a dead conductor is still on.
    DeadTerminal {
        /// Name of the board.
        board: String,
        /// Mark of the terminal.
        terminal: String,
    }
}

/// The dead cables, by label.
pub(crate) fn cables(names: &Names<'_>) -> Vec<DeadCable> {
    let board = |id: Id<Board>| names.site.boards[id].name.value.clone();
    let terminal = |at: &Option<(Id<Board>, String)>| {
        at.as_ref().map(|(on, mark)| DeadTerminal { board: board(*on), terminal: mark.clone() })
    };
    let conductor = |conductor: &register::DeadConductor| {
        let register::DeadConductor { position, colour, did, near, far } = conductor;
        DeadConductor {
            position: *position,
            colour: colour.map(crate::quantity::Colour::code),
            did: did.word(),
            near: terminal(near),
            far: terminal(far),
        }
    };
    let cable = |cable: &register::DeadCable| {
        let register::DeadCable { label, of, because, off, kind, near, far, called, rooms: _, conductors } = cable;
        let [from_room, room] = called.clone();
        DeadCable {
            label: label.clone(),
            belonged_to: of.clone(),
            because: because.clone(),
            off: *off,
            kind: kind.clone(),
            near_board: near.map(board),
            far_board: far.map(board),
            from_room,
            room,
            conductors: conductors.iter().map(conductor).collect(),
        }
    };
    names.wiring.dead.iter().map(cable).collect()
}

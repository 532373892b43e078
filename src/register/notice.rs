//! What a site and its register have to say to each other: moves that the spec asks for, and what contradicts.
//! The words are `register_file`'s.

use crate::base::{Id, Spanned};
use crate::model::{Run, Zone};
use crate::quantity::Colour;

use super::entry::Landing;
use super::owner::OwnerName;

/// Something between the spec and the register. `entry` is the place in the register.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Notice {
    /// The spec moves a zone to another input.
    InputMoved {
        /// The zone.
        zone: Id<Zone>,
        /// The board and input that it was on.
        from: (String, u32),
        /// The input that it goes to.
        to: u32,
        /// The entry.
        entry: Spanned<()>,
    },
    /// The spec gives a zone the input that another is landed on.
    InputTaken {
        /// The zone that is given it.
        zone: Id<Zone>,
        /// The zone that is landed there.
        holder: Id<Zone>,
        /// The input.
        number: u32,
        /// The holder's entry.
        entry: Spanned<()>,
    },
    /// The spec gives a zone the input that a dead cable is still on.
    InputOfDead {
        /// The zone.
        zone: Id<Zone>,
        /// The input.
        number: u32,
        /// The label of the dead cable.
        label: String,
        /// Its entry.
        entry: Spanned<()>,
    },
    /// The spec gives a cable another label.
    LabelChanged {
        /// The run.
        run: Id<Run>,
        /// The label it had.
        from: String,
        /// The entry.
        entry: Spanned<()>,
    },
    /// The spec gives a run the label of another's cable.
    LabelTaken {
        /// The run that is given it.
        run: Id<Run>,
        /// The run whose cable has it.
        holder: Id<Run>,
        /// The holder's entry.
        entry: Spanned<()>,
    },
    /// The spec gives a run a label of a cable that is dead or out.
    LabelSpent {
        /// The run.
        run: Id<Run>,
        /// The entry.
        entry: Spanned<()>,
    },
    /// Conductors go to other terminals, because the spec says so in other words than `input=`.
    WiresMoved {
        /// The run.
        run: Id<Run>,
        /// The cable's label.
        label: String,
        /// Position in the cable, the terminal it was on, the one it goes to.
        wires: Vec<(u32, Landing, Landing)>,
        /// The entry.
        entry: Spanned<()>,
    },
    /// A zone's input is in the register, and its cable is not.
    CableMissing {
        /// The zone.
        zone: Id<Zone>,
        /// The input.
        number: u32,
        /// The input's entry.
        entry: Spanned<()>,
    },
    /// Nothing but order told cables apart.
    Guessed {
        /// The runs.
        runs: Vec<Id<Run>>,
        /// Labels and entries of the cables.
        entries: Vec<(String, Spanned<()>)>,
    },
    /// A run is a cable that people have written to be dead.
    Revived {
        /// The run.
        run: Id<Run>,
        /// The label.
        label: String,
        /// Why it is dead.
        because: String,
        /// The entry.
        entry: Spanned<()>,
    },
    /// Conductors have other colours than the register has.
    Recoloured {
        /// The run.
        run: Id<Run>,
        /// The cable's label.
        label: String,
        /// Position in the cable, the colour in the register, the colour by the type.
        wires: Vec<(u32, Colour, Colour)>,
        /// The entry.
        entry: Spanned<()>,
    },
    /// A type of cable that the spec no longer has is taken as one that has another name now.
    TypeRenamed {
        /// Its name until now.
        was: String,
        /// Its name.
        is: String,
        /// The runs.
        runs: Vec<Id<Run>>,
        /// Labels and entries of the cables.
        entries: Vec<(String, Spanned<()>)>,
    },
    /// A cable that took the place of another is taken as never pulled: the spec has again what the other one was.
    NeverPulled {
        /// The label of both.
        label: String,
        /// The label that the other one has meanwhile.
        other: String,
        /// The entry of the cable that goes.
        entry: Spanned<()>,
        /// That of the other one.
        back: Spanned<()>,
    },
    /// A cable is in the wall that no run is.
    Dead {
        /// Its label.
        label: String,
        /// What it belonged to.
        of: OwnerName,
        /// Why it is dead.
        because: String,
        /// Whether people say that it is off its terminals.
        off: bool,
        /// The terminals that it is still on.
        on: Vec<Landing>,
        /// The entry.
        entry: Spanned<()>,
    },
}

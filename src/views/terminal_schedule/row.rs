//! A row at a board: what is under a screw, in a joint or socket, or parked. The table and the drawing are made of these.

use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Site, Zone};
use crate::quantity::Colour;
use crate::quantity::colour::Hue;
use crate::register::{Cable, ConductorUse, End, Lead};
use crate::terms::WireUse;
use crate::words;

use super::nets::Key;
use crate::views::ends::there;
use crate::views::room_ends::EndRow;

/// A conductor, link, lead or resistor at a board, or a terminal without any.
#[derive(Clone, Debug, Default, Serialize)]
pub(crate) struct Row {
    /// The terminal's mark, or a word for what it is under instead.
    pub(crate) mark: String,
    /// The terminal's first row.
    pub(crate) first: bool,
    /// What is known of it.
    #[serde(flatten)]
    pub(crate) state: State,
    /// What it is under.
    #[serde(skip)]
    pub(crate) at: At,
    /// What it is.
    #[serde(skip)]
    pub(crate) thing: Thing,
    /// Which end of its cable it is; `None` for a link or a lead.
    #[serde(skip)]
    pub(crate) end: Option<End>,
    /// The conductor's end, of a cable of the spec.
    #[serde(skip)]
    pub(crate) key: Option<Key>,
    pub(crate) cable: String,
    pub(crate) conductor: String,
    pub(crate) function: String,
    pub(crate) goes: String,
    /// The place of its row on the page, see [`board_marks`](crate::views::board_marks).
    pub(crate) place: String,
}

/// What is known of a row.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum State {
    /// A conductor, link or lead does what the row says.
    #[default]
    InUse,
    /// Nothing is under this screw.
    Free,
    /// Nothing is under this screw, and nothing may be put there.
    StaysEmpty,
    /// What is under this screw is not told by the spec.
    NotTold,
    /// A conductor that is kept for later.
    Reserved,
    /// A conductor with nothing to do.
    Spare,
    /// A conductor of a dead cable.
    Dead,
}

impl State {
    /// The state in a word.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::InUse => "in use",
            Self::Free => "free",
            Self::StaysEmpty => "stays empty",
            Self::NotTold => "not in the spec",
            Self::Reserved => "reserved",
            Self::Spare => "spare",
            Self::Dead => "dead",
        }
    }
}

/// As a template asks.
impl Serialize for State {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut fields = serializer.serialize_struct("State", 3)?;
        fields.serialize_field("bare", &matches!(self, Self::Free | Self::StaysEmpty | Self::NotTold))?;
        fields.serialize_field("state", self.word())?;
        fields.serialize_field("dead", &(*self == Self::Dead))?;
        fields.end()
    }
}

/// What a row is under.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum At {
    /// A terminal.
    #[default]
    Screw,
    /// A joint in the enclosure, by its number there.
    Joint(usize),
    /// A socket of the board.
    Socket,
    /// Nothing, and it stays so: parked, capped or cut back.
    Capped,
    /// A terminal that the spec does not know.
    Unknown,
}

/// What a row is.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) enum Thing {
    /// Nothing.
    #[default]
    Nothing,
    /// A conductor or the shield of a cable, with its colour where it has one.
    Conductor(Option<Colour>),
    /// A short wire to another terminal: its mark where that is of the same board.
    Link(Option<String>),
    /// A lead that powers or earths the board, with its colour, and whether a fuse is in it.
    Lead(Lead, Option<Colour>, bool),
    /// A resistor across to the terminal of that mark, with its bands.
    Across(String, Option<Vec<Hue>>),
    /// Resistors between the terminal and the conductor of that zone's loop, one behind the other, with their bands.
    InSeries(Id<Zone>, Vec<Vec<Hue>>),
}

impl Row {
    /// The letters of the conductor's colour, or what it is called without.
    pub(crate) fn letters(&self) -> String {
        match &self.thing {
            Thing::Conductor(Some(colour)) | Thing::Lead(_, Some(colour), _) => {
                self.conductor.replacen(&format!(" {}", colour.name()), "", 1)
            }
            Thing::Conductor(None)
            | Thing::Nothing
            | Thing::Link(_)
            | Thing::Lead(_, None, _)
            | Thing::Across(..)
            | Thing::InSeries(..) => self.conductor.clone(),
        }
    }
}

/// The end of a cable in a word.
pub(super) fn end_word(end: End) -> &'static str {
    match end {
        End::Near => "near",
        End::Far => "far",
    }
}

/// A conductor's row at one of its ends.
pub(super) fn in_use(compiled: &Compiled, cable: &Cable, used: &ConductorUse, end: End, mark: String) -> Row {
    let Compiled { site, wiring, .. } = compiled;
    let reserved = used.function.wire_use() == WireUse::Reserved;
    Row {
        mark,
        state: if reserved { State::Reserved } else { State::InUse },
        end: Some(end),
        cable: cable.label.clone(),
        goes: there(site, wiring, used, end.other()),
        ..conductor(site, cable, used, end)
    }
}

/// What a conductor is and does, wherever it is.
pub(super) fn conductor(site: &Site, cable: &Cable, used: &ConductorUse, end: End) -> Row {
    Row {
        thing: Thing::Conductor(used.colour),
        key: Some(Key { run: used.run, function: Some(used.function), end }),
        conductor: words::conductor(site, cable, used.position),
        function: words::function(site, cable, used),
        ..Row::default()
    }
}

/// The conductors of a row of joined ends, each in a row of its own.
pub(super) fn of_ends(ends: &EndRow) -> Vec<Row> {
    let end = if ends.starts { End::Near } else { End::Far };
    let reserved = ends.state == State::Reserved;
    let (mark, at) = if reserved { ("parked", At::Capped) } else { ("joint", At::Joint(0)) };
    let row = |(conductor, used): (&String, &ConductorUse)| Row {
        mark: mark.to_owned(),
        state: ends.state,
        at,
        thing: Thing::Conductor(used.colour),
        end: Some(end),
        key: Some(Key { run: used.run, function: Some(used.function), end }),
        cable: ends.cable.clone(),
        conductor: conductor.clone(),
        function: ends.function.clone(),
        goes: ends.goes.clone(),
        place: ends.place.clone(),
        ..Row::default()
    };
    ends.conductors.iter().zip(&ends.used).map(row).collect()
}

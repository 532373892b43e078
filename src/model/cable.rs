//! Types of cable.

use std::fmt;

use crate::base::Spanned;
use crate::quantity::{Colour, Metres, OhmsPerMetre, WireSize};
use crate::terms::{MadeFor, Metal, Passage, Shield, Use};

/// A type of cable.
#[derive(Clone, Debug, PartialEq)]
pub struct CableType {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// How many conductors, as said by `conductors=`.
    pub count: Spanned<u32>,
    /// Size of one conductor; `None` where nobody knows it.
    pub size: Option<WireSize>,
    /// Jacket type.
    pub jacket: Option<Spanned<String>>,
    /// Its shield, which is none of its conductors.
    pub shield: Option<Shield>,
    /// Where its sheet lets it lie.
    pub made_for: Spanned<MadeFor>,
    /// Stranded conductors.
    pub stranded: bool,
    /// What the conductors are made of.
    pub metal: Spanned<Metal>,
    /// Diameter over the jacket.
    pub diameter: Option<Metres>,
    /// The most that one conductor has at 20 °C, by its sheet.
    pub resistance: Option<Spanned<OhmsPerMetre>>,
    /// How much comes in a box.
    pub box_length: Option<Metres>,
    /// The conductors in order, those with a colour; may be fewer than `count`.
    pub conductors: Vec<Conductor>,
    /// True where it is defined in the shared parts folder.
    pub(crate) shared: bool,
}

impl CableType {
    /// True where its sheet lets it lie in what a run passes.
    pub(crate) fn suits(&self, passes: Option<Passage>) -> bool {
        match passes {
            Some(Passage::Underground) => self.made_for.value == MadeFor::Underground,
            Some(Passage::Outdoors) => self.made_for.value != MadeFor::Indoors,
            Some(
                Passage::Attic
                | Passage::Plenum
                | Passage::Riser
                | Passage::Mains
                | Passage::Stud
                | Passage::Joist
                | Passage::FireWall,
            )
            | None => true,
        }
    }

    /// How many conductors it has: as many as are listed where more are listed than said.
    pub fn size(&self) -> usize {
        self.conductors.len().max(self.count.value as usize)
    }

    /// Its size, how many conductors, and its jacket: "22/2 CL2R", "0.22 mm²/4"; its title where nobody knows the size.
    pub(crate) fn short(&self) -> String {
        let Some(size) = self.size else { return self.title.clone() };
        let jacket = self.jacket.as_ref().map(|jacket| format!(" {}", jacket.value)).unwrap_or_default();
        format!("{}/{}{jacket}", size.to_string().trim_end_matches(" AWG"), self.size())
    }

    /// The size of a conductor, to be printed.
    pub(crate) fn sized(&self) -> PrintedSize {
        PrintedSize(self.size)
    }

    /// What to ask for in a shop: its title, and its jacket where the title does not say it.
    pub(crate) fn described(&self) -> String {
        match &self.jacket {
            Some(jacket) if !self.title.contains(&jacket.value) => format!("{}, {}", self.title, jacket.value),
            Some(_) | None => self.title.clone(),
        }
    }
}

/// The size of a conductor as printed; nobody may know it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PrintedSize(Option<WireSize>);

impl fmt::Display for PrintedSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Some(size) => size.fmt(f),
            None => f.write_str("unknown size"),
        }
    }
}

/// A conductor of a cable type.
#[derive(Clone, Debug, PartialEq)]
pub struct Conductor {
    /// Its colour.
    pub colour: Spanned<Colour>,
    /// What it is taken for first.
    pub purpose: Option<Use>,
}

//! Zones and their loops.

use crate::base::{Id, Span, Spanned};
use crate::terms::{ContactForm, KeyAction, LoopWiring, Senses, ZoneType};

use super::area::Area;
use super::board::Board;
use super::device::{Device, DeviceKind};
use super::run::Mounted;
use super::site::Site;

/// What is reported by one number.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// The number that is reported.
    pub number: Spanned<u32>,
    /// What the dispatcher reads.
    pub description: Spanned<String>,
    /// What happens when it is tripped; `None` where that was reported.
    pub kind: Option<Spanned<ZoneType>>,
    /// The area it belongs to.
    pub area: Option<Id<Area>>,
    /// Event code that the spec gives in place of the type's usual one.
    pub event: Option<Spanned<u32>>,
    /// What turning the key of a keyswitch does.
    pub action: Option<Spanned<KeyAction>>,
    /// That it waits while the entry or exit delay runs.
    pub follows: bool,
    /// That the number is kept for later: where it is said.
    pub reserved: Option<Span>,
    /// A remark for the installer.
    pub note: Option<String>,
    /// Its wired loop.
    pub wired: Option<Loop>,
    /// Its wireless detector.
    pub wireless: Option<Id<Device>>,
    /// False where something in it was reported: nothing is concluded from what it lacks.
    pub(crate) whole: bool,
}

/// A wired loop.
#[derive(Clone, Debug, PartialEq)]
pub struct Loop {
    /// How it is supervised; `None` where that was reported.
    pub wiring: Option<Spanned<LoopWiring>>,
    /// The board that senses it; `None` where that was reported.
    pub board: Option<Spanned<Id<Board>>>,
    /// The input that the spec gives it.
    pub input: Option<Spanned<u32>>,
    /// True where `input=` was written, even if it could not be read.
    pub(crate) input_written: bool,
    /// The chain, from the board on; what is not a run is at the board.
    pub chain: Vec<Mounted>,
    /// The node's name in the spec.
    pub(crate) place: Spanned<()>,
}

impl Zone {
    /// True where it is of a type.
    pub(crate) fn is_of(&self, kind: ZoneType) -> bool {
        self.kind.as_ref().is_some_and(|own| own.value == kind)
    }
}

impl Site {
    /// The zones that are wired or heard, by number: those kept for later are left out.
    pub(crate) fn zones_in_use(&self) -> impl Iterator<Item = (Id<Zone>, &Zone)> {
        self.zones.entries().filter(|(_, zone)| zone.reserved.is_none())
    }

    /// True where everything in a zone's loop lies across the pair: its alarm contacts are open at rest, and its branches
    /// are connected in parallel. A relay that watches the detectors' supply is no alarm contact: it stands in series
    /// with the resistor, behind the last of them.
    pub(crate) fn lies_across(&self, zone: Id<Zone>) -> bool {
        let Some(wired) = &self.zones[zone].wired else { return false };
        match wired.wiring.as_ref().map(|wiring| wiring.value) {
            Some(LoopWiring::NormallyOpen | LoopWiring::TwoWire) => return true,
            Some(LoopWiring::NormallyClosed) => return false,
            Some(LoopWiring::EndOfLine | LoopWiring::DoubleEndOfLine) | None => {}
        }
        let mut contacts = self
            .devices_of(zone)
            .filter(|(_, device)| device.kind != DeviceKind::Wireless)
            .filter(|(id, _)| self.device_part(*id).is_some_and(|part| part.senses != Some(Senses::Supply)))
            .filter_map(|(id, _)| self.contact_of(id))
            .peekable();
        contacts.peek().is_some() && contacts.all(|contact| contact.form == ContactForm::NormallyOpen)
    }
}

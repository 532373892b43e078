//! The site: everything together.

use crate::base::{Arena, Id, Spanned};
use crate::quantity::print::LengthUnit;
use crate::quantity::{Metres, Seconds};
use crate::terms::{ContactForm, Framing, LabelGrid, PaperSize, Profile, Senses};

use super::area::Area;
use super::board::Board;
use super::cable::CableType;
use super::communicator::{Communicator, Monitoring};
use super::conduit::Conduit;
use super::device::{Device, DeviceKind};
use super::index::Index;
use super::measured::Measured;
use super::part::{ContactData, Part};
use super::place::{Level, Opening, Room};
use super::price::Prices;
use super::run::{Bus, Circuit, Run, Spare};
use super::zone::Zone;

/// A house and what is in its walls.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Short name.
    pub name: Spanned<String>,
    /// Name for people.
    pub title: String,
    /// What stands before a zone's number on the cables of its loop; Z where the spec says nothing.
    pub label_prefix: Option<String>,
    /// Unit of printed lengths.
    pub lengths: LengthUnit,
    /// The state of the spec.
    pub revision: Option<Revision>,
    /// The set of published limits.
    pub profile: Option<Profile>,
    /// Year of the edition that has been adopted.
    pub edition: Option<u32>,
    /// Facts of the house.
    pub building: Building,
    /// By name.
    pub levels: Arena<Level>,
    /// By name.
    pub rooms: Arena<Room>,
    /// By name.
    pub openings: Arena<Opening>,
    /// By name.
    pub parts: Arena<Part>,
    /// By name.
    pub cables: Arena<CableType>,
    /// By name.
    pub boards: Arena<Board>,
    /// By name.
    pub areas: Arena<Area>,
    /// By number.
    pub zones: Arena<Zone>,
    /// By name.
    pub buses: Arena<Bus>,
    /// By name.
    pub circuits: Arena<Circuit>,
    /// Cables pulled for later, by name.
    pub spares: Arena<Spare>,
    /// By name.
    pub communicators: Arena<Communicator>,
    /// In the order of zones, then circuits.
    pub devices: Arena<Device>,
    /// In the order of zones, buses, circuits, spare cables, communicators.
    pub runs: Arena<Run>,
    /// Conduits, by title.
    pub conduits: Vec<Conduit>,
    /// What the service's form wants.
    pub monitoring: Option<Monitoring>,
    /// What comes due again and again.
    pub upkeep: Upkeep,
    /// The paper that the labels are printed on, where the spec says so.
    pub label_sheet: Option<Spanned<LabelSheet>>,
    /// What a firm adds to the paper.
    pub house_style: HouseStyle,
    /// What things cost.
    pub prices: Prices,
    /// What was measured, by date.
    pub(crate) measured: Vec<Measured>,
    /// Accepted findings, in the order of the source.
    pub accepts: Vec<Accept>,
    /// False where some of the text could not be read: nothing is concluded from what is absent.
    pub(crate) complete: bool,
    /// False where, besides, anything was reported as an error: what seems to be absent may be written wrong, as a
    /// window is unwatched whose `on=` is misspelt.
    pub(crate) sound: bool,
    /// What is found in all of it.
    pub(crate) index: Index,
}

/// The state of the spec that the paper belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct Revision {
    /// Letter or number.
    pub mark: String,
    /// Its day.
    pub date: Option<Spanned<jiff::civil::Date>>,
    /// What changed.
    pub note: Option<String>,
}

/// What comes due again and again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Upkeep {
    /// How often the owner tests.
    pub test_every: Option<Seconds>,
    /// How often detectors are cleaned and batteries tried.
    pub clean_every: Option<Seconds>,
    /// The last day of the alarm permit.
    pub permit_ends: Option<Spanned<jiff::civil::Date>>,
}

/// Paper with labels, by its geometry; what is `None` is as on the grid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LabelSheet {
    /// A common form.
    pub grid: Option<LabelGrid>,
    /// The paper, upright.
    pub paper: Option<PaperSize>,
    /// Labels beside one another.
    pub columns: Option<u32>,
    /// Labels below one another.
    pub rows: Option<u32>,
    /// Width of one label.
    pub width: Option<Metres>,
    /// Height of one label.
    pub height: Option<Metres>,
    /// From the paper's left edge to the first label.
    pub left: Option<Metres>,
    /// From the paper's upper edge to the first label.
    pub top: Option<Metres>,
    /// From a label's left edge to that of the next.
    pub across: Option<Metres>,
    /// From a label's upper edge to that of the next.
    pub down: Option<Metres>,
    /// Height of the printed zone of a wrap with a clear tail.
    pub printed: Option<Metres>,
    /// Labels that are gone from the first sheet.
    pub used: u32,
    /// Whether each label has a code.
    pub code: bool,
}

/// What a firm adds to the paper.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HouseStyle {
    /// Who is responsible for the documents.
    pub firm: Option<String>,
    /// What stands at the head of every sheet.
    pub note: Option<String>,
    /// Red, green and blue of headings on light paper.
    pub accent: Option<[u8; 3]>,
    /// A picture.
    pub logo: Option<Logo>,
}

/// A picture, as it lies in the site's folder.
#[derive(Clone, PartialEq)]
pub struct Logo {
    /// Its path in the site's folder.
    pub path: String,
    /// "image/png" or "image/jpeg".
    pub media: &'static str,
    /// The file.
    pub bytes: Vec<u8>,
}

impl std::fmt::Debug for Logo {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Logo({}, {} bytes)", self.path, self.bytes.len())
    }
}

/// Facts of the house.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Building {
    /// Year of the oldest part.
    pub built: Option<i64>,
    /// What walls and floors are made of.
    pub framing: Option<Framing>,
}

/// An accepted finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Accept {
    /// The rule's slug.
    pub rule: Spanned<String>,
    /// Only about this zone.
    pub zone: Option<Spanned<String>>,
    /// Only about this name.
    pub name: Option<Spanned<String>>,
    /// The reason.
    pub because: String,
}

impl Accept {
    /// The zone and the name that a finding must be about, each where one is given.
    pub(crate) fn subjects(&self) -> impl Iterator<Item = &str> {
        self.zone.iter().chain(&self.name).map(|subject| subject.value.as_str())
    }

    /// True where it is about a finding with some subjects.
    pub(crate) fn names(&self, subjects: &[String]) -> bool {
        self.subjects().all(|wanted| subjects.iter().any(|subject| subject == wanted))
    }
}

impl Site {
    /// The part of a board, where it has one.
    pub(crate) fn part_of(&self, board: Id<Board>) -> Option<&Part> {
        self.boards[board].part.map(|part| &self.parts[part])
    }

    /// The part of a device, where it has one.
    pub(crate) fn device_part(&self, device: Id<Device>) -> Option<&Part> {
        self.devices[device].part.map(|part| &self.parts[part])
    }

    /// What a device senses, where its part says so.
    pub(crate) fn senses(&self, device: Id<Device>) -> Option<Senses> {
        self.senses_of(&self.devices[device])
    }

    /// The same of a device at hand.
    pub(crate) fn senses_of(&self, device: &Device) -> Option<Senses> {
        self.parts[device.part?].senses
    }

    /// The contact by which a device tells what it is there for: alarm, or a fault of its board.
    pub(crate) fn contact_of(&self, device: Id<Device>) -> Option<&ContactData> {
        let part = self.device_part(device)?;
        match self.devices[device].kind {
            DeviceKind::Fault => part.fault.as_ref().map(|fault| &fault.contact),
            DeviceKind::Contact
            | DeviceKind::Detector
            | DeviceKind::Sounder
            | DeviceKind::Load
            | DeviceKind::Wireless => part.contacts.first(),
        }
    }

    /// True where a device lies across the pair: that contact is open at rest, or the loop feeds it.
    pub(crate) fn is_open_at_rest(&self, device: Id<Device>) -> bool {
        self.loop_fed(device).is_some()
            || self.contact_of(device).is_some_and(|contact| contact.form == ContactForm::NormallyOpen)
    }

    /// The area that a zone is in.
    pub(crate) fn area_of(&self, zone: &Zone) -> Option<&Area> {
        zone.area.map(|area| &self.areas[area])
    }
}

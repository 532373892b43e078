//! Two-wire detectors: what their sheets say, what the board's says of them, and which conductor is positive.

use crate::base::{Id, Span, Spanned};
use crate::quantity::{Amperes, Resistance, Volts};
use crate::terms::{LoopWiring, Side};

use super::device::Device;
use super::part::{Part, Sensing};
use super::site::Site;
use super::zone::Zone;

/// What the sheet of a two-wire detector says.
#[derive(Clone, Debug, PartialEq)]
pub struct LoopFed {
    /// Where it stands in the spec.
    pub(crate) place: Spanned<()>,
    /// Least voltage at which it works.
    pub min: Volts,
    /// Most voltage that it stands.
    pub max: Option<Volts>,
    /// The most current at rest.
    pub idle: Amperes,
    /// Least and most voltage across it in alarm.
    pub alarm_volts: (Volts, Volts),
    /// The most current that it stands in alarm.
    pub alarm: Option<Amperes>,
    /// Mark of its positive terminal.
    pub positive: Option<String>,
    /// Mark of its negative terminal.
    pub negative: Option<String>,
    /// That the two conductors may be exchanged.
    pub either_way: bool,
    /// The identifier by which boards list it.
    pub identifier: Option<Spanned<String>>,
}

impl LoopFed {
    /// The volts, at rest and in alarm, of which the least is more than the greatest: the names of both and their values.
    pub(crate) fn reversed(&self) -> Vec<[(&'static str, Volts); 2]> {
        let rest = self.max.map(|max| [("min", self.min), ("max", max)]);
        let alarm = [("alarm-min", self.alarm_volts.0), ("alarm-max", self.alarm_volts.1)];
        rest.into_iter().chain([alarm]).filter(|[(_, least), (_, greatest)]| least > greatest).collect()
    }
}

/// What a board says of the two-wire detectors that an input feeds.
#[derive(Clone, Debug, PartialEq)]
pub struct LoopFeed {
    /// Where it stands in the spec.
    pub(crate) place: Spanned<()>,
    /// Most current at rest of all detectors together.
    pub limit: Option<Spanned<Amperes>>,
    /// The resistor at the far end.
    pub resistor: Option<Spanned<Resistance>>,
    /// Which of the input's two terminals is positive.
    pub positive: Option<Side>,
    /// Whether contacts that are open at rest may be on the same input.
    pub contacts: bool,
    /// The detectors that it lists, in the order of the text.
    pub listed: Vec<Listed>,
}

/// A detector that a board lists.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// Its identifier.
    pub identifier: Spanned<String>,
    /// How many of them an input takes.
    pub most: Option<u32>,
}

/// How an input reads a loop when it is set for one wiring.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// The wiring.
    pub wiring: Spanned<LoopWiring>,
    /// How it then reads.
    pub sensing: Sensing,
}

impl Part {
    /// How the board reads a loop of a wiring: by the setting for it, else as it reads every other.
    pub(crate) fn sensing_for(&self, wiring: Option<LoopWiring>) -> Option<&Sensing> {
        let setting = self.settings.iter().find(|setting| Some(setting.wiring.value) == wiring);
        setting.map(|setting| &setting.sensing).or(self.sensing.as_ref())
    }

    /// Every way in which the board reads loops: that for every wiring first.
    pub(crate) fn sensings(&self) -> impl Iterator<Item = &Sensing> {
        self.sensing.iter().chain(self.settings.iter().map(|setting| &setting.sensing))
    }
}

impl Site {
    /// How the board of a zone's loop reads it.
    pub(crate) fn sensing_of(&self, zone: Id<Zone>) -> Option<&Sensing> {
        let wired = self.zones[zone].wired.as_ref()?;
        let part = self.part_of(wired.board.as_ref()?.value)?;
        part.sensing_for(wired.wiring.as_ref().map(|wiring| wiring.value))
    }

    /// What a device's sheet says, where it is a two-wire detector.
    pub(crate) fn loop_fed(&self, device: Id<Device>) -> Option<&LoopFed> {
        self.device_part(device)?.loop_fed.as_ref()
    }

    /// What the board of a zone's loop says of the two-wire detectors that it feeds; `None` for every other wiring.
    pub(crate) fn loop_feed(&self, zone: Id<Zone>) -> Option<&LoopFeed> {
        let wiring = self.zones[zone].wired.as_ref()?.wiring.as_ref()?;
        self.sensing_of(zone)?.feed.as_ref().filter(|_| wiring.value == LoopWiring::TwoWire)
    }

    /// The mark of a two-wire detector's terminal that the conductor out, or back, of its loop comes to; "loop" where the
    /// sheets do not tell which is positive.
    pub(crate) fn loop_fed_mark(&self, zone: Id<Zone>, device: Id<Device>, out: bool) -> Option<String> {
        let sheet = self.loop_fed(device)?;
        let mark = match self.positive_side(zone) {
            Some(Side::Signal) if out => sheet.positive.as_ref(),
            Some(Side::Return) if !out => sheet.positive.as_ref(),
            Some(Side::Signal | Side::Return) => sheet.negative.as_ref(),
            None => None,
        };
        Some(mark.cloned().unwrap_or_else(|| "loop".to_owned()))
    }

    /// Which terminal of a zone's input is positive, where the loop feeds its detectors.
    pub(crate) fn positive_side(&self, zone: Id<Zone>) -> Option<Side> {
        self.loop_feed(zone)?.positive
    }
}

impl LoopFeed {
    /// What the board lists of a detector.
    pub(crate) fn lists(&self, detector: &LoopFed) -> Option<&Listed> {
        let identifier = detector.identifier.as_ref()?;
        self.listed.iter().find(|listed| listed.identifier == *identifier)
    }

    /// Where it stands in the spec.
    pub(crate) fn span(&self) -> Span {
        self.place.span
    }
}

//! What a site can report to the monitoring service: model and readings → a list of reports.
//!
//! Terms: a *report* is one event that can be sent, with its code of ANSI/SIA DC-05; its *qualifier* says whether it has
//! happened (1, or an opening), is over (3, or a closing) or still stands (6). Its *number* is that of a zone where the spec
//! gives it. Users, modules, outputs and the like are counted by the board: such a number stays blank.
//!
//! Reports follow from what is built in and how its loops are wired. Whether a board sends all of them is on its own sheet.
//! Out of scope: words, and whom a report sends ([`crate::profiles::handling`]).

mod equipment;
pub(crate) mod line;
mod people;
mod zones;

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::LoopReadings;
use crate::calc::power::Power;
use crate::model::{Area, Board, Bus, Circuit, Communicator, OutputRef, Site, Zone};
use crate::profiles::{events, letters};
use crate::terms::{EmergencyKey, EventGroup};

pub(crate) use line::Qualifier;
pub(crate) use zones::code;

/// An event that the site can report.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// What it is about.
    pub about: About,
    /// The code of DC-05; a zone may have one that is not in the list.
    pub code: u32,
    /// Which of its two reports are sent.
    pub sent: Sent,
    /// The number behind the code.
    pub number: Number,
    /// The area that it is sent with; `None` is sent as 00.
    pub area: Option<Id<Area>>,
}

/// What a report is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// A zone.
    Zone(Id<Zone>),
    /// An emergency key of a keypad.
    Key(Id<Board>, EmergencyKey),
    /// A board.
    Board(Id<Board>),
    /// A supply that a board gives.
    Output(OutputRef),
    /// The circuit of a sounder.
    Circuit(Id<Circuit>),
    /// A data bus.
    Bus(Id<Bus>),
    /// A way to the monitoring service.
    Way(Id<Communicator>),
    /// An area, or whoever arms it.
    Area(Id<Area>),
    /// The site as one.
    Site,
}

/// Which reports are sent of an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sent {
    /// That it has happened and that it is over; of arming, an opening and a closing.
    Both,
    /// Only that it has happened.
    New,
    /// Only a closing.
    Closing,
}

impl Sent {
    /// The qualifiers, in order.
    pub(crate) fn qualifiers(self) -> &'static [Qualifier] {
        match self {
            Self::Both => &[Qualifier::New, Qualifier::Restore],
            Self::New => &[Qualifier::New],
            Self::Closing => &[Qualifier::Restore],
        }
    }
}

/// The number behind a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Number {
    /// That of a zone, or of a key where the spec gives it.
    Given(u32),
    /// The user's, which the board knows.
    User,
    /// That of a module, an output or the like, as the board counts them.
    OfBoard,
    /// None: 000.
    Zero,
}

impl Number {
    /// In three digits, as it is sent; `None` where the board gives it.
    pub(crate) fn digits(self) -> Option<String> {
        match self {
            Self::Given(number) => Some(format!("{number:03}")),
            Self::Zero => Some("000".to_owned()),
            Self::User | Self::OfBoard => None,
        }
    }
}

impl Report {
    /// The group that it is handled with.
    pub(crate) fn group(&self) -> EventGroup {
        events::group(self.code)
    }

    /// The letters of DC-03 by which one of its reports is sent; `None` where we know none.
    pub(crate) fn letters(&self, qualifier: Qualifier) -> Option<&'static str> {
        let letters = letters::find(self.code)?;
        match qualifier {
            Qualifier::New | Qualifier::Standing => letters.new,
            Qualifier::Restore => letters.restore,
        }
    }

    /// What has happened, in a few words; `None` where the list has no such code.
    pub(crate) fn meaning(&self) -> Option<&'static str> {
        events::find(self.code).map(|event| event.meaning)
    }

    /// True for a zone's own event, which stands in the list of zones.
    pub(crate) fn is_alarm_of_zone(&self, site: &Site) -> bool {
        matches!(self.about, About::Zone(id) if zones::code(&site.zones[id]) == Some(self.code))
    }
}

/// Everything that a site can report: zones by number, each with its troubles; keys; equipment; people. Where ways to the
/// service are known, nothing of a panel that has none: nobody hears of it.
pub(crate) fn of_site(site: &Site, loops: &BTreeMap<Id<Zone>, LoopReadings>, power: &Power) -> Vec<Report> {
    let mut reports = zones::reports(site, loops);
    reports.extend(equipment::keys(site));
    reports.extend(equipment::reports(site, power));
    reports.extend(people::reports(site));
    reports.retain(|report| is_sent(site, report.about));
    reports
}

/// True where a way leads to the service from the panel that would tell of it; of a site without any way, always.
pub(crate) fn is_sent(site: &Site, about: About) -> bool {
    if site.communicators.is_empty() {
        return true;
    }
    let by = |board: Option<Id<Board>>| site.is_sent(site.panel_of(board));
    match about {
        About::Zone(zone) => site.is_sent(site.panel_of_zone(&site.zones[zone])),
        About::Key(board, _) | About::Board(board) => by(Some(board)),
        About::Output(output) => by(Some(output.board)),
        About::Circuit(circuit) => by(site.circuits[circuit].board()),
        About::Bus(bus) => by(site.buses[bus].board.as_ref().map(|board| board.value)),
        About::Way(_) | About::Site => true,
        // An area without zones may be any panel's.
        About::Area(area) => {
            let mut zones = site.zones_in_use().map(|(_, zone)| zone).filter(|zone| zone.area == Some(area)).peekable();
            zones.peek().is_none() || zones.any(|zone| site.is_sent(site.panel_of_zone(zone)))
        }
    }
}

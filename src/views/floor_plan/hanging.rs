//! What hangs where in the house, with the cables that come to it: one list for plans and tables.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::compiled::Compiled;
use crate::draw::plan::Sign;
use crate::labels;
use crate::model::{Board, BoardKind, Device, DeviceKind, Hung, Level, Mounted, Opening, Owner, Part, Room, Run, Site};
use crate::quantity::Metres;
use crate::register::Point;
use crate::terms::Senses;
use crate::views::natural::natural;
use crate::words::{self, Paper};

/// A cable that comes to a thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Comes {
    /// The text on its ends.
    pub(crate) label: String,
    /// Where it comes from: a board or a room, short enough for a plan.
    pub(crate) from: String,
    /// What it starts at, as the label list says.
    pub(crate) starts_at: String,
}

/// A cable that starts at a thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Leaves {
    /// The text on its ends.
    pub(crate) label: String,
    /// Where it goes.
    pub(crate) to: String,
}

/// A device, a board, a joint or the end of a cable.
#[derive(Clone, Debug)]
pub(crate) struct Hanging<'s> {
    /// Its place on the page, of our own words and numbers.
    pub(crate) mark: String,
    /// Its row among those of its level on the rough-in sheet, which is its number on the plan.
    pub(crate) number: usize,
    /// The device that it is.
    pub(crate) device: Option<Id<Device>>,
    /// What it is bought as, where it is bought for this site.
    pub(crate) part: Option<Id<Part>>,
    /// True where it was there before.
    pub(crate) existing: bool,
    /// How it is shown.
    pub(crate) sign: Sign,
    /// What it is called.
    pub(crate) title: String,
    /// Where it is.
    pub(crate) room: Option<Id<Room>>,
    /// The opening that it is at.
    pub(crate) opening: Option<Id<Opening>>,
    /// Where in the room it is.
    pub(crate) hung: Option<&'s Hung>,
    /// Its height.
    pub(crate) mount: Option<Metres>,
    /// The zone that reports it.
    pub(crate) zone: Option<u32>,
    /// The cables that come to it, each once.
    pub(crate) cables: Vec<Comes>,
    /// The cables that start at it, each once.
    pub(crate) leaving: Vec<Leaves>,
}

/// Cables by what is at their ends.
#[derive(Default)]
struct Ends {
    devices: BTreeMap<Id<Device>, Met>,
    boards: BTreeMap<Id<Board>, Met>,
    /// Each with what is there, as the labels have it.
    bare: Vec<(Id<Run>, String, Met)>,
    /// Powered devices on ways to the service, by what they are and their name, each with the first cable that comes to it.
    hops: BTreeMap<(String, Option<String>), (Id<Run>, Met)>,
}

/// The cables that end and start at one thing.
#[derive(Default)]
struct Met {
    comes: Vec<Comes>,
    leaves: Vec<Leaves>,
}

impl Met {
    fn add(&mut self, comes: Option<&Comes>, leaves: &[Leaves]) {
        if let Some(comes) = comes.filter(|comes| !self.comes.contains(comes)) {
            self.comes.push(comes.clone());
        }
        for one in leaves {
            if !self.leaves.contains(one) {
                self.leaves.push(one.clone());
            }
        }
    }
}

/// Everything that hangs in the house: devices, then boards, then joints and other ends of cables.
pub(crate) fn all(compiled: &Compiled) -> Vec<Hanging<'_>> {
    let site = &compiled.site;
    let mut ends = ends(compiled);
    let devices = site.devices.entries().zip(1..).map(|((id, device), nth)| {
        let opening = device.opening.as_ref().map(|opening| opening.value).filter(|_| is_at_opening(site, id));
        let Met { comes, leaves } = ends.devices.remove(&id).unwrap_or_default();
        Hanging {
            mark: format!("device-{nth}"),
            number: 0,
            device: Some(id),
            part: device.part.filter(|_| !device.was_there()),
            existing: device.was_there(),
            sign: sign_of(site, id),
            title: Paper.device(site, id),
            room: opening.map(|opening| site.openings[opening].room).or(device.room),
            opening,
            hung: device.hung.as_ref(),
            mount: device.mount,
            zone: device.zone.map(|zone| site.zones[zone].number.value),
            cables: comes,
            leaving: leaves,
        }
    });
    let mut all: Vec<Hanging> = devices.collect();
    all.extend(site.boards.entries().zip(1..).map(|((id, board), nth)| {
        let Met { comes, leaves } = ends.boards.remove(&id).unwrap_or_default();
        Hanging {
            mark: format!("board-{nth}"),
            number: 0,
            device: None,
            part: board.part.filter(|_| !board.existing),
            existing: board.existing,
            sign: sign_of_board(&board.kind),
            title: Paper.board(site, id),
            room: board.room,
            opening: None,
            hung: board.hung.as_ref(),
            mount: board.mount,
            zone: None,
            cables: comes,
            leaving: leaves,
        }
    }));
    // An end that was never found hangs nowhere.
    let bare = ends.bare.into_iter().filter(|(run, ..)| site.runs[*run].room.is_some());
    let bare = bare.map(|(run, name, met)| {
        let is_joint = site.runs_after(run).next().is_some();
        let sign = if is_joint { Sign::Joint } else { Sign::End };
        (run, sign, bare_title(site, run, name, is_joint), met)
    });
    let hops = ends.hops.into_iter().map(|((name, _), (run, met))| (run, Sign::End, name, met));
    all.extend(bare.chain(hops).zip(1..).map(|((run, sign, title, met), nth)| Hanging {
        mark: format!("end-{nth}"),
        number: 0,
        device: None,
        part: None,
        existing: false,
        sign,
        title,
        room: site.runs[run].room,
        opening: None,
        hung: None,
        mount: None,
        zone: None,
        cables: met.comes,
        leaving: met.leaves,
    }));
    number(site, &mut all);
    all
}

/// Numbers what hangs on each level, room by room.
fn number(site: &Site, all: &mut [Hanging]) {
    let title = |hanging: &Hanging| hanging.room.map(|room| site.rooms[room].title.as_str()).unwrap_or_default();
    let mut order: Vec<&mut Hanging> = all.iter_mut().collect();
    order.sort_by(|one, other| natural(title(one), title(other)));
    let mut counts: BTreeMap<Option<Id<Level>>, usize> = BTreeMap::new();
    for hanging in order {
        let count = counts.entry(hanging.room.map(|room| site.rooms[room].level)).or_default();
        *count += 1;
        hanging.number = *count;
    }
}

/// The cables of the house, each with what is at its ends. A run in a cable of another ends where that is heard of.
fn ends(compiled: &Compiled) -> Ends {
    let Compiled { site, wiring, .. } = compiled;
    let named = labels::named(site, wiring);
    let cable_of = |run: Id<Run>| {
        let at = *wiring.cable_of.get(&run)?;
        Some((wiring.cables.get(at)?, named.get(at)?))
    };
    let leaves = |run: Id<Run>| {
        let (cable, [_, end]) = cable_of(run).filter(|(cable, _)| cable.run == run)?;
        Some(Leaves { label: cable.label.clone(), to: end.name.clone() })
    };
    let mut ends = Ends::default();
    for (id, run) in site.runs.entries() {
        let Some((cable, [start, end])) = cable_of(id) else { continue };
        let comes =
            Comes { label: cable.label.clone(), from: words::start(site, cable.run), starts_at: start.name.clone() };
        if let (Some(board), Some(leaves)) = (site.start_board(id), leaves(id)) {
            ends.boards.entry(board).or_default().add(None, std::slice::from_ref(&leaves));
            // Some of its conductors land on another board, as on a supply that stands alone. A strip is in its board's enclosure.
            for (other, _) in cable.conductors.iter().flat_map(|used| &used.near).filter_map(Point::terminal) {
                if other != board && !site.boards[other].kind.is_strip() {
                    ends.boards.entry(other).or_default().add(None, std::slice::from_ref(&leaves));
                }
            }
        }
        let on: Vec<Leaves> = site.runs_after(id).filter_map(|(next, _)| leaves(next)).collect();
        let mut bare = true;
        for item in &run.mounted {
            let met = match item {
                Mounted::Device(device) => ends.devices.entry(*device).or_default(),
                Mounted::Feed(device) => ends.devices.entry(device.value).or_default(),
                Mounted::Board(board) => ends.boards.entry(*board).or_default(),
                Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Terminator(_) | Mounted::Hop(_) => continue,
            };
            met.add(Some(&comes), &on);
            bare = false;
        }
        if let Some(board) = site.ends_in(id) {
            ends.boards.entry(board).or_default().add(Some(&comes), &on);
        } else if let Some(hop) = site.hop_at_end(id).and_then(|hop| site.hop_identity(hop)).filter(|_| bare) {
            let (is, name) = hop;
            let key = (is.to_owned(), name.map(str::to_owned));
            let (_, met) = ends.hops.entry(key).or_insert_with(|| (id, Met::default()));
            met.add(Some(&comes), &on);
        } else if bare && run.along.is_none() {
            ends.bare.push((id, end.name.clone(), Met { comes: vec![comes], leaves: on }));
        }
    }
    ends
}

/// A contact is at its opening; what else watches one hangs in the room.
fn is_at_opening(site: &Site, id: Id<Device>) -> bool {
    site.devices[id].kind == DeviceKind::Contact || matches!(site.senses(id), Some(Senses::Opening | Senses::Tamper))
}

/// What a cable ends at that is no device of the alarm: what its label calls it, where that is more than the room.
fn bare_title(site: &Site, run: Id<Run>, name: String, is_joint: bool) -> String {
    let room = words::room(site, site.runs[run].room);
    match site.runs[run].owner {
        Owner::Transformer(board) => format!("transformer of {}", Paper.board(site, board)),
        _ if !name.is_empty() && !room.contains(&name) && !name.contains(&room) => name,
        _ if is_joint => String::new(),
        Owner::Communicator(line) => site.communicators[line].title.clone(),
        Owner::Spare(spare) => site.spares[spare].title.clone(),
        owner @ (Owner::Zone(_) | Owner::Bus(_) | Owner::Circuit(_)) => format!("end of {}", Paper.owner(site, owner)),
    }
}

fn sign_of(site: &Site, id: Id<Device>) -> Sign {
    match site.devices[id].kind {
        DeviceKind::Sounder => Sign::Worker("SO", "sounder"),
        DeviceKind::Load => Sign::Worker("L", "lamp, lock, relay or another load"),
        DeviceKind::Fault => Sign::Sensor("F", "fault contact of a board"),
        kind @ (DeviceKind::Contact | DeviceKind::Detector | DeviceKind::Wireless) => {
            let (letters, meaning) = site.senses(id).map_or(("D", "detector"), letters);
            if kind == DeviceKind::Wireless { Sign::Wireless(letters, meaning) } else { Sign::Sensor(letters, meaning) }
        }
    }
}

fn letters(senses: Senses) -> (&'static str, &'static str) {
    match senses {
        Senses::Opening => ("C", "contact"),
        Senses::Motion => ("M", "motion detector"),
        Senses::Glass => ("GB", "glass-break detector"),
        Senses::Vibration => ("VI", "vibration detector"),
        Senses::Step => ("FM", "floor mat"),
        Senses::Smoke => ("S", "smoke detector"),
        Senses::Heat => ("H", "heat detector"),
        Senses::CarbonMonoxide => ("CO", "carbon monoxide detector"),
        Senses::Gas => ("G", "gas detector"),
        Senses::Water => ("W", "water detector"),
        Senses::Temperature => ("T", "temperature detector"),
        Senses::Button => ("B", "button"),
        Senses::Tamper => ("TA", "cover contact"),
        Senses::Supply => ("V", "supply relay"),
    }
}

fn sign_of_board(kind: &BoardKind) -> Sign {
    match kind {
        BoardKind::Panel => Sign::Board("P", "panel"),
        BoardKind::PowerSupply => Sign::Board("PS", "power supply"),
        BoardKind::Keypad { .. } => Sign::Board("K", "keypad"),
        BoardKind::Module { .. } => Sign::Board("X", "expander or another module"),
        BoardKind::Receiver => Sign::Board("R", "wireless receiver"),
        BoardKind::Strip { .. } => Sign::Board("TS", "terminal strip"),
        BoardKind::JointBox { .. } => Sign::Board("J", "joint box"),
    }
}

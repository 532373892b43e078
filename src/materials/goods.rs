//! Goods: parts, batteries, resistors and the like, counted by what is bought.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Id, wording};
use crate::calc::power::standby::Bank;
use crate::model::{
    Board, BoardKind, Communicator, Device, DeviceKind, Hop, HopRef, Mounted, Owner, Part, Run, Site, Transformer,
};
use crate::quantity::{AmpereHours, Resistance, VoltAmperes, Volts};
use crate::terms::{JackKind, MountingBox, Path};
use crate::words;

/// The kinds of a shopping list, in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    /// Panels, power supplies, modules and receivers.
    Board,
    /// Keypads.
    Keypad,
    /// Wired detectors.
    Detector,
    /// Contacts and buttons.
    Contact,
    /// What sounds.
    Sounder,
    /// What is switched and neither senses nor sounds.
    Load,
    /// Wireless detectors.
    Wireless,
    /// Standby batteries.
    Battery,
    /// Mains transformers.
    Transformer,
    /// Jacks and powered devices on a way to the monitoring service.
    Line,
    /// Joint boxes and strips.
    Enclosure,
    /// Resistors and diodes.
    Resistor,
    /// Fuses and earth conductors.
    Lead,
    /// What conductors are joined by.
    Connector,
    /// Labels for the ends of cables.
    Label,
    /// Cable.
    Cable,
}

impl Kind {
    /// The kind in the list.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Board => "boards",
            Self::Keypad => "keypads",
            Self::Detector => "detectors",
            Self::Contact => "contacts",
            Self::Sounder => "sounders",
            Self::Load => "loads",
            Self::Wireless => "wireless",
            Self::Battery => "batteries",
            Self::Transformer => "transformers",
            Self::Line => "line and network",
            Self::Enclosure => "boxes and strips",
            Self::Resistor => "resistors",
            Self::Lead => "fuses and earth",
            Self::Connector => "connectors",
            Self::Label => "labels",
            Self::Cable => "cable",
        }
    }
}

/// So many of one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// How many.
    pub(crate) count: usize,
    /// What.
    pub(crate) what: Goods,
}

/// A thing on a shelf.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Goods {
    /// A part.
    Part {
        /// What it is used as.
        kind: Kind,
        /// Its name.
        name: String,
        /// Its title.
        title: String,
    },
    /// A terminal strip with so many ways.
    Strip(u32),
    /// A joint box.
    JointBox,
    /// A box that a part is mounted on.
    MountingBox(MountingBox),
    /// A battery.
    Battery(Volts, AmpereHours),
    /// A mains transformer.
    Transformer(Volts, VoltAmperes),
    /// A resistor.
    Resistor(Resistance),
    /// A diode across a coil.
    Diode,
    /// The jack of a telephone line.
    Jack(JackKind),
    /// The antenna of a radio, at the end of its cable.
    Antenna,
    /// A device on a way to the monitoring service that the alarm's own supply feeds.
    Hop(String),
}

impl Goods {
    /// Its kind.
    pub(crate) fn kind(&self) -> Kind {
        match self {
            Self::Part { kind, .. } => *kind,
            Self::Strip(_) | Self::JointBox | Self::MountingBox(_) => Kind::Enclosure,
            Self::Battery(..) => Kind::Battery,
            Self::Transformer(..) => Kind::Transformer,
            Self::Resistor(_) | Self::Diode => Kind::Resistor,
            Self::Jack(_) | Self::Antenna | Self::Hop(_) => Kind::Line,
        }
    }

    /// What to ask for in a shop.
    pub(crate) fn title(&self) -> String {
        match self {
            Self::Part { title, .. } => title.clone(),
            Self::Strip(ways) => format!("Terminal strip, {ways} ways"),
            Self::JointBox => "Joint box".to_owned(),
            Self::MountingBox(kind) => format!("Mounting {}", kind.printed()),
            Self::Battery(volts, capacity) => format!("Battery, {} {capacity}", words::rated(*volts)),
            Self::Transformer(volts, rating) => format!("Transformer, {} AC, {rating}", words::rated(*volts)),
            Self::Resistor(value) => match value.marking() {
                Some(marking) => format!("Resistor {marking}: {}", words::resistor(value)),
                None => format!("Resistor {}", words::resistor(value)),
            },
            Self::Diode => "Diode for a coil".to_owned(),
            Self::Jack(JackKind::LineSeizure) => "Telephone jack, 8 positions, with shorting bars".to_owned(),
            Self::Jack(JackKind::Bridged) => "Telephone jack, 6 positions".to_owned(),
            Self::Antenna => "Antenna, with what joins its cable".to_owned(),
            Self::Hop(name) => wording::capital(name),
        }
    }

    /// What is the same in every site that is looked at.
    fn key(&self, shared: &SharedTitles) -> String {
        match self {
            Self::Part { name, title, .. } => shared.key(name, title),
            Self::Resistor(value) => format!("resistor {value:?}"),
            Self::Strip(_)
            | Self::JointBox
            | Self::MountingBox(_)
            | Self::Battery(..)
            | Self::Transformer(..)
            | Self::Diode
            | Self::Jack(_)
            | Self::Antenna
            | Self::Hop(_) => self.title(),
        }
    }
}

/// The titles that several parts of one site have. Parts go by their titles, for a name is the spec's own and may change;
/// where that would make one thing of two, they go by their names as well.
#[derive(Debug, Default)]
pub(crate) struct SharedTitles(BTreeSet<String>);

impl SharedTitles {
    /// Those of the sites that are compared.
    pub(crate) fn of(sites: &[&Site]) -> Self {
        let mut shared = BTreeSet::new();
        for site in sites {
            let mut seen = BTreeSet::new();
            shared.extend(site.parts.iter().map(|part| &part.title).filter(|title| !seen.insert(*title)).cloned());
        }
        Self(shared)
    }

    /// The key of a part in [`beside`].
    pub(crate) fn key_of(&self, part: &Part) -> String {
        self.key(&part.name.value, &part.title)
    }

    fn key(&self, name: &str, title: &str) -> String {
        if self.0.contains(title) { format!("part {title} {name}") } else { format!("part {title}") }
    }
}

/// The things of a site that a comparison counts itself, or that count although they were in the house before.
#[derive(Debug, Default)]
pub(crate) struct Stays {
    /// Devices that are counted whatever is said of them.
    pub(crate) devices: BTreeSet<Id<Device>>,
    /// Boards that are.
    pub(crate) boards: BTreeSet<Id<Board>>,
    /// Boards of which the transformer is.
    pub(crate) transformers: BTreeSet<Id<Board>>,
    /// Boards of which the batteries are not counted.
    pub(crate) batteries: BTreeSet<Id<Board>>,
    /// Runs at which what is fitted is counted whatever is said of their cables.
    pub(crate) runs: BTreeSet<Id<Run>>,
    /// Devices that were there before and are taken down. The box in the wall stays the house's.
    pub(crate) devices_down: BTreeSet<Id<Device>>,
    /// Boards that are, with their supplies.
    pub(crate) boards_down: BTreeSet<Id<Board>>,
}

/// Everything of a site that is bought as a piece, by a key that is the same in every site.
pub(crate) fn of(site: &Site) -> BTreeMap<String, Item> {
    beside(site, &Stays::default(), &SharedTitles::of(&[site]))
}

/// The same where a comparison knows that some things stay.
pub(crate) fn beside(site: &Site, stays: &Stays, shared: &SharedTitles) -> BTreeMap<String, Item> {
    let mut goods = BTreeMap::new();
    let mut add = |count: usize, what: Goods| {
        goods.entry(what.key(shared)).or_insert(Item { count: 0, what }).count += count;
    };
    for (id, board) in site.boards.entries() {
        for (count, what) in of_board(site, id, board, stays) {
            add(count, what);
        }
    }
    for (id, device) in site.devices.entries() {
        let bought = stays.devices.contains(&id) || !device.was_there();
        let is_down = stays.devices_down.contains(&id);
        for what in of_device(site, device, bought || is_down) {
            if !(is_down && matches!(what, Goods::MountingBox(_))) {
                add(1, what);
            }
        }
    }
    for (owner, run, what) in fitted(site) {
        let is_known = match run {
            Some(run) => stays.runs.contains(&run),
            None => site.runs_of(owner).any(|(run, _)| stays.runs.contains(&run)),
        };
        if is_known || !fitted_before(site, owner, run) {
            add(1, what);
        }
    }
    let hops = site.hops().filter(|(id, _)| is_bought(site, *id));
    hops.for_each(|(_, hop)| add(1, Goods::Hop(hop.name.value.clone())));
    goods
}

/// Resistors, terminators and jacks, with what each is of and the run at whose end it is; `None` at the board.
fn fitted(site: &Site) -> impl Iterator<Item = (Owner, Option<Id<Run>>, Goods)> {
    let loops = site.zones.entries().map(|(id, _)| Owner::Zone(id));
    let buses = site.buses.entries().map(|(id, _)| Owner::Bus(id));
    let at_boards = loops.chain(buses).map(|owner| (owner, None));
    let places = at_boards.chain(site.runs.entries().map(|(id, run)| (run.owner, Some(id))));
    let values = places.flat_map(|(owner, run)| {
        let values = site.mounted(owner, run).iter().filter_map(resistance);
        values.map(move |value| (owner, run, Goods::Resistor(value)))
    });
    let ways = site.communicators.entries();
    let ends = ways.filter_map(|(id, way)| Some((Owner::Communicator(id), way.run, at_end_of(way)?)));
    values.chain(ends)
}

/// What a way to the service ends at, where that is the alarm's: the jack of its line, or the antenna of its radio.
pub(crate) fn at_end_of(way: &Communicator) -> Option<Goods> {
    let is_radio = way.path.as_ref().is_some_and(|path| path.value == Path::Radio);
    way.jack.map(Goods::Jack).or_else(|| (is_radio && way.run.is_some()).then_some(Goods::Antenna))
}

/// True where something is fitted that is taken to have been there before.
pub(crate) fn has_fitted_before(site: &Site) -> bool {
    fitted(site).any(|(owner, run, _)| fitted_before(site, owner, run))
}

/// True for what was fitted before: at the end of a cable that was there, with devices and boards that were, or at a board that
/// was with all the cables of that loop or bus.
pub(crate) fn fitted_before(site: &Site, owner: Owner, run: Option<Id<Run>>) -> bool {
    match run {
        Some(run) => {
            // A fault contact is one of its board.
            let was_there = |id: Id<Device>| match &site.devices[id].board {
                Some(board) => site.boards[board.value].existing,
                None => site.devices[id].was_there(),
            };
            let is_new = |item: &Mounted| match item {
                Mounted::Device(id) => !was_there(*id),
                Mounted::Board(id) => !site.boards[*id].existing,
                Mounted::Run(_)
                | Mounted::Resistor(_)
                | Mounted::Terminator(_)
                | Mounted::Feed(_)
                | Mounted::Hop(_) => false,
            };
            site.is_existing(run) && !site.runs[run].mounted.iter().any(is_new)
        }
        None => {
            let board = site.home(owner).is_some_and(|board| site.boards[board].existing);
            let mut runs = site.runs_of(owner).map(|(run, _)| site.is_existing(run)).peekable();
            board && runs.peek().is_some() && runs.all(|existing| existing)
        }
    }
}

/// True for what the alarm feeds, itself or through another hop: what the house feeds is the house's, as a router or a
/// fibre unit.
pub(crate) fn is_bought(site: &Site, hop: HopRef) -> bool {
    let fed = |hop: &Hop| hop.output.is_some() || !hop.fed_by.is_empty();
    std::iter::once(hop).chain(site.hops_before(hop)).filter_map(|hop| site.hop(hop)).any(fed)
}

/// The value of a resistor or terminator.
pub(crate) fn resistance(item: &Mounted) -> Option<Resistance> {
    match item {
        Mounted::Resistor(value) => Some(value.value),
        Mounted::Terminator(value) => Some(Resistance::new(value.value)),
        Mounted::Run(_) | Mounted::Device(_) | Mounted::Board(_) | Mounted::Feed(_) | Mounted::Hop(_) => None,
    }
}

fn part(site: &Site, kind: Kind, id: Id<Part>) -> Goods {
    let part = &site.parts[id];
    Goods::Part { kind, name: part.name.value.clone(), title: part.title.clone() }
}

/// What is bought for a board: what was there before is not.
fn of_board(site: &Site, id: Id<Board>, board: &Board, stays: &Stays) -> Vec<(usize, Goods)> {
    let is_down = stays.boards_down.contains(&id);
    let is_there = board.existing && !is_down && !stays.boards.contains(&id);
    let mut goods = if is_there { Vec::new() } else { itself(site, board) };
    goods.retain(|(_, what)| !(is_down && board.existing && matches!(what, Goods::MountingBox(_))));
    let counts = |existing: bool| (!existing || is_down) && !stays.batteries.contains(&id);
    goods.extend(batteries(site, id).filter(|of| counts(of.0)).map(|(_, count, what)| (count, what)));
    let counts = |existing: bool| !existing || is_down || stays.transformers.contains(&id);
    let transformer = board.transformer.iter().filter(|of| counts(of.existing));
    goods.extend(transformer.map(|of| (1, self::transformer(of))));
    goods
}

/// A board without its supply, and the box that it hangs on.
fn itself(site: &Site, board: &Board) -> Vec<(usize, Goods)> {
    let kind = match &board.kind {
        BoardKind::Keypad { .. } => Kind::Keypad,
        BoardKind::Panel | BoardKind::PowerSupply | BoardKind::Module { .. } | BoardKind::Receiver => Kind::Board,
        BoardKind::Strip { ways, .. } => return vec![(1, Goods::Strip(*ways))],
        BoardKind::JointBox { .. } => return vec![(1, Goods::JointBox)],
    };
    let is = board.part.map(|id| part(site, kind, id));
    let on = board.part.and_then(|id| mounting_box(&site.parts[id]));
    is.into_iter().chain(on).map(|what| (1, what)).collect()
}

/// A transformer.
pub(crate) fn transformer(of: &Transformer) -> Goods {
    Goods::Transformer(of.volts.value, of.rating.value)
}

/// A battery of that capacity at a board, with its key.
pub(crate) fn battery(site: &Site, id: Id<Board>, capacity: AmpereHours) -> Option<(String, Goods)> {
    let what = batteries(site, id).map(|(.., what)| what);
    let mut what = what.filter(|what| matches!(what, Goods::Battery(_, of) if *of == capacity));
    what.next().map(|what| (what.key(&SharedTitles::default()), what))
}

/// The batteries of a board: whether they were there before, how many, and what they are.
fn batteries(site: &Site, id: Id<Board>) -> impl Iterator<Item = (bool, usize, Goods)> {
    let found = site.boards[id].battery.as_ref().zip(Bank::of(site, id)).map(|(battery, bank)| {
        let one = bank.volts * (1.0 / f64::from(bank.in_series));
        let alike = (battery.existing, battery.count.max(1) as usize, battery.capacity.value);
        let others = battery.others.iter().map(|other| (other.existing, 1, other.capacity.value));
        std::iter::once(alike)
            .chain(others)
            .map(move |(existing, count, capacity)| (existing, count, Goods::Battery(one, capacity)))
    });
    found.into_iter().flatten()
}

fn of_device(site: &Site, device: &Device, bought: bool) -> Vec<Goods> {
    let kind = match device.kind {
        DeviceKind::Contact => Kind::Contact,
        DeviceKind::Detector => Kind::Detector,
        DeviceKind::Sounder => Kind::Sounder,
        DeviceKind::Load => Kind::Load,
        DeviceKind::Wireless => Kind::Wireless,
        // It is a contact of a board that is counted already.
        DeviceKind::Fault => return shunt(device).collect(),
    };
    let is = device.part.filter(|_| bought);
    let on = is.and_then(|id| mounting_box(&site.parts[id]));
    let is = is.map(|id| part(site, kind, id));
    let shunt = bought.then(|| shunt(device)).into_iter().flatten();
    is.into_iter().chain(on).chain(shunt).chain((bought && device.diode).then_some(Goods::Diode)).collect()
}

/// The box that is bought with a part.
fn mounting_box(part: &Part) -> Option<Goods> {
    part.mounting_box.filter(|of| *of != MountingBox::NoBox).map(Goods::MountingBox)
}

fn shunt(device: &Device) -> impl Iterator<Item = Goods> {
    device.shunt.iter().map(|shunt| Goods::Resistor(shunt.value))
}

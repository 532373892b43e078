//! What the things of a site are called: in a comparison (a subject: a kind and a key), and in the JSON.
//!
//! Zones are known by number, runs by the label of their cable, devices without a name by their zone or circuit and what
//! they watch or are, all others by name. A name of the JSON may be another: there a device is counted within its zone.

use std::collections::{BTreeMap, BTreeSet};

use super::chain::{Output, Owner};
use super::item::Reference;
use crate::base::{Id, Spanned};
use crate::model::{
    self, Area, Board, Bus, CableType, Circuit, Communicator, Device, Opening, OutputRef, Part, Room, Run, Site, Spare,
    Zone,
};
use crate::register::Wiring;

/// What kind of thing; the order is that of a list of changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// The site itself.
    Site,
    /// A storey.
    Level,
    /// A room.
    Room,
    /// A door, window or hatch.
    Opening,
    /// A panel, keypad, module, receiver or strip.
    Board,
    /// An area.
    Area,
    /// A zone.
    Zone,
    /// A contact, detector, sounder or wireless detector.
    Device,
    /// A data bus.
    Bus,
    /// A powered circuit.
    Circuit,
    /// A cable pulled for later.
    Spare,
    /// A way to the monitoring service.
    Communicator,
    /// What the service's form wants.
    Monitoring,
    /// A cable, by its label; or a run that shares one.
    Cable,
    /// A conductor of a cable.
    Conductor,
    /// A type of cable.
    CableType,
    /// What a data sheet says.
    Part,
    /// An accepted finding.
    Accept,
}

impl Kind {
    /// Every kind, references before those that refer to them.
    pub(crate) const ALL: [Self; 18] = [
        Self::Site,
        Self::Level,
        Self::Room,
        Self::Opening,
        Self::Part,
        Self::CableType,
        Self::Board,
        Self::Area,
        Self::Bus,
        Self::Circuit,
        Self::Spare,
        Self::Communicator,
        Self::Monitoring,
        Self::Zone,
        Self::Device,
        Self::Cable,
        Self::Conductor,
        Self::Accept,
    ];
}

/// A thing by kind and name.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Subject {
    /// What kind of thing.
    pub kind: Kind,
    /// The name that it is known by; a label for cables, made up of its place where it has no name.
    pub key: String,
}

impl Subject {
    /// A thing by kind and name.
    pub(crate) fn new(kind: Kind, key: impl Into<String>) -> Self {
        Self { kind, key: key.into() }
    }
}

/// What the things of a site are called.
#[derive(Debug)]
pub struct Names<'s> {
    /// The site.
    pub(crate) site: &'s Site,
    /// Its labels and landings.
    pub(crate) wiring: &'s Wiring,
    /// By run: what a comparison knows it by.
    runs: BTreeMap<Id<Run>, String>,
    /// By run: the label of the cable that it goes through.
    labels: BTreeMap<Id<Run>, String>,
    /// By device: what a comparison knows it by, and its id in the JSON.
    devices: Vec<(String, String)>,
}

macro_rules! by_name {
    ($($(#[$doc:meta])* $name:ident: $type:ident in $arena:ident;)*) => {$(
        $(#[$doc])*
        pub(crate) fn $name(&self, id: Id<$type>) -> Reference {
            Self::named(Kind::$type, &self.site.$arena[id].name)
        }
    )*};
}

impl<'s> Names<'s> {
    /// The names of a site.
    pub fn of(site: &'s Site, wiring: &'s Wiring) -> Self {
        let mut names = Self { site, wiring, runs: BTreeMap::new(), labels: BTreeMap::new(), devices: Vec::new() };
        names.name_runs();
        names.name_devices();
        names
    }

    fn name_runs(&mut self) {
        for cable in &self.wiring.cables {
            self.runs.insert(cable.run, cable.label.clone());
            for guest in &cable.carries {
                self.labels.insert(*guest, cable.label.clone());
                if *guest != cable.run {
                    let owner = self.owner(self.site.runs[*guest].owner).subject().key;
                    self.runs.insert(*guest, format!("{} for {owner}", cable.label));
                }
            }
        }
        for (id, run) in self.site.runs.entries() {
            if !self.runs.contains_key(&id) {
                let owner = self.owner(run.owner).subject().key;
                self.runs.insert(id, format!("{owner} run {}", run.order));
            }
        }
        // The register forbids a label twice, and a check reports it; here every run needs a key of its own.
        let mut seen = BTreeMap::new();
        for name in self.runs.values_mut() {
            number(name, &mut seen);
        }
    }

    fn name_devices(&mut self) {
        let mut seen = BTreeMap::new();
        let mut counts: BTreeMap<Option<model::Owner>, usize> = BTreeMap::new();
        // What has a name keeps it, so no other may be numbered into it.
        let given: BTreeSet<&str> = self
            .site
            .devices
            .iter()
            .filter_map(|device| device.name.as_ref())
            .map(|name| name.value.as_str())
            .collect();
        for device in &self.site.devices {
            let owner = owner_of(self.site, device);
            let mut key = device_key(self.site, device, owner);
            number(&mut key, &mut seen);
            let in_json = match &device.name {
                Some(name) => name.value.clone(),
                None => {
                    let count = counts.entry(owner).or_insert(0);
                    let of = match owner.map(|owner| self.owner(owner).subject()) {
                        Some(Subject { kind: Kind::Zone, key }) => format!("zone-{key}"),
                        Some(Subject { key, .. }) => format!("circuit-{key}"),
                        None => "device".to_owned(),
                    };
                    loop {
                        *count += 1;
                        let numbered = format!("{of}.{count}");
                        if !given.contains(numbered.as_str()) {
                            break numbered;
                        }
                    }
                }
            };
            self.devices.push((key, in_json));
        }
    }

    fn named(kind: Kind, name: &Spanned<String>) -> Reference {
        Reference { subject: Subject::new(kind, &name.value), text: name.value.clone() }
    }

    by_name! {
        /// A room by name.
        room: Room in rooms;
        /// An opening by name.
        opening: Opening in openings;
        /// A part by name.
        part: Part in parts;
        /// A cable type by name.
        cable_type: CableType in cables;
        /// A board by name.
        board: Board in boards;
        /// An area by name.
        area: Area in areas;
        /// A bus by name.
        bus: Bus in buses;
        /// A circuit by name.
        circuit: Circuit in circuits;
        /// A cable pulled for later by name.
        spare: Spare in spares;
        /// A way to the monitoring service by name.
        communicator: Communicator in communicators;
    }

    /// A zone's number.
    pub(crate) fn zone(&self, id: Id<Zone>) -> u32 {
        self.site.zones[id].number.value
    }

    /// A device: by its key, in the JSON by its id.
    pub(crate) fn device(&self, id: Id<Device>) -> Reference {
        let (key, text) = self.devices.get(id.index()).cloned().unwrap_or_default();
        Reference { subject: Subject::new(Kind::Device, key), text }
    }

    /// A run: by its key, in the JSON by the label of the cable that it goes through.
    pub(crate) fn run(&self, id: Id<Run>) -> Reference {
        let key = self.runs.get(&id).cloned().unwrap_or_default();
        Reference { text: self.labels.get(&id).unwrap_or(&key).clone(), subject: Subject::new(Kind::Cable, key) }
    }

    /// The label of the cable that a run goes through; `None` where its type is not known.
    pub(crate) fn label(&self, id: Id<Run>) -> Option<String> {
        self.labels.get(&id).cloned()
    }

    /// What a run belongs to.
    pub(crate) fn owner(&self, owner: model::Owner) -> Owner {
        match owner {
            model::Owner::Zone(zone) => Owner::Zone { zone: self.zone(zone) },
            model::Owner::Bus(bus) => Owner::Bus { bus: self.bus(bus) },
            model::Owner::Circuit(circuit) => Owner::Circuit { circuit: self.circuit(circuit) },
            model::Owner::Transformer(board) => Owner::Transformer { board: self.board(board) },
            model::Owner::Spare(spare) => Owner::Spare { spare: self.spare(spare) },
            model::Owner::Communicator(line) => Owner::Communicator { communicator: self.communicator(line) },
        }
    }

    /// An output of a board: the board and the output's name, which is empty where the part is not known.
    pub(crate) fn output(&self, output: OutputRef) -> Output {
        let name = self.site.output(output).map(|output| output.name.value.clone());
        Output { board: self.board(output.board), output: name.unwrap_or_default() }
    }

    /// The runs of a site by their keys.
    pub(crate) fn run_keys(&self) -> BTreeMap<String, Id<Run>> {
        self.runs.iter().map(|(id, key)| (key.clone(), *id)).collect()
    }

    /// The devices of a site by their keys.
    pub(crate) fn device_keys(&self) -> BTreeMap<String, Id<Device>> {
        self.devices.iter().zip(self.site.devices.entries()).map(|((key, _), (id, _))| (key.clone(), id)).collect()
    }
}

/// Makes a name the only one of its kind: the second gets "(2)".
pub(crate) fn number(name: &mut String, seen: &mut BTreeMap<String, u32>) {
    let nth = seen.entry(name.clone()).or_insert(0);
    *nth += 1;
    if *nth > 1 {
        *name = format!("{name} ({nth})");
    }
}

/// What a device belongs to: its zone, else what its run belongs to.
pub(crate) fn owner_of(site: &Site, device: &Device) -> Option<model::Owner> {
    device.zone.map(model::Owner::Zone).or_else(|| device.run.map(|run| site.runs[run].owner))
}

/// Its name, else its zone or circuit with its opening, else with its part and room.
fn device_key(site: &Site, device: &Device, owner: Option<model::Owner>) -> String {
    if let Some(name) = &device.name {
        return name.value.clone();
    }
    let owner = match owner {
        Some(model::Owner::Zone(zone)) => format!("zone {}", site.zones[zone].number.value),
        Some(model::Owner::Circuit(circuit)) => format!("circuit {}", site.circuits[circuit].name.value),
        Some(
            model::Owner::Bus(_)
            | model::Owner::Spare(_)
            | model::Owner::Communicator(_)
            | model::Owner::Transformer(_),
        )
        | None => "site".to_owned(),
    };
    match &device.opening {
        Some(opening) => format!("{owner} on {}", site.openings[opening.value].name.value),
        None => {
            let part = device.part.map(|part| site.parts[part].name.value.as_str()).unwrap_or_default();
            let room = device.room.map(|room| site.rooms[room].name.value.as_str()).unwrap_or_default();
            format!("{owner} {part} in {room}")
        }
    }
}

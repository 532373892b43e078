//! A site as a flat map: which things there are, and what is true of each. Two sites are compared, and a diff is
//! applied, on these maps alone.
//!
//! A *subject* is a kind and a name; a *thing* is a subject with its facts; a fact is a field's name and a value,
//! which is text, figures and references to other subjects. Every struct of the model is taken apart here without
//! `..`, so a field that is added to the model does not compile until its place in the facts is decided. What can be
//! derived (the order of runs, which circuits feed a detector) is not told twice; spans and marks of "was reported" are
//! no facts of the wall.

mod boards;
mod field;
mod parts;
mod places;
mod runs;
mod site;
mod zones;

use std::collections::BTreeMap;

pub use field::{Atom, Fields, Value};

use crate::base::Id;
use crate::model::{Board, CableType, Circuit, Device, Opening, OutputRef, Part, Room, Run, Site, Zone};
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
    pub const ALL: [Self; 17] = [
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

/// A thing with its facts. Equality is that of the facts.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its facts.
    pub fields: Fields,
    /// What it is, in words: "zone 7 Garden door", "keypad Keypad in the hall".
    pub said: String,
    /// True where the key is a name that people gave, so that another key is another name.
    pub named: bool,
    /// The thing of which it is a part, and with which it comes and goes.
    pub of: Option<Subject>,
}

impl PartialEq for Thing {
    fn eq(&self, other: &Self) -> bool {
        self.fields == other.fields
    }
}

/// What is true of a site.
pub type Facts = BTreeMap<Subject, Thing>;

/// The facts of a site with its wiring.
pub fn of(site: &Site, wiring: &Wiring) -> Facts {
    let mut names = Names { site, cables: BTreeMap::new(), devices: Vec::new() };
    names.name_cables(wiring);
    names.name_devices();
    let mut facts = Facts::new();
    site::tell(&names, &mut facts);
    places::tell(&names, &mut facts);
    parts::tell(&names, &mut facts);
    boards::tell(&names, &mut facts);
    zones::tell(&names, wiring, &mut facts);
    runs::tell(&names, &mut facts);
    runs::tell_conductors(&names, wiring, &mut facts);
    facts
}

/// The devices of a site by their keys.
pub fn device_keys(site: &Site) -> BTreeMap<String, Id<Device>> {
    let mut names = Names { site, cables: BTreeMap::new(), devices: Vec::new() };
    names.name_devices();
    names.devices.into_iter().zip(site.devices.entries()).map(|(key, (id, _))| (key, id)).collect()
}

/// The runs of a site by their keys.
pub fn run_keys(site: &Site, wiring: &Wiring) -> BTreeMap<String, Id<Run>> {
    let mut names = Names { site, cables: BTreeMap::new(), devices: Vec::new() };
    names.name_cables(wiring);
    names.cables.into_iter().map(|(id, key)| (key, id)).collect()
}

/// What the things of a site are called.
struct Names<'s> {
    site: &'s Site,
    cables: BTreeMap<Id<Run>, String>,
    devices: Vec<String>,
}

impl Names<'_> {
    fn name_cables(&mut self, wiring: &Wiring) {
        for cable in &wiring.cables {
            self.cables.insert(cable.run, cable.label.clone());
            for guest in cable.carries.iter().filter(|run| **run != cable.run) {
                let owner = runs::owner(self, self.site.runs[*guest].owner).key;
                self.cables.insert(*guest, format!("{} for {owner}", cable.label));
            }
        }
        for (id, run) in self.site.runs.entries() {
            if !self.cables.contains_key(&id) {
                let owner = runs::owner(self, run.owner).key;
                self.cables.insert(id, format!("{owner} run {}", run.order));
            }
        }
        // The register forbids a label twice, and a check reports it; here every run needs a key of its own.
        let mut seen: BTreeMap<String, u32> = BTreeMap::new();
        for name in self.cables.values_mut() {
            number(name, &mut seen);
        }
    }

    fn name_devices(&mut self) {
        let mut seen: BTreeMap<String, u32> = BTreeMap::new();
        let site = self.site;
        self.devices = site
            .devices
            .iter()
            .map(|device| {
                let mut key = zones::device_key(site, device);
                number(&mut key, &mut seen);
                key
            })
            .collect();
    }

    fn room(&self, id: Id<Room>) -> Subject {
        Subject { kind: Kind::Room, key: self.site.rooms[id].name.value.clone() }
    }

    fn opening(&self, id: Id<Opening>) -> Subject {
        Subject { kind: Kind::Opening, key: self.site.openings[id].name.value.clone() }
    }

    fn part(&self, id: Id<Part>) -> Subject {
        Subject { kind: Kind::Part, key: self.site.parts[id].name.value.clone() }
    }

    fn cable_type(&self, id: Id<CableType>) -> Subject {
        Subject { kind: Kind::CableType, key: self.site.cables[id].name.value.clone() }
    }

    fn board(&self, id: Id<Board>) -> Subject {
        Subject { kind: Kind::Board, key: self.site.boards[id].name.value.clone() }
    }

    fn zone(&self, id: Id<Zone>) -> Subject {
        Subject { kind: Kind::Zone, key: self.site.zones[id].number.value.to_string() }
    }

    fn circuit(&self, id: Id<Circuit>) -> Subject {
        Subject { kind: Kind::Circuit, key: self.site.circuits[id].name.value.clone() }
    }

    fn device(&self, id: Id<Device>) -> Subject {
        Subject { kind: Kind::Device, key: self.devices.get(id.index()).cloned().unwrap_or_default() }
    }

    fn run(&self, id: Id<Run>) -> Subject {
        Subject { kind: Kind::Cable, key: self.cables.get(&id).cloned().unwrap_or_default() }
    }

    /// An output: its board and its name.
    fn output(&self, output: OutputRef) -> Value {
        let name = self.site.part_of(output.board).and_then(|part| part.outputs.get(output.output));
        let name = name.map(|output| output.name.value.clone()).unwrap_or_default();
        vec![Atom::Thing(self.board(output.board)), Atom::Text(name)]
    }
}

/// Makes a name the only one of its kind: the second gets "(2)".
fn number(name: &mut String, seen: &mut BTreeMap<String, u32>) {
    let nth = seen.entry(name.clone()).or_insert(0);
    *nth += 1;
    if *nth > 1 {
        *name = format!("{name} ({nth})");
    }
}

/// A title of its own: none where it only repeats the name.
fn own_title<'t>(title: &'t str, name: &str) -> Option<&'t str> {
    (title != name).then_some(title)
}

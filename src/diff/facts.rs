//! A site as a flat map: which things there are, and what is true of each. Two sites are compared, and a diff is
//! applied, on these maps alone.
//!
//! A *thing* is a subject with its facts; a fact is a field's name and a value, which is text, figures and references to
//! other subjects. The facts are those of the [`record`](crate::record), which cannot lack a field of the model. What
//! can be derived (the order of runs, which circuits feed a detector) is not told twice.

use std::collections::BTreeMap;

use crate::model::Site;
use crate::quantity::LengthUnit;
use crate::record::cables::{Cable, Run};
use crate::record::devices::Device;
use crate::record::names::number;
use crate::record::service::Accepted;
use crate::record::{Atom, Fields, Item, Kind, Names, Record, Subject};
use crate::register::Wiring;

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

/// Facts that no line of the record tells, since its nesting does: whose a device is, what holds a place or a conductor.
pub(crate) mod nested {
    /// The zone of a device.
    pub(crate) const ZONE: &str = "zone";
    /// The circuit of a device.
    pub(crate) const CIRCUIT: &str = "circuit";
    /// The level of a room.
    pub(crate) const LEVEL: &str = "level";
    /// The room of an opening.
    pub(crate) const ROOM: &str = "room";
    /// The cable of a conductor.
    pub(crate) const CABLE: &str = "cable";
    /// What a conductor is known by in its cable.
    pub(crate) const COLOUR: &str = "colour";
}

/// The key of a conductor, by the label of its cable and its position in it, from 0.
pub(crate) fn conductor_key(cable: &str, position: usize) -> String {
    format!("{cable} #{position:02}")
}

/// What is true of a site.
pub type Facts = BTreeMap<Subject, Thing>;

/// The facts of a site with its wiring.
pub fn of(site: &Site, wiring: &Wiring) -> Facts {
    let record = Record::of(&Names::of(site, wiring));
    let mut gather = Gather { lengths: site.lengths, facts: Facts::new() };
    gather.add(Subject::new(Kind::Site, "site"), &record, format!("site {}", record.title)).named = false;
    gather.places(&record);
    for part in &record.parts {
        gather.add(Subject::new(Kind::Part, &part.name), part, format!("part {}", part.title));
    }
    for kind in &record.cable_types {
        gather.add(Subject::new(Kind::CableType, &kind.name), kind, format!("cable type {}", kind.title));
    }
    for board in &record.boards {
        gather.add(Subject::new(Kind::Board, &board.name), board, said(board.kind, &board.title.to_string()));
    }
    for area in &record.areas {
        gather.add(Subject::new(Kind::Area, &area.name), area, format!("area {}", area.title));
    }
    for zone in &record.zones {
        let subject = Subject::new(Kind::Zone, zone.number.to_string());
        gather.add(subject.clone(), zone, format!("zone {} {}", zone.number, zone.description));
        for device in &zone.devices {
            gather.device(device, nested::ZONE, &subject).of = Some(subject.clone());
        }
    }
    for bus in &record.buses {
        gather.add(Subject::new(Kind::Bus, &bus.name), bus, format!("bus {}", bus.name));
    }
    for circuit in &record.circuits {
        let subject = Subject::new(Kind::Circuit, &circuit.name);
        gather.add(subject.clone(), circuit, format!("circuit {}", circuit.title));
        for device in &circuit.devices {
            gather.device(device, nested::CIRCUIT, &subject);
        }
    }
    for spare in &record.spare_cables {
        gather.add(Subject::new(Kind::Spare, &spare.name), spare, format!("spare cable {}", spare.title));
    }
    for line in &record.communicators {
        gather.add(Subject::new(Kind::Communicator, &line.name), line, format!("communicator {}", line.title));
    }
    for cable in &record.cables {
        gather.cable(cable);
    }
    for run in &record.loose {
        gather.run(run);
    }
    if let Some(monitoring) = &record.monitoring {
        let subject = Subject::new(Kind::Monitoring, "monitoring");
        gather.add(subject, monitoring, "what the service's form wants".to_owned()).named = false;
    }
    gather.accepted(&record.accepted);
    gather.facts
}

/// "keypad Hall", and "Keypad in the hall" where the title says it.
fn said(noun: &str, title: &str) -> String {
    if title.to_lowercase().starts_with(noun) { title.to_owned() } else { format!("{noun} {title}") }
}

/// Gathers the things of a record.
struct Gather {
    /// The unit in which lengths are shown.
    lengths: LengthUnit,
    facts: Facts,
}

impl Gather {
    /// Adds a thing that is known by its name.
    fn add(&mut self, subject: Subject, item: &impl Item, said: String) -> &mut Thing {
        let mut fields = Fields::new();
        item.tell("", self.lengths, &mut fields);
        let thing = Thing { fields, said, named: true, of: None };
        self.facts.entry(subject).insert_entry(thing).into_mut()
    }

    fn places(&mut self, record: &Record) {
        for level in &record.levels {
            let on = Subject::new(Kind::Level, &level.name);
            self.add(on.clone(), level, format!("level {}", level.title));
            for room in &level.rooms {
                let within = Subject::new(Kind::Room, &room.name);
                let thing = self.add(within.clone(), room, format!("room {}", room.title));
                thing.refer(nested::LEVEL, &on);
                for opening in &room.openings {
                    let subject = Subject::new(Kind::Opening, &opening.name);
                    let thing = self.add(subject, opening, format!("{} {}", opening.kind, opening.title));
                    thing.refer(nested::ROOM, &within);
                }
            }
        }
    }

    /// A device of a zone or circuit.
    fn device(&mut self, device: &Device, field: &str, owner: &Subject) -> &mut Thing {
        let noun = if device.kind == "wireless" { "wireless detector" } else { device.kind };
        let thing = self.add(device.known_as.clone(), device, said(noun, &device.title.to_string()));
        thing.refer(field, owner);
        thing.named = device.name.is_some();
        thing
    }

    /// A cable with what each of its conductors does, and where that lands.
    fn cable(&mut self, cable: &Cable) {
        self.run(&cable.run);
        for guest in &cable.guests {
            self.run(guest);
        }
        let of = &cable.run.known_as;
        for conductor in &cable.conductors {
            let mark = conductor.colour.clone().unwrap_or_else(|| format!("no. {}", conductor.position));
            let subject = Subject::new(Kind::Conductor, conductor_key(&of.key, conductor.position - 1));
            let thing = self.add(subject, conductor, format!("conductor {mark} of {}", of.key));
            thing.refer(nested::CABLE, of);
            thing.fields.insert(nested::COLOUR.to_owned(), vec![Atom::Text(mark)]);
            thing.named = false;
            thing.of = Some(of.clone());
        }
    }

    /// A run. One that shares a cable comes and goes with it.
    fn run(&mut self, run: &Run) {
        let key = &run.known_as.key;
        let said = if run.shares.is_some() { format!("shared run {key}") } else { format!("cable {key}") };
        let thing = self.add(run.known_as.clone(), run, said);
        thing.named = run.shares.is_none();
        thing.of = Some(run.shares.as_ref().map_or_else(|| run.belongs_to.subject(), |host| host.subject.clone()));
    }

    /// Accepted findings, known by rule and subject; their order in the source means nothing.
    fn accepted(&mut self, accepted: &[Accepted]) {
        let key = |accept: &Accepted| {
            let about = accept.about.as_ref().map(|about| format!(" for {about}")).unwrap_or_default();
            format!("{}{about}", accept.rule)
        };
        let mut accepted: Vec<&Accepted> = accepted.iter().collect();
        accepted.sort_by(|a, b| key(a).cmp(&key(b)).then_with(|| a.because.cmp(&b.because)));
        let mut seen = BTreeMap::new();
        for accept in accepted {
            let mut key = key(accept);
            number(&mut key, &mut seen);
            let said = format!("accepted finding {key}");
            self.add(Subject::new(Kind::Accept, key), accept, said).named = false;
        }
    }
}

impl Thing {
    fn refer(&mut self, field: &str, subject: &Subject) {
        self.fields.insert(field.to_owned(), vec![Atom::Thing(subject.clone())]);
    }
}

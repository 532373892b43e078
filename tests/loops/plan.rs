//! Made-up loops: what stands where, and the spec text that says so.

use std::fmt::Write;

/// A cable type: name, `size=` as written, cross-section in mm², stranded, and the most Ω/km of a conductor at 20 °C, where
/// that is limited.
pub struct Cable {
    pub name: &'static str,
    pub size: &'static str,
    pub area: f64,
    pub stranded: bool,
    pub most: Option<f64>,
}

/// The most is that of IEC 60228; 0.22 mm² has no row there and is allowed as much over copper as 1.5 mm² of class 5, which is
/// allowed most. Areas of the gauges are π/4·d² with d = 0.127 mm × 92^((36−n)/39) (ASTM B258), here to twelve digits.
pub const CABLES: [Cable; 5] = [
    Cable { name: "cable-18", size: "(AWG)18", area: 0.823_046_833_731, stranded: false, most: None },
    Cable { name: "cable-22", size: "(AWG)22", area: 0.325_533_941_245, stranded: false, most: None },
    Cable { name: "cable-24", size: "(AWG)24", area: 0.204_730_308_147, stranded: true, most: None },
    Cable { name: "cable-022", size: "(mm2)0.22", area: 0.22, stranded: true, most: Some(13.3 * 1.5 / 0.22) },
    Cable { name: "cable-05", size: "(mm2)0.5", area: 0.5, stranded: false, most: Some(36.0) },
];

/// A switch: closed at rest or not, and the most ohms it has when closed.
#[derive(Clone, Copy)]
pub struct Switch {
    pub closed_at_rest: bool,
    pub most: f64,
}

/// A part with an alarm contact and perhaps a cover contact.
pub struct Part {
    pub name: &'static str,
    pub alarm: Switch,
    pub cover: Option<Switch>,
    pub watches_supply: bool,
}

const fn part(name: &'static str, closed_at_rest: bool, most: f64) -> Part {
    Part { name, alarm: Switch { closed_at_rest, most }, cover: None, watches_supply: false }
}

const fn covered(part: Part, closed_at_rest: bool, most: f64) -> Part {
    Part { cover: Some(Switch { closed_at_rest, most }), ..part }
}

/// The parts; the first three are closed at rest, the next three open, the last watches the supply.
pub const PARTS: [Part; 7] = [
    part("shut-a", true, 0.15),
    part("shut-b", true, 2.4),
    covered(part("shut-c", true, 10.0), true, 0.6),
    part("open-a", false, 0.2),
    covered(part("open-b", false, 1.5), true, 0.3),
    covered(part("open-c", false, 5.0), false, 0.8),
    Part { watches_supply: true, ..part("watch", true, 0.2) },
];

/// A board: supply and pull-up with their tolerances.
pub struct Board {
    pub supply: f64,
    pub supply_tolerance: f64,
    pub pull_up: f64,
    pub tolerance: f64,
}

pub const BOARDS: [Board; 3] = [
    Board { supply: 5.0, supply_tolerance: 0.0, pull_up: 680.0, tolerance: 0.01 },
    Board { supply: 12.0, supply_tolerance: 0.04, pull_up: 2200.0, tolerance: 0.05 },
    Board { supply: 3.3, supply_tolerance: 0.02, pull_up: 10_000.0, tolerance: 0.02 },
];

/// Where a run starts or ends, with its coldest and hottest temperature.
pub const ROOMS: [(&str, &str, [f64; 2]); 3] =
    [("hall", "hall", [5.0, 35.0]), ("loft", "attic", [-20.0, 60.0]), ("yard", "outdoors", [-30.0, 50.0])];

/// What a run passes, with its temperatures; `None` leaves those of its two ends.
pub const PASSAGES: [(&str, Option<[f64; 2]>); 5] = [
    ("stud", None),
    ("mains", None),
    ("attic", Some([-20.0, 60.0])),
    ("outdoors", Some([-30.0, 50.0])),
    ("underground", Some([-5.0, 30.0])),
];

/// A resistor with its tolerance as a ratio.
#[derive(Clone, Copy)]
pub struct Resistor {
    pub written: &'static str,
    pub ohms: f64,
    pub tolerance: f64,
}

/// Markings of IEC 60062 with their values; the fourth has its own letter for ±1 %.
pub const RESISTORS: [Resistor; 5] = [
    Resistor { written: "1k", ohms: 1000.0, tolerance: 0.05 },
    Resistor { written: "2k2", ohms: 2200.0, tolerance: 0.05 },
    Resistor { written: "5k60", ohms: 5600.0, tolerance: 0.01 },
    Resistor { written: "4k7F", ohms: 4700.0, tolerance: 0.01 },
    Resistor { written: "120R", ohms: 120.0, tolerance: 0.05 },
];

/// A contact where it is mounted.
#[derive(Clone)]
pub struct Contact {
    pub part: usize,
    pub number: usize,
    pub shunt: Option<Resistor>,
    pub cover_in_loop: bool,
}

/// The cable that conductors lie in: type, length, the rooms of its ends, and passage.
#[derive(Clone)]
pub struct Sheath {
    pub name: String,
    pub cable: usize,
    pub metres: f64,
    pub start: usize,
    pub room: usize,
    pub passage: Option<usize>,
}

/// A run with what is mounted at its far end.
#[derive(Clone)]
pub struct Leg {
    pub number: usize,
    /// Its own cable as written.
    pub written: Sheath,
    /// The cable that it shares.
    pub host: Option<Sheath>,
    pub items: Vec<Item>,
}

/// What stands at a place.
#[derive(Clone)]
pub enum Item {
    Contact(Contact),
    Resistor(Resistor),
    /// Runs that follow each other from here: a branch, or at the board a home run.
    Legs(Vec<Leg>),
}

/// A loop.
#[derive(Clone)]
pub struct Plan {
    pub wiring: &'static str,
    pub board: usize,
    /// True where contacts, resistors and branches lie across the pair.
    pub across: bool,
    /// What stands at the board.
    pub items: Vec<Item>,
    pub legs: usize,
}

impl Plan {
    /// All contacts, in the order of the text.
    pub fn all_contacts(&self) -> Vec<&Contact> {
        fn walk<'p>(items: &'p [Item], found: &mut Vec<&'p Contact>) {
            for item in items {
                match item {
                    Item::Contact(contact) => found.push(contact),
                    Item::Resistor(_) => {}
                    Item::Legs(legs) => legs.iter().for_each(|leg| walk(&leg.items, found)),
                }
            }
        }
        let mut found = Vec::new();
        walk(&self.items, &mut found);
        found
    }
}

/// A spec with one zone a plan, numbered from 1.
pub fn spec(plans: &[Plan]) -> String {
    let mut text = header();
    for (index, plan) in plans.iter().enumerate() {
        let number = index + 1;
        writeln!(text, "zone {number} \"Zone {number}\" type=\"perimeter\" {{").unwrap();
        writeln!(text, "    loop \"{}\" board=\"board-{}\" {{", plan.wiring, plan.board).unwrap();
        let mut home_runs = 0;
        for item in &plan.items {
            write_item(&mut text, item, if home_runs > 0 { " from=\"board\"" } else { "" }, 2);
            home_runs += usize::from(matches!(item, Item::Legs(_)));
        }
        text.push_str("    }\n}\n");
    }
    text
}

fn write_item(text: &mut String, item: &Item, from: &str, depth: usize) {
    let indent = "    ".repeat(depth);
    match item {
        Item::Resistor(resistor) => writeln!(text, "{indent}resistor \"{}\"", resistor.written).unwrap(),
        Item::Contact(contact) => {
            let shunt = contact.shunt.map_or(String::new(), |shunt| format!(" shunt=\"{}\"", shunt.written));
            let cover = if contact.cover_in_loop { " tamper=#true" } else { "" };
            writeln!(text, "{indent}detector \"{}\"{shunt}{cover}", PARTS[contact.part].name).unwrap();
        }
        Item::Legs(legs) => {
            for (index, leg) in legs.iter().enumerate() {
                let Sheath { name, cable, metres, room, passage, start: _ } = &leg.written;
                let along = leg.host.as_ref().map_or(String::new(), |host| format!(" along=\"{}\"", host.name));
                let passes = passage.map_or(String::new(), |p| format!(" passes=\"{}\"", PASSAGES[p].0));
                let from = if index == 0 { from } else { "" };
                writeln!(
                    text,
                    "{indent}run \"{}\" name=\"{name}\" length=(m){metres} room=\"{}\"{along}{passes}{from} {{",
                    CABLES[*cable].name, ROOMS[*room].0,
                )
                .unwrap();
                leg.items.iter().for_each(|item| write_item(text, item, "", depth + 1));
                writeln!(text, "{indent}}}").unwrap();
            }
        }
    }
}

fn header() -> String {
    let mut text = "site \"plans\" {\n    revision \"A\" date=\"2027-01-01\"\n}\nlevel \"base\" {\n".to_owned();
    for (name, kind, _) in ROOMS {
        writeln!(text, "    room \"{name}\" kind=\"{kind}\"").unwrap();
    }
    text.push_str("}\n");
    for Cable { name, size, stranded, .. } in &CABLES {
        writeln!(text, "cable \"{name}\" conductors=8 size={size} stranded=#{stranded}").unwrap();
    }
    let form = |switch: Switch| if switch.closed_at_rest { "NC" } else { "NO" };
    for Part { name, alarm, cover, watches_supply } in &PARTS {
        let senses = if *watches_supply { "supply" } else { "opening" };
        writeln!(text, "part \"{name}\" senses=\"{senses}\" {{\n    basis \"generic\"").unwrap();
        writeln!(text, "    contact form=\"{}\" resistance=(ohm){}", form(*alarm), alarm.most).unwrap();
        if let Some(cover) = cover {
            writeln!(text, "    tamper form=\"{}\" resistance=(ohm){}", form(*cover), cover.most).unwrap();
        }
        text.push_str("}\n");
    }
    for (index, Board { supply, supply_tolerance, pull_up, tolerance }) in BOARDS.iter().enumerate() {
        let (tolerance, supply_tolerance) = (tolerance * 100.0, supply_tolerance * 100.0);
        writeln!(text, "part \"board-{index}-part\" {{\n    basis \"generic\"").unwrap();
        writeln!(
            text,
            "    sensing supply=(V){supply} pull-up=(ohm){pull_up} tolerance=(percent){tolerance} \
             supply-tolerance=(percent){supply_tolerance}\n}}"
        )
        .unwrap();
        writeln!(text, "panel \"board-{index}\" part=\"board-{index}-part\" room=\"hall\"").unwrap();
    }
    text
}

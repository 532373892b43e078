//! Random houses out of one small stock of names, so that two of them have much in common.

use std::fmt::Write;

use proptest::prelude::*;

/// What stands at the end of a run.
#[derive(Clone, Debug)]
pub struct Leg {
    cable: usize,
    feet: u8,
    room: usize,
    device: usize,
    resistor: usize,
    label: Option<u8>,
}

/// A zone.
#[derive(Clone, Debug)]
pub struct Zone {
    number: u8,
    description: usize,
    kind: usize,
    board: usize,
    input: Option<u8>,
    legs: Vec<Leg>,
    branch: bool,
}

/// A house.
#[derive(Clone, Debug)]
pub struct House {
    pub rooms: Vec<usize>,
    pub titles: usize,
    pub zones: Vec<Zone>,
    pub keypads: Vec<(usize, u8)>,
    pub sounders: Vec<usize>,
    pub delay: u8,
    pub width: Option<u8>,
}

const ROOMS: [&str; 5] = ["hall", "attic", "shed", "cellar", "study"];
const TITLES: [&str; 3] = ["", "Big", "Small"];
const CABLES: [&str; 3] = ["pair", "quad", "bus-cable"];
const BOARDS: [&str; 2] = ["main", "other"];
const DEVICES: [&str; 5] = [
    "",
    "contact \"reed\"",
    "contact \"reed\" shunt=\"4k7\"",
    "detector \"motion\" supply=\"aux\" mount=(ft)7",
    "detector \"motion\" supply=\"aux\" tamper=#true",
];
const RESISTORS: [&str; 4] = ["", "resistor \"2k2\"", "resistor \"4k7\"", "resistor (ohm)2200"];
const KINDS: [&str; 3] = ["perimeter", "interior", "entry-exit"];
const WORDS: [&str; 4] = ["Front", "Back", "Top", "Side"];

fn leg() -> impl Strategy<Value = Leg> {
    (
        0..CABLES.len(),
        5u8..60,
        0..ROOMS.len(),
        0..DEVICES.len(),
        0..RESISTORS.len(),
        prop::option::weighted(0.1, 0u8..9),
    )
        .prop_map(|(cable, feet, room, device, resistor, label)| Leg {
            cable,
            feet,
            room,
            device,
            resistor,
            label,
        })
}

fn zone() -> impl Strategy<Value = Zone> {
    (
        1u8..9,
        0..WORDS.len(),
        0..KINDS.len(),
        0..BOARDS.len(),
        prop::option::of(1u8..5),
        prop::collection::vec(leg(), 1..4),
        any::<bool>(),
    )
        .prop_map(|(number, description, kind, board, input, legs, branch)| Zone {
            number,
            description,
            kind,
            board,
            input,
            legs,
            branch,
        })
}

/// Any house.
pub fn house() -> impl Strategy<Value = House> {
    (
        prop::sample::subsequence((0..ROOMS.len()).collect::<Vec<_>>(), 2..=ROOMS.len()),
        0..TITLES.len(),
        prop::collection::vec(zone(), 0..6),
        prop::collection::vec((0..3usize, 1u8..9), 0..3),
        prop::collection::vec(0..ROOMS.len(), 0..3),
        10u8..60,
        prop::option::of(10u8..40),
    )
        .prop_map(|(rooms, titles, mut zones, mut keypads, sounders, delay, width)| {
            zones.sort_by_key(|zone| zone.number);
            zones.dedup_by_key(|zone| zone.number);
            keypads.sort_unstable();
            keypads.dedup_by_key(|(name, _)| *name);
            House { rooms, titles, zones, keypads, sounders, delay, width }
        })
}

impl House {
    fn room(&self, wanted: usize) -> &'static str {
        ROOMS[self.rooms[wanted % self.rooms.len()]]
    }

    /// The spec.
    pub fn text(&self) -> String {
        let mut text = String::from("site \"house\"\ninclude \"../parts/example.kdl\"\nlevel \"ground\" {\n");
        for (nth, room) in self.rooms.iter().enumerate() {
            let title =
                if nth == 0 && self.titles > 0 { format!(" title=\"{}\"", TITLES[self.titles]) } else { String::new() };
            let _ = writeln!(text, "    room \"{}\"{title}", ROOMS[*room]);
        }
        text.push_str("}\n");
        for board in BOARDS {
            let _ = writeln!(text, "panel \"{board}\" part=\"control-a\" room=\"{}\"", self.room(0));
        }
        let _ = writeln!(text, "area \"all\" entry=(s){}", self.delay);
        for zone in &self.zones {
            self.zone(zone, &mut text);
        }
        if !self.keypads.is_empty() {
            text.push_str("bus \"data\" board=\"main\" {\n");
            for (name, address) in &self.keypads {
                let room = self.room(*name);
                let _ = writeln!(
                    text,
                    "    run \"bus-cable\" length=(ft)20 room=\"{room}\" {{ keypad \"k{name}\" part=\"keypad-a\" address={address}; }}"
                );
            }
            text.push_str("}\n");
        }
        if !self.sounders.is_empty() {
            text.push_str("circuit \"loud\" board=\"main\" output=\"siren\" {\n");
            for room in &self.sounders {
                let _ = writeln!(
                    text,
                    "    run \"pair\" length=(ft)30 room=\"{}\" {{ sounder \"sounder\"; }}",
                    self.room(*room)
                );
            }
            text.push_str("}\n");
        }
        if let Some(width) = self.width {
            let _ = writeln!(text, "monitoring format=\"sia-dc-05\" description-width={width}");
        }
        text
    }

    fn zone(&self, zone: &Zone, text: &mut String) {
        let Zone { number, description, kind, board, input, legs, branch } = zone;
        let input = input.map(|input| format!(" input={input}")).unwrap_or_default();
        let _ = writeln!(
            text,
            "zone {number} \"{} {}\" type=\"{}\" area=\"all\" {{",
            WORDS[*description],
            number % 3,
            KINDS[*kind]
        );
        let _ = writeln!(text, "    loop \"end-of-line\" board=\"{}\"{input} {{", BOARDS[*board]);
        let mut open = 0;
        for leg in legs {
            let label = leg.label.map(|label| format!(" label=\"L{number}-{label}\"")).unwrap_or_default();
            let _ = writeln!(
                text,
                "    run \"{}\" length=(ft){} room=\"{}\"{label} {{",
                CABLES[leg.cable],
                leg.feet,
                self.room(leg.room)
            );
            let _ = writeln!(text, "    {}\n    {}", DEVICES[leg.device], RESISTORS[leg.resistor]);
            if *branch { open += 1 } else { text.push_str("    }\n") }
        }
        text.push_str(&"    }\n".repeat(open));
        text.push_str("    }\n}\n");
    }
}

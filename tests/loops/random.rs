//! A deterministic source of plans: the same seed gives the same loops.

use super::plan::{BOARDS, CABLES, Contact, Item, Leg, PARTS, PASSAGES, Plan, RESISTORS, ROOMS, Resistor, Sheath};

/// xorshift64* (Marsaglia 2003, Vigna 2016).
pub struct Random(u64);

impl Random {
    /// A source from a seed; neighbouring seeds are spread apart, and no seed is stuck at zero.
    pub fn new(seed: u64) -> Self {
        Self((seed ^ 0x9E37_79B9_7F4A_7C15).wrapping_mul(0xD134_2543_DE82_EF95) | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 16
    }

    /// A number below `bound`.
    pub fn below(&mut self, bound: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(bound).unwrap()).unwrap()
    }

    fn percent(&mut self, chance: usize) -> bool {
        self.below(100) < chance
    }
}

/// How a loop is wired.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    NormallyClosed,
    NormallyOpen,
    EndOfLineClosed,
    EndOfLineOpen,
    EndOfLineMixed,
    DoubleEndOfLine,
    /// Resistors, shunts and covers anywhere.
    Odd,
}

pub const STYLES: [Style; 7] = [
    Style::NormallyClosed,
    Style::NormallyOpen,
    Style::EndOfLineClosed,
    Style::EndOfLineOpen,
    Style::EndOfLineMixed,
    Style::DoubleEndOfLine,
    Style::Odd,
];

/// How far a loop may grow.
#[derive(Clone, Copy)]
pub struct Bounds {
    pub home_runs: usize,
    pub legs: usize,
    pub branches: usize,
}

pub const USUAL: Bounds = Bounds { home_runs: 3, legs: 3, branches: 2 };

/// So many plans in all styles; runs of later ones share cables of earlier ones.
pub fn plans(seed: u64, count: usize, bounds: Bounds) -> Vec<Plan> {
    let mut hosts = Vec::new();
    (0..count)
        .map(|index| {
            let style = STYLES[index % STYLES.len()];
            let random = Random::new(seed.wrapping_mul(1_000_003).wrapping_add(index as u64));
            let earlier = hosts.len();
            Maker { random, style, bounds, zone: index + 1, contacts: 0, legs: 0, hosts: &mut hosts, earlier }.plan()
        })
        .collect()
}

/// The room of every board.
const AT_BOARD: usize = 0;

struct Maker<'h> {
    random: Random,
    style: Style,
    bounds: Bounds,
    zone: usize,
    contacts: usize,
    legs: usize,
    hosts: &'h mut Vec<Sheath>,
    /// How many hosts there were before this zone: a loop does not share its own cables.
    earlier: usize,
}

impl Maker<'_> {
    fn plan(mut self) -> Plan {
        let home_runs = 1 + self.random.below(self.bounds.home_runs);
        let mut items = Vec::new();
        for home_run in 0..home_runs {
            if self.style == Style::Odd && self.random.percent(20) {
                items.push(Item::Resistor(self.resistor()));
            }
            let last = home_run + 1 == home_runs;
            let count = 1 + self.random.below(self.bounds.legs);
            let mut legs: Vec<Leg> = Vec::new();
            for leg in 0..count {
                let start = legs.last().map_or(AT_BOARD, |before| before.written.room);
                legs.push(self.leg(start, self.bounds.branches, last && leg + 1 == count));
            }
            items.push(Item::Legs(legs));
        }
        if self.style == Style::Odd && self.random.percent(20) {
            let contact = self.contact();
            items.push(Item::Contact(contact));
        }
        let wiring = match self.style {
            Style::NormallyClosed => "normally-closed",
            Style::NormallyOpen => "normally-open",
            Style::DoubleEndOfLine => "double-end-of-line",
            _ => "end-of-line",
        };
        let board = self.random.below(BOARDS.len());
        let mut plan = Plan { wiring, board, across: false, items, legs: self.legs };
        let alarms: Vec<bool> = plan
            .all_contacts()
            .iter()
            .map(|contact| &PARTS[contact.part])
            .filter(|part| !part.watches_supply)
            .map(|part| part.alarm.closed_at_rest)
            .collect();
        plan.across = match wiring {
            "normally-open" => true,
            "normally-closed" => false,
            _ => !alarms.is_empty() && alarms.iter().all(|closed| !closed),
        };
        plan
    }

    fn leg(&mut self, start: usize, branches: usize, last: bool) -> Leg {
        let number = self.legs;
        self.legs += 1;
        let written = Sheath {
            name: format!("z{}r{number}", self.zone),
            cable: self.random.below(CABLES.len()),
            // Tenths of a metre, so that the text and the number agree exactly.
            metres: f64::from(u32::try_from(5 + self.random.below(900)).unwrap()) / 10.0,
            start,
            room: self.random.below(ROOMS.len()),
            passage: if self.random.percent(40) { Some(self.random.below(PASSAGES.len())) } else { None },
        };
        let host = if self.earlier > 0 && self.random.percent(10) {
            let host = self.random.below(self.earlier);
            Some(self.hosts[host].clone())
        } else {
            self.hosts.push(written.clone());
            None
        };
        let mut items = Vec::new();
        if self.style == Style::Odd && self.random.percent(20) {
            items.push(Item::Resistor(self.resistor()));
        }
        for _ in 0..self.random.below(3) {
            items.push(Item::Contact(self.contact()));
        }
        if branches > 0 && self.random.percent(25) {
            items.push(Item::Legs(vec![self.leg(written.room, branches - 1, false)]));
        }
        if last && self.contacts == 0 {
            items.push(Item::Contact(self.contact()));
        }
        let without = matches!(self.style, Style::NormallyClosed | Style::NormallyOpen);
        if !without && (last || self.random.percent(10)) {
            if self.style == Style::EndOfLineOpen && self.random.percent(30) {
                items.push(Item::Contact(self.watch()));
            }
            items.push(Item::Resistor(self.resistor()));
        }
        Leg { number, written, host, items }
    }

    fn resistor(&mut self) -> Resistor {
        RESISTORS[self.random.below(RESISTORS.len())]
    }

    fn watch(&mut self) -> Contact {
        self.numbered(PARTS.len() - 1, None)
    }

    fn contact(&mut self) -> Contact {
        let part = match self.style {
            Style::NormallyClosed | Style::EndOfLineClosed | Style::DoubleEndOfLine => self.random.below(3),
            Style::NormallyOpen | Style::EndOfLineOpen => 3 + self.random.below(3),
            Style::EndOfLineMixed => self.random.below(6),
            Style::Odd => self.random.below(PARTS.len()),
        };
        let chance = match self.style {
            Style::DoubleEndOfLine => 100,
            Style::Odd => 30,
            _ => 0,
        };
        let shunt = if self.random.percent(chance) { Some(self.resistor()) } else { None };
        self.numbered(part, shunt)
    }

    fn numbered(&mut self, part: usize, shunt: Option<Resistor>) -> Contact {
        let number = self.contacts;
        self.contacts += 1;
        let cover_in_loop = PARTS[part].cover.is_some() && self.random.percent(60);
        Contact { part, number, shunt, cover_in_loop }
    }
}

//! The trail of a loop's figures: how the resistance of each element was got, and how the elements add up in each
//! state. Data only: ids, numbers and formulas; the words and the places in the spec are found by who prints it.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Device, Site};

use super::contacts::{self, Contact};
use super::loops::LoopReadings;
use super::network::{self, Element, Network};
use super::pair::Pair;
use super::spread::Spread;
use super::state::{Damage, State};

/// How an element's resistance was got.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Formula {
    /// Both conductors of a cable: 2·ρ·length/area, for stranding and temperature (see [`super::conductor`]).
    Wire(Pair),
    /// A closed contact: from 0 to the part's greatest resistance, half of it nominally.
    Contact {
        /// Greatest resistance in ohm.
        most: f64,
    },
    /// A two-wire detector: what it takes at rest, and what it holds in alarm.
    Detector {
        /// The most current at rest in ampere.
        idle: f64,
        /// Least and most volts in alarm.
        holds: (f64, f64),
    },
    /// A resistor with its tolerance.
    Resistor {
        /// Marked value in ohm.
        nominal: f64,
        /// Relative tolerance.
        tolerance: f64,
    },
}

/// One element with its trail.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The element.
    pub(crate) element: Element,
    /// How its resistance was got.
    pub(crate) formula: Formula,
    /// Its resistance in ohm; of a contact, when it is closed.
    pub(crate) ohms: Spread,
}

/// How the steps add up.
#[derive(Clone, Debug, PartialEq)]
pub enum Sum {
    /// A step, by its position.
    Step(usize),
    /// One after the other.
    Series(Vec<Sum>),
    /// Side by side.
    Parallel(Vec<Sum>),
    /// Nothing in between: 0 Ω.
    Short,
    /// No connection.
    Open,
}

/// The trail of a loop.
#[derive(Clone, Debug, PartialEq)]
pub struct Trail {
    /// The elements from the board on.
    pub steps: Vec<Step>,
    /// The sum in each state, in the order of the readings. Leakage is not in it: it lies across the leads in the
    /// least reading ([`super::conductor::LEAKAGE`]).
    pub sums: Vec<(State, Sum)>,
}

/// The trail of a loop's readings, with the sums of at most so many of its states.
pub fn of(site: &Site, readings: &LoopReadings, most: usize) -> Trail {
    let steps: Vec<Step> = readings.network.parts().filter_map(|part| step(site, part)).collect();
    let devices: Vec<Id<Device>> = network::devices(site, readings.zone).collect();
    let positions = steps.iter().enumerate().map(|(position, step)| (&step.element, position)).collect();
    let sums = readings
        .states
        .iter()
        .take(most)
        .map(|reading| {
            let moved = contacts::moved(site, &readings.network, &devices, reading.state);
            (
                reading.state,
                Adder { site, positions: &positions, moved: &moved, state: reading.state }.sum(&readings.network),
            )
        })
        .collect();
    Trail { steps, sums }
}

fn step(site: &Site, part: &Network) -> Option<Step> {
    match part {
        Network::Element(element, ohms) => {
            let formula = match element {
                Element::Contact(..) => Formula::Contact { most: ohms.greatest },
                Element::Detector(device) => {
                    site.loop_fed(*device).map_or(Formula::Contact { most: ohms.greatest }, |sheet| Formula::Detector {
                        idle: sheet.idle.0,
                        holds: (sheet.alarm_volts.0.0, sheet.alarm_volts.1.0),
                    })
                }
                Element::Resistor(_) | Element::Shunt(_) | Element::Wire(_) => {
                    Formula::Resistor { nominal: ohms.nominal, tolerance: ohms.greatest / ohms.nominal - 1.0 }
                }
            };
            Some(Step { element: element.clone(), formula, ohms: *ohms })
        }
        Network::Run(id, ohms, _) => {
            let wire = Pair::of_run(site, &site.runs[*id])?;
            Some(Step { element: Element::Wire(*id), formula: Formula::Wire(wire), ohms: *ohms })
        }
        Network::Series(_) | Network::Parallel(_) | Network::Joined | Network::Open => None,
    }
}

struct Adder<'t> {
    site: &'t Site,
    positions: &'t BTreeMap<&'t Element, usize>,
    moved: &'t BTreeSet<Contact>,
    state: State,
}

impl Adder<'_> {
    fn step(&self, element: &Element) -> Sum {
        self.positions.get(element).map_or(Sum::Short, |position| Sum::Step(*position))
    }

    fn sum(&self, network: &Network) -> Sum {
        match network {
            Network::Element(Element::Contact(device, which), _)
                if !contacts::is_closed(self.site, (*device, *which), self.moved) =>
            {
                Sum::Open
            }
            Network::Element(Element::Detector(_), _) => Sum::Open,
            Network::Element(element, _) => self.step(element),
            Network::Parallel(parts) => parallel(parts.iter().map(|part| self.sum(part)).collect()),
            Network::Series(_) | Network::Run(..) => {
                let mut parts = Vec::new();
                if self.follow(network, &mut parts) { one_or(parts, Sum::Short, Sum::Series) } else { Sum::Open }
            }
            Network::Joined => Sum::Short,
            Network::Open => Sum::Open,
        }
    }

    /// Adds what stands one after the other in a network; false where there is no connection.
    fn follow(&self, network: &Network, parts: &mut Vec<Sum>) -> bool {
        match network {
            Network::Series(inner) => inner.iter().all(|part| self.follow(part, parts)),
            Network::Run(run, _, behind) => {
                let damage = self.state.damage_of(*run);
                if matches!(damage, None | Some(Damage::ShortFar)) {
                    parts.extend(Some(self.step(&Element::Wire(*run))).filter(|step| *step != Sum::Short));
                }
                match damage {
                    None => self.follow(behind, parts),
                    Some(damage) => damage != Damage::Cut,
                }
            }
            Network::Element(..) | Network::Parallel(_) | Network::Joined | Network::Open => match self.sum(network) {
                Sum::Open => false,
                Sum::Short => true,
                Sum::Series(inner) => {
                    parts.extend(inner);
                    true
                }
                other @ (Sum::Step(_) | Sum::Parallel(_)) => {
                    parts.push(other);
                    true
                }
            },
        }
    }
}

fn parallel(parts: Vec<Sum>) -> Sum {
    let mut flat = Vec::new();
    for part in parts {
        match part {
            Sum::Short => return Sum::Short,
            Sum::Open => {}
            Sum::Parallel(inner) => flat.extend(inner),
            other @ (Sum::Step(_) | Sum::Series(_)) => flat.push(other),
        }
    }
    one_or(flat, Sum::Open, Sum::Parallel)
}

fn one_or(mut parts: Vec<Sum>, none: Sum, many: fn(Vec<Sum>) -> Sum) -> Sum {
    match parts.len() {
        0 => none,
        1 => parts.pop().unwrap_or(none),
        _ => many(parts),
    }
}

impl Sum {
    /// Its value in ohm over the values of the steps.
    pub fn value(&self, steps: &[Step]) -> Spread {
        match self {
            Self::Step(position) => steps.get(*position).map_or(Spread::SHORT, |step| step.ohms),
            Self::Series(parts) => parts.iter().map(|part| part.value(steps)).fold(Spread::SHORT, Spread::series),
            Self::Parallel(parts) => parts.iter().map(|part| part.value(steps)).fold(Spread::OPEN, Spread::parallel),
            Self::Short => Spread::SHORT,
            Self::Open => Spread::OPEN,
        }
    }
}

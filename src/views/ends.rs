//! Where a conductor goes on at an end of its cable, in words.

use std::fmt;

use crate::base::Id;
use crate::model::{Board, Run, Site};
use crate::register::{ConductorUse, Function, Point, Wiring};
use crate::words::{self, Paper};

/// Something that a conductor meets at an end, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Met {
    /// A conductor of another cable, joined to it.
    Conductor(String),
    /// A joint in a board's enclosure.
    Joint(String),
    /// A terminal, a device, or whatever else it lands on.
    Place(String),
}

impl fmt::Display for Met {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Conductor(conductor) => write!(f, "joined to {conductor}"),
            Self::Joint(words) | Self::Place(words) => f.write_str(words),
        }
    }
}

/// Where a conductor goes on: boards' terminals, devices, and, where no terminal holds them together, the cables
/// that go on from there. A loop's resistor is no place to go to: it stands in the loop's path.
pub(crate) fn met(site: &Site, wiring: &Wiring, used: &ConductorUse, points: &[Point]) -> Vec<Met> {
    let landed = points.iter().any(|point| matches!(point, Point::Terminal(..)));
    let met: Vec<Met> = points.iter().filter_map(|point| words_of(site, wiring, used, point, landed)).collect();
    match used.function {
        // The jack of a line is no node of its own.
        Function::LineInTip | Function::LineInRing | Function::LineOutTip | Function::LineOutRing if met.is_empty() => {
            vec![Met::Place("the line's jack".into())]
        }
        Function::SupplyPositive(_)
        | Function::SupplyNegative(_)
        | Function::LoopOut(_)
        | Function::LoopBack(_)
        | Function::BusPlus
        | Function::BusMinus
        | Function::BusA
        | Function::BusB
        | Function::LineInTip
        | Function::LineInRing
        | Function::LineOutTip
        | Function::LineOutRing => met,
    }
}

/// The same as one text: "Motion, hall, terminal +; joined to RD of Z3".
pub(crate) fn meets(site: &Site, wiring: &Wiring, used: &ConductorUse, points: &[Point]) -> String {
    together(&met(site, wiring, used, points))
}

/// Several as one text.
pub(crate) fn together(met: &[Met]) -> String {
    met.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

fn words_of(site: &Site, wiring: &Wiring, used: &ConductorUse, point: &Point, landed: bool) -> Option<Met> {
    let place = |words: String| Some(Met::Place(words));
    let in_loop = matches!(used.function, Function::LoopOut(_) | Function::LoopBack(_));
    match point {
        Point::Terminal(board, mark) => place(format!("{}, terminal {mark}", Paper.board(site, *board))),
        // Which of the device's terminals a loop's conductor meets depends on the order in the loop.
        Point::Device(device, _) if in_loop => place(words::placed(site, *device)),
        Point::Device(device, mark) => place(format!("{}, terminal {mark}", words::placed(site, *device))),
        Point::Resistor(_) => None,
        // A terminator at a board is listed among what is fitted there; and a terminal on which two cables meet says
        // it all: which ones they are stands in that board's own table.
        Point::Terminator(_) | Point::Cable(_) if landed => None,
        Point::Terminator(value) => {
            place(format!("terminator {} across the data conductors", words::terminator(*value)))
        }
        Point::Cable(run) if in_loop => {
            let cable = wiring.cable_of(*run)?;
            place(format!("on by {} to {}", cable.label, far_room(site, *run)))
        }
        Point::Cable(run) => {
            let (cable, next) = wiring.conductor_for(*run, used.function)?;
            Some(Met::Conductor(words::labelled(site, cable, next)))
        }
        Point::Joint(board, run) => joint(site, wiring, *board, *run, used.function),
    }
}

/// In a series loop one cable's back meets the next one's out.
fn joint(site: &Site, wiring: &Wiring, board: Id<Board>, run: Id<Run>, function: Function) -> Option<Met> {
    let partner = match function {
        Function::LoopOut(zone) => Function::LoopBack(zone),
        Function::LoopBack(zone) => Function::LoopOut(zone),
        other @ (Function::SupplyPositive(_)
        | Function::SupplyNegative(_)
        | Function::BusPlus
        | Function::BusMinus
        | Function::BusA
        | Function::BusB
        | Function::LineInTip
        | Function::LineInRing
        | Function::LineOutTip
        | Function::LineOutRing) => other,
    };
    let (cable, used) = wiring.conductor_for(run, partner)?;
    let other = words::labelled(site, cable, used);
    Some(Met::Joint(format!("joint in the enclosure of {} with {other}", Paper.board(site, board))))
}

fn far_room(site: &Site, run: Id<Run>) -> String {
    words::room(site, site.runs[run].room)
}

//! Where a conductor goes on at an end of its cable, in words.

use crate::base::Id;
use crate::model::{Board, Run, Site};
use crate::register::{ConductorUse, Function, Point, Wiring};
use crate::words::{self, Paper};

/// Where a conductor goes on: boards' terminals, devices, and, where no terminal holds them together, the cables
/// that go on from there. A loop's resistor is no place to go to: it stands in the loop's path.
pub fn meets(site: &Site, wiring: &Wiring, used: &ConductorUse, points: &[Point]) -> String {
    let landed = points.iter().any(|point| matches!(point, Point::Terminal(..)));
    let said: Vec<String> = points.iter().filter_map(|point| words_of(site, wiring, used, point, landed)).collect();
    match used.function {
        // The jack of a line is no node of its own.
        Function::LineInTip | Function::LineInRing | Function::LineOutTip | Function::LineOutRing
            if said.is_empty() =>
        {
            "the line's jack".into()
        }
        _ => said.join("; "),
    }
}

fn words_of(site: &Site, wiring: &Wiring, used: &ConductorUse, point: &Point, landed: bool) -> Option<String> {
    let in_loop = matches!(used.function, Function::LoopOut(_) | Function::LoopBack(_));
    match point {
        Point::Terminal(board, mark) => Some(format!("{}, terminal {mark}", Paper.board(site, *board))),
        // Which of the device's terminals a loop's conductor meets depends on the order in the loop.
        Point::Device(device, _) if in_loop => Some(words::placed(site, *device)),
        Point::Device(device, mark) => Some(format!("{}, terminal {mark}", words::placed(site, *device))),
        Point::Resistor(_) => None,
        // A terminator at a board is listed among what is fitted there; and a terminal on which two cables meet says
        // it all: which ones they are stands in that board's own table.
        Point::Terminator(_) | Point::Cable(_) if landed => None,
        Point::Terminator(value) => {
            Some(format!("terminator {} across the data conductors", words::terminator(*value)))
        }
        Point::Cable(run) if in_loop => {
            wiring.cable_of(*run).map(|cable| format!("on by {} to {}", cable.label, far_room(site, *run)))
        }
        Point::Cable(run) => {
            let (cable, next) = wiring.conductor_for(*run, used.function)?;
            Some(format!("joined to {}", words::labelled(site, cable, next)))
        }
        Point::Joint(board, run) => joint(site, wiring, *board, *run, used.function),
    }
}

/// In a series loop one cable's back meets the next one's out.
fn joint(site: &Site, wiring: &Wiring, board: Id<Board>, run: Id<Run>, function: Function) -> Option<String> {
    let partner = match function {
        Function::LoopOut(zone) => Function::LoopBack(zone),
        Function::LoopBack(zone) => Function::LoopOut(zone),
        other => other,
    };
    let (cable, used) = wiring.conductor_for(run, partner)?;
    Some(format!("joint in the enclosure of {} with {}", Paper.board(site, board), words::labelled(site, cable, used)))
}

fn far_room(site: &Site, run: Id<Run>) -> String {
    words::room(site, site.runs[run].room)
}

//! The drawings of the power sheet: what each supply feeds, in its worst case, and how each battery runs down.

use super::{DOCUMENT, battery, devices};
use crate::base::Id;
use crate::calc::power::solve::Flow;
use crate::calc::power::trees::heads;
use crate::calc::power::{Case, Demand, Feeding, Load, Node, Supply, Tree, Wire, standby};
use crate::compiled::Compiled;
use crate::draw::discharge::{self, Battery, Line};
use crate::draw::supply_tree;
use crate::model::Board;
use crate::quantity::print;
use crate::views::{Drawing, parts};
use crate::words::{self, Paper};

/// How the battery of a board runs down; none without a battery.
pub(crate) fn of_battery(compiled: &Compiled, board: Id<Board>) -> Option<Drawing> {
    let site = &compiled.site;
    if !standby::is_counted(site, board) {
        return None;
    }
    let currents = standby::currents(site, &compiled.power, board);
    let states = battery::states(compiled, board, currents);
    let line = |state: &battery::State| {
        let corners = state.course?.to_vec();
        let title = format!("{}: {}", state.title, state.time.map_or_else(String::new, battery::about));
        corners.iter().all(|(hours, _)| hours.is_finite()).then_some(Line { title, corners })
    };
    let lines: Vec<Line> = states.iter().filter_map(line).collect();
    let asked = battery::asked(site).0 / 3600.0;
    let scene = discharge::draw(&Battery { asked, lines: lines.clone() }, DOCUMENT.orientation.room().width)?;
    if lines.is_empty() {
        return None;
    }
    let words = lines.iter().map(|line| line.title.as_str()).collect::<Vec<_>>().join("; ");
    let title = format!("How the battery of {} runs down", Paper.board(site, board));
    Some(Drawing { name: format!("battery-{}", position(compiled, board)), title, words, scene })
}

/// The number of a board with a supply of its own, from 1.
fn position(compiled: &Compiled, board: Id<Board>) -> usize {
    heads(&compiled.site).take_while(|other| *other != board).count() + 1
}

/// What a supply feeds, in one part or more; none where no volts are known.
pub(crate) fn of_supply(compiled: &Compiled, feeding: &Feeding) -> Vec<Drawing> {
    let Some((case, flow)) = worst(feeding) else { return Vec::new() };
    let (site, tree) = (&compiled.site, &feeding.tree);
    let title = Paper.outlet(site, tree.source);
    let case = format!("{}, hot wire", words::case(case));
    let place = |(at, node): (usize, &Node)| {
        let length = node.run.and_then(|run| site.runs[run].length.as_ref());
        let length = length.map(|length| format!(" · {}", print::length(length.value, site.lengths)));
        let cable = node.run.map_or_else(
            || node.outlet.map_or_else(|| title.clone(), |outlet| Paper.outlet(site, outlet)),
            |run| format!("{}{}", words::cable(&compiled.wiring, run), length.unwrap_or_default()),
        );
        let volts = flow.volts.get(at).copied().flatten();
        let amperes = flow.amperes.get(at).map(ToString::to_string).unwrap_or_default();
        let load = |load: &Load| supply_tree::Load {
            title: Paper.consumer(site, load.consumer),
            figures: figures(feeding, at, load),
            volts: volts.map(|volts| volts.0),
            least: load.min.map(|least| least.0),
        };
        supply_tree::Place {
            depth: depth(tree, at),
            cable,
            figures: volts.map_or_else(|| "off".to_owned(), |volts| format!("{amperes}, {:.2} V", volts.0)),
            loads: node.loads.iter().map(load).collect(),
        }
    };
    let places = in_order(tree).into_iter().filter_map(|at| Some((at, tree.nodes.get(at)?))).map(place).collect();
    let supply = supply_tree::Supply { title: format!("{title}: {case}"), places };
    let scenes = supply_tree::draw(&supply, DOCUMENT.orientation.room());
    let number = compiled.power.feedings.iter().take_while(|other| !std::ptr::eq(*other, feeding)).count() + 1;
    let words = format!("What {title} feeds, cable by cable, {case}; the figures stand in the table.");
    parts(&format!("supply-{number}"), &supply.title, &words, scenes)
}

/// What a device takes, and what is left over its least.
fn figures(feeding: &Feeding, node: usize, load: &Load) -> String {
    let takes = if load.idle == load.alarm { load.idle.to_string() } else { format!("{} / {}", load.idle, load.alarm) };
    let margin = devices::margin(feeding, node, load).map(|margin| format!(", {:.2} V left", margin.0));
    format!("{takes}{}", margin.unwrap_or_default())
}

/// The case with hot wire in which the least is left at any device; where none says what it needs, the one with least volts.
fn worst(feeding: &Feeding) -> Option<(Case, &Flow)> {
    let hot = feeding.flows.iter().filter(|(case, _)| case.wire == Wire::Hot);
    let solved: Vec<(Case, &Flow)> = hot.filter_map(|(case, flow)| Some((*case, flow.as_ref().ok()?))).collect();
    let left = |flow: &Flow| {
        let loads = feeding.tree.loads();
        let margins = loads.filter_map(|(at, load)| Some(flow.volts.get(at).copied().flatten()?.0 - load.min?.0));
        margins.reduce(f64::min)
    };
    let worst = solved.iter().filter_map(|found| Some((left(found.1)?, found)));
    let worst = worst.min_by(|(one, _), (other, _)| one.total_cmp(other)).map(|(_, found)| *found);
    let is_last = |case: &Case| case.demand == Demand::Alarm && case.supply == Supply::Battery;
    let last = || solved.iter().find(|(case, _)| is_last(case)).or(solved.last()).copied();
    worst.or_else(last)
}

/// How many places a place hangs below.
fn depth(tree: &Tree, node: usize) -> usize {
    let before = |at: &usize| tree.nodes.get(*at).map(|node| node.before).filter(|before| before != at);
    std::iter::successors(Some(node), before).count() - 1
}

/// The places, each followed by what hangs below it.
fn in_order(tree: &Tree) -> Vec<usize> {
    let mut below: Vec<Vec<usize>> = vec![Vec::new(); tree.nodes.len()];
    for (at, node) in tree.nodes.iter().enumerate().filter(|(at, node)| node.before != *at) {
        if let Some(below) = below.get_mut(node.before) {
            below.push(at);
        }
    }
    let mut order = Vec::new();
    let mut left: Vec<usize> = if tree.nodes.is_empty() { Vec::new() } else { vec![0] };
    while let Some(at) = left.pop() {
        order.push(at);
        left.extend(below.get(at).into_iter().flatten().rev());
    }
    order
}

//! What equipment reports of itself: keys of keypads, mains and battery, outputs, sounders, modules, buses, ways.

use std::collections::BTreeSet;

use super::{About, Number, Report, Sent};
use crate::base::Id;
use crate::calc::power::Power;
use crate::model::{Board, Communicator, DeviceKind, Site, Source};
use crate::profiles::events;
use crate::terms::Path;

const fn report(about: About, code: u32, number: Number) -> Report {
    Report { about, code, sent: Sent::Both, number, area: None }
}

/// The emergency keys in use, keypad by keypad. They are pressed, and have no end.
pub(super) fn keys(site: &Site) -> Vec<Report> {
    let boards = site.boards.entries();
    let keys = boards.flat_map(|(id, board)| board.emergency_keys.iter().map(move |in_use| (id, in_use)));
    let of_key = |(board, in_use): (Id<Board>, &crate::model::KeyInUse)| Report {
        about: About::Key(board, in_use.key.value),
        code: events::of_key(in_use.key.value).into(),
        sent: Sent::New,
        number: in_use.number.as_ref().map_or(Number::OfBoard, |number| Number::Given(number.value)),
        area: None,
    };
    keys.map(of_key).collect()
}

/// Everything else that equipment reports: panels first.
pub(super) fn reports(site: &Site, power: &Power) -> Vec<Report> {
    let panels = site.boards.entries().filter(|(_, board)| board.kind.is_panel());
    let hanging = site.boards.entries().filter(|(_, board)| board.kind.hangs_on_bus());
    let mut reports: Vec<Report> = panels.flat_map(|(id, board)| of_panel(site, id, board)).collect();
    reports.extend(outputs(site, power));
    reports.extend(sounders(site));
    reports.extend(
        site.buses.entries().flat_map(|(id, _)| [331, 332].map(|code| report(About::Bus(id), code, Number::OfBoard))),
    );
    reports.extend(hanging.flat_map(|(id, board)| of_module(site, id, board)));
    reports.extend(site.communicators.entries().map(|(id, way)| of_way(site, id, way)));
    if !site.communicators.is_empty() {
        reports.push(Report { sent: Sent::New, ..report(About::Site, 354, Number::OfBoard) });
    }
    reports
}

/// Mains, the battery where there is one, and what disturbs a radio that hears.
fn of_panel(site: &Site, id: Id<Board>, board: &Board) -> Vec<Report> {
    let battery: &[u32] = if board.battery.is_some() { &[302, 311] } else { &[] };
    let codes = std::iter::once(301).chain(battery.iter().copied());
    let mut reports: Vec<Report> = codes.map(|code| report(About::Board(id), code, Number::Zero)).collect();
    reports.extend(site.hears(id).then(|| report(About::Board(id), 344, Number::OfBoard)));
    reports
}

/// True where a board tells of what hangs on it: a panel, or what is on a panel's bus. A strip is its output's board's. A supply
/// that stands alone tells nothing by itself: its fault contact is watched by a zone.
fn tells(site: &Site, board: Id<Board>) -> bool {
    let fed_by = |board: &Id<Board>| site.boards[*board].kind.feed().map(|output| output.board);
    let kind = std::iter::successors(Some(board), fed_by).take(site.boards.len()).last();
    let kind = kind.map(|board| &site.boards[board].kind);
    kind.is_some_and(|kind| kind.is_panel() || kind.hangs_on_bus())
}

/// Outputs that feed something, of panels and of what hangs on a bus.
fn outputs(site: &Site, power: &Power) -> Vec<Report> {
    let mut used: Vec<_> = Vec::new();
    for feeding in &power.feedings {
        // Whatever takes current is fed by every output that it is behind.
        let mut fed: Vec<bool> = feeding.tree.nodes.iter().map(|node| !node.loads.is_empty()).collect();
        for (at, node) in feeding.tree.nodes.iter().enumerate().rev() {
            let here = fed.get(at).copied().unwrap_or_default();
            if let Some(before) = fed.get_mut(node.before) {
                *before |= here;
            }
            let source = if node.before == at { Some(feeding.tree.source) } else { node.outlet };
            if let Some(Source::Output(output)) = source.filter(|_| here) {
                used.push(output);
            }
        }
    }
    used.retain(|output| tells(site, output.board));
    used.sort_unstable();
    used.dedup();
    used.into_iter().map(|output| report(About::Output(output), 312, Number::OfBoard)).collect()
}

/// Circuits with a sounder, by name. Which of the codes for the first bell, the second and so on a board takes is its own
/// affair, so this is the one for any of them.
fn sounders(site: &Site) -> Vec<Report> {
    let told = site.circuits.entries().filter(|(_, circuit)| circuit.board().is_none_or(|board| tells(site, board)));
    let circuits = told.map(|(id, _)| id);
    let sounding = circuits.filter(|id| site.devices_on(*id).any(|(_, device)| device.kind == DeviceKind::Sounder));
    sounding.map(|id| report(About::Circuit(id), 320, Number::OfBoard)).collect()
}

/// A module that does not answer, whose cover is open, or whose own mains or battery is gone.
fn of_module(site: &Site, id: Id<Board>, board: &Board) -> Vec<Report> {
    let mut codes = vec![333, 341];
    if board.transformer.is_some() {
        codes.push(342);
    }
    if board.battery.is_some() {
        codes.push(338);
    }
    if site.hears(id) {
        codes.push(344);
    }
    codes.into_iter().map(|code| report(About::Board(id), code, Number::OfBoard)).collect()
}

/// A way that is down. There are codes for a panel's first and its second telephone line; a third is a way like another.
fn of_way(site: &Site, id: Id<Communicator>, way: &Communicator) -> Report {
    let code = match way.path.as_ref().map(|path| path.value) {
        Some(Path::Telephone) => match line_of_panel(site, id, way) {
            0 => 351,
            1 => 352,
            _ => 350,
        },
        Some(Path::Radio) => 353,
        Some(Path::Internet) | None => 350,
    };
    report(About::Way(id), code, Number::OfBoard)
}

/// Which of its panel's telephone lines a way is, from 0 on: that of the panel's port, and of an adapter the first that is left.
fn line_of_panel(site: &Site, id: Id<Communicator>, way: &Communicator) -> usize {
    let panel = site.panel_of_way(way);
    let own = |way: &Communicator| way.port.filter(|(board, _)| Some(*board) == panel).map(|(_, port)| port);
    if let Some(port) = own(way) {
        return port;
    }
    let is_line = |way: &Communicator| way.is_telephone() && site.panel_of_way(way) == panel;
    let lines = || site.communicators.entries().filter(|(_, way)| is_line(way));
    let ports: BTreeSet<usize> = lines().filter_map(|(_, way)| own(way)).collect();
    let before = lines().filter(|(other, way)| *other < id && own(way).is_none()).count();
    (0..).filter(|line| !ports.contains(line)).nth(before).unwrap_or(before)
}

//! How long a way to the monitoring service lives without mains: as long as what gives up first of the panel, the adapter
//! and the powered devices on it.

use super::standby::{is_counted, least_time};
use super::trees::hop_output;
use super::{Consumer, Power};
use crate::base::Id;
use crate::model::{Board, Communicator, Hop, HopRef, Site};
use crate::quantity::Seconds;
use crate::terms::{Path, Service};

/// What a way hangs on in the house and that gives up without mains.
#[derive(Clone, Copy)]
pub(crate) enum Link<'s> {
    /// A powered device on the way.
    Hop(&'s Hop),
    /// The adapter or a board that carries its bus, where another supply than the panel's feeds it.
    Board(Id<Board>),
}

/// How long a way lives without mains.
pub(crate) enum Lives<'s> {
    /// Until these give up, all at once, after this time, before the panel does.
    Until(Vec<Link<'s>>, Seconds),
    /// As long as the panel, without which a line that feeds itself is of no use, and how long that is, where it is known; no panel
    /// where the spec has none for it.
    AsThePanel(Option<(Id<Board>, Option<Seconds>)>),
    /// On devices in the house that the spec does not have.
    NotKnown,
}

/// How long a way lives.
pub(crate) fn lives<'s>(site: &'s Site, power: &Power, line: Id<Communicator>) -> Lives<'s> {
    let way = &site.communicators[line];
    let panel = site.panel_of_way(way).map(|panel| (panel, of_board(site, power, panel)));
    let weakest = weakest(site, power, line).map(|(_, time)| time);
    match (weakest, panel) {
        (Some(time), panel) if panel.is_none_or(|(_, panel)| time < panel) => {
            let first = ends(site, power, line).filter(|(_, one)| one.0 <= time.0);
            Lives::Until(first.map(|(link, _)| link).collect(), time)
        }
        (None, panel) if way.hops.is_empty() && needs_devices(way) && panel.is_none_or(|(_, time)| time.0 > 0.0) => {
            Lives::NotKnown
        }
        (_, panel) => Lives::AsThePanel(panel.map(|(panel, time)| {
            let is_counted = supply(site, power, panel).is_none_or(|head| is_counted(site, head));
            (panel, is_counted.then_some(time))
        })),
    }
}

/// The board whose battery a board lives by: its own, that of the circuit that feeds it, or that of its bus.
fn supply(site: &Site, power: &Power, board: Id<Board>) -> Option<Id<Board>> {
    let fed = power.place_of(Consumer::Board(board)).filter(|_| !site.boards[board].has_own_supply());
    site.supplied_by(fed.map_or(board, |(feeding, _)| feeding.tree.source.board()))
}

/// How long the supply of a board lasts at rest, in whole minutes: nobody counts on the rest. Nothing without a battery.
fn of_board(site: &Site, power: &Power, board: Id<Board>) -> Seconds {
    let time = supply(site, power, board).map_or(Seconds(0.0), |head| least_time(site, power, head));
    Seconds((time.0 / 60.0).floor() * 60.0)
}

/// True where the way needs powered devices in the house beside the panel.
fn needs_devices(way: &Communicator) -> bool {
    match way.path.as_ref().map(|path| path.value) {
        Some(Path::Internet) => true,
        Some(Path::Telephone) => match way.service {
            Some(Service::Voip | Service::Broadband | Service::Mobile) | None => true,
            Some(Service::Copper) => false,
        },
        Some(Path::Radio) | None => false,
    }
}

/// How long a hop lives; `None` for one that the panel's battery feeds, through whatever, and for one whose supply is not
/// known. Hops that feed each other are another finding's, and live as long.
pub(crate) fn lasts(site: &Site, power: &Power, id: HopRef) -> Option<Seconds> {
    let way: Vec<HopRef> = std::iter::once(id).chain(site.hops_before(id)).collect();
    let feeders: Vec<&Hop> = way.iter().filter_map(|hop| site.hop(*hop)).collect();
    if feeders.last().is_none_or(|last| last.from.is_some()) {
        return None;
    }
    let heads: Vec<Id<Board>> = feeders.iter().flat_map(|hop| heads(site, id.line, hop)).collect();
    let is_fed = feeders.iter().any(|hop| hop.output.is_some() || !hop.fed_by.is_empty());
    // Another panel's battery is a supply like any other.
    let panel = site.panel_of_way(&site.communicators[id.line]).and_then(|panel| supply(site, power, panel));
    let is_panel = |head: &Id<Board>| panel.map_or(site.boards[*head].kind.is_panel(), |panel| panel == *head);
    if is_fed && (heads.is_empty() || heads.iter().any(is_panel)) {
        return None;
    }
    let backups = feeders.iter().map(|hop| hop.backup.unwrap_or_default());
    let batteries = heads.into_iter().map(|head| of_board(site, power, head));
    backups.chain(batteries).max_by(|one, other| one.0.total_cmp(&other.0))
}

/// The boards whose supplies feed a hop itself, by an output or by circuits.
fn heads(site: &Site, line: Id<Communicator>, hop: &Hop) -> Vec<Id<Board>> {
    let by_name = hop.output.as_ref().and_then(|name| hop_output(site, &site.communicators[line], &name.value));
    let by_circuit = hop.fed_by.iter().filter_map(|circuit| Some(site.circuits[circuit.value].feed.as_ref()?.value));
    by_name.into_iter().chain(by_circuit).filter_map(|output| site.supplied_by(output.board)).collect()
}

/// What of a way gives up by itself, each with its time: its adapter and the boards between that and the panel, then its hops
/// in order.
pub(crate) fn ends<'s>(
    site: &'s Site,
    power: &Power,
    line: Id<Communicator>,
) -> impl Iterator<Item = (Link<'s>, Seconds)> {
    let way = &site.communicators[line];
    let of_panel = site.panel_of_way(way).and_then(|panel| supply(site, power, panel));
    // What carries the bus on to the adapter must live as well.
    let boards = way.starts_at().into_iter().flat_map(|board| site.up_the_buses(board));
    let boards = boards.take_while(|board| !site.boards[*board].kind.is_panel());
    let apart = boards.filter(move |board| supply(site, power, *board) != of_panel);
    let hops = way.hops.iter().enumerate();
    let hops = hops.filter_map(move |(at, hop)| Some((Link::Hop(hop), lasts(site, power, HopRef { line, hop: at })?)));
    apart.map(|board| (Link::Board(board), of_board(site, power, board))).chain(hops)
}

/// The boards whose batteries a link lives by.
pub(crate) fn batteries(site: &Site, power: &Power, line: Id<Communicator>, link: Link<'_>) -> Vec<Id<Board>> {
    let heads = match link {
        Link::Board(board) => supply(site, power, board).into_iter().collect(),
        Link::Hop(hop) => heads(site, line, hop),
    };
    heads.into_iter().filter(|head| site.boards[*head].battery.is_some()).collect()
}

/// What gives up first, and when; `None` where all live as long as the panel.
pub(crate) fn weakest<'s>(site: &'s Site, power: &Power, line: Id<Communicator>) -> Option<(Link<'s>, Seconds)> {
    soonest(ends(site, power, line))
}

/// What of some gives up first, and when.
pub(crate) fn soonest<'s>(ends: impl Iterator<Item = (Link<'s>, Seconds)>) -> Option<(Link<'s>, Seconds)> {
    ends.min_by(|(_, one), (_, other)| one.0.total_cmp(&other.0))
}

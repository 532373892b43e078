//! How long a way to the monitoring service lives without mains: as long as the powered device on it that gives up
//! first.

use super::Power;
use super::standby::least_time;
use super::trees::hop_output;
use crate::base::Id;
use crate::model::{Board, Communicator, Hop, HopRef, Site};
use crate::quantity::Seconds;
use crate::terms::{Path, Service};

/// How long a way lives without mains.
pub(crate) enum Lives<'s> {
    /// Until these hops give up, all at once, after this time.
    Until(Vec<&'s Hop>, Seconds),
    /// As long as the panel, whose communicator it is: a line that feeds itself is of no use without it.
    AsThePanel,
    /// On devices in the house that the spec does not have.
    NotKnown,
}

/// How long a way lives.
pub(crate) fn lives<'s>(site: &'s Site, power: &Power, line: Id<Communicator>) -> Lives<'s> {
    let way = &site.communicators[line];
    match weakest(site, power, line) {
        Some((_, time)) => {
            let first = ends(site, power, line).filter(|(_, one)| one.0 <= time.0);
            Lives::Until(first.map(|(hop, _)| hop).collect(), time)
        }
        None if way.hops.is_empty() && needs_devices(way) => Lives::NotKnown,
        None => Lives::AsThePanel,
    }
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
    let heads: Vec<Id<Board>> = way.iter().flat_map(|hop| heads(site, *hop)).collect();
    let is_fed = feeders.iter().any(|hop| hop.output.is_some() || !hop.fed_by.is_empty());
    if is_fed && (heads.is_empty() || heads.iter().any(|head| site.boards[*head].kind.is_panel())) {
        return None;
    }
    let backups = feeders.iter().map(|hop| hop.backup.unwrap_or_default());
    // Whole minutes: nobody counts on the rest.
    let batteries = heads.into_iter().map(|head| Seconds((least_time(site, power, head).0 / 60.0).floor() * 60.0));
    backups.chain(batteries).max_by(|one, other| one.0.total_cmp(&other.0))
}

/// The boards whose supplies feed a hop itself, by an output or by circuits.
fn heads(site: &Site, id: HopRef) -> Vec<Id<Board>> {
    let Some(hop) = site.hop(id) else { return Vec::new() };
    let by_name = hop.output.as_ref().and_then(|name| hop_output(site, &site.communicators[id.line], &name.value));
    let by_circuit = hop.fed_by.iter().filter_map(|circuit| Some(site.circuits[circuit.value].feed.as_ref()?.value));
    by_name.into_iter().chain(by_circuit).filter_map(|output| site.supplied_by(output.board)).collect()
}

/// The hops of a way that give up before the panel, each with its time, in order.
pub(crate) fn ends<'s>(
    site: &'s Site,
    power: &Power,
    line: Id<Communicator>,
) -> impl Iterator<Item = (&'s Hop, Seconds)> {
    let hops = site.communicators[line].hops.iter().enumerate();
    hops.filter_map(move |(at, hop)| Some((hop, lasts(site, power, HopRef { line, hop: at })?)))
}

/// The hop that gives up first, and when; `None` where all live as long as the panel.
pub(crate) fn weakest<'s>(site: &'s Site, power: &Power, line: Id<Communicator>) -> Option<(&'s Hop, Seconds)> {
    ends(site, power, line).min_by(|(_, one), (_, other)| one.0.total_cmp(&other.0))
}

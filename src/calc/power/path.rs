//! How long a way to the monitoring service lives without mains: as long as the powered device on it that gives up
//! first.

use crate::base::Id;
use crate::model::{Communicator, Hop, HopRef, Site};
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
pub(crate) fn lives(site: &Site, line: Id<Communicator>) -> Lives<'_> {
    let way = &site.communicators[line];
    match weakest(site, line) {
        Some((_, time)) => {
            let first = ends(site, line).filter(|(_, one)| one.0 <= time.0);
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

/// How long a hop lives; `None` for one that an output of the panel feeds, itself or through other hops: as long as the
/// panel. Hops that feed each other are another finding's, and live as long.
pub(crate) fn lasts(site: &Site, id: HopRef) -> Option<Seconds> {
    let before = site.hops_before(id);
    let feeders: Vec<&Hop> = std::iter::once(id).chain(before).filter_map(|hop| site.hop(hop)).collect();
    let of_panel = |hop: &&Hop| hop.output.is_some() || !hop.fed_by.is_empty();
    let ends = feeders.last().is_some_and(|last| last.from.is_none());
    if !ends || feeders.iter().any(of_panel) {
        return None;
    }
    let backups = feeders.iter().map(|hop| hop.backup.unwrap_or_default());
    backups.max_by(|one, other| one.0.total_cmp(&other.0))
}

/// The hops of a way that give up before the panel, each with its time, in order.
pub(crate) fn ends(site: &Site, line: Id<Communicator>) -> impl Iterator<Item = (&Hop, Seconds)> {
    let hops = site.communicators[line].hops.iter().enumerate();
    hops.filter_map(move |(at, hop)| Some((hop, lasts(site, HopRef { line, hop: at })?)))
}

/// The hop that gives up first, and when; `None` where all live as long as the panel.
pub(crate) fn weakest(site: &Site, line: Id<Communicator>) -> Option<(&Hop, Seconds)> {
    ends(site, line).min_by(|(_, one), (_, other)| one.0.total_cmp(&other.0))
}

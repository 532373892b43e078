//! How long a way to the monitoring service lives without mains: as long as the powered device on it that gives up
//! first.

use crate::base::Id;
use crate::model::{Communicator, Hop, HopRef, Site};
use crate::quantity::Seconds;

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

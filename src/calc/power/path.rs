//! How long a way to the monitoring service lives without mains: as long as the powered device on it that gives up
//! first.

use crate::model::{Communicator, Hop};
use crate::quantity::Seconds;

/// How long a hop lives; `None` for one that an output of the panel feeds: as long as the panel.
pub(crate) fn lasts(hop: &Hop) -> Option<Seconds> {
    if hop.output.is_some() { None } else { Some(hop.backup.unwrap_or_default()) }
}

/// The hop that gives up first, and when; `None` where all live as long as the panel.
pub(crate) fn weakest(line: &Communicator) -> Option<(&Hop, Seconds)> {
    let ends = line.hops.iter().filter_map(|hop| Some((hop, lasts(hop)?)));
    ends.min_by(|(_, one), (_, other)| one.0.total_cmp(&other.0))
}

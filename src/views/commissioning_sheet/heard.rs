//! What the service is to hear: zones by alarm and restore, keys, ways.

use serde::Serialize;

use crate::base::Id;
use crate::events::{About, is_sent};
use crate::model::{Board, KeyInUse, Site, Zone};
use crate::words::Paper;

/// What is tried of each way.
pub(crate) const ALONE: &str = "alarm heard by it alone";
/// The other thing that is tried of each way.
pub(crate) const CUT: &str = "trouble heard when it is cut";

/// A zone as the service reads it back.
#[derive(Debug, Default, Serialize)]
pub(crate) struct ZoneRow {
    number: String,
    description: String,
}

/// Two zones side by side.
#[derive(Debug, Serialize)]
pub(crate) struct Pair {
    left: ZoneRow,
    /// Empty beside the last where their number is odd.
    right: ZoneRow,
}

/// An emergency key of a keypad.
#[derive(Debug, Serialize)]
pub(crate) struct KeyRow {
    keypad: String,
    key: &'static str,
}

/// The zones in use that the service hears of, two to a row: the first half beside the second.
pub(crate) fn zones(site: &Site) -> Vec<Pair> {
    let heard = site.zones_in_use().filter(|(id, _)| is_sent(site, About::Zone(*id)));
    let row =
        |zone: &Zone| ZoneRow { number: zone.number.value.to_string(), description: zone.description.value.clone() };
    let mut left: Vec<ZoneRow> = heard.map(|(_, zone)| row(zone)).collect();
    let mut right = left.split_off(left.len().div_ceil(2)).into_iter();
    left.into_iter().map(|left| Pair { left, right: right.next().unwrap_or_default() }).collect()
}

/// The emergency keys of a keypad, where the service hears of them.
pub(crate) fn keys(site: &Site, id: Id<Board>, board: &Board) -> Vec<KeyRow> {
    let row = |in_use: &KeyInUse| KeyRow { keypad: Paper.board(site, id), key: in_use.key.value.printed() };
    let heard = board.emergency_keys.iter().filter(|in_use| is_sent(site, About::Key(id, in_use.key.value)));
    heard.map(row).collect()
}

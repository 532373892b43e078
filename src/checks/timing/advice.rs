//! Delays that fit an area: its ways, the published ranges, and each other. What a help tells to write.

use crate::base::Id;
use crate::calc::timing::{Door, needed};
use crate::model::{Area, Site};
use crate::profiles::timing::delays;

/// Entry delay and abort window that fit, in seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Advice {
    pub(super) entry: f64,
    pub(super) exit: f64,
    pub(super) abort: f64,
    /// True where entry delay and abort window stay within what they may be together.
    pub(super) fits: bool,
}

/// A whole number of seconds that people can keep in mind.
fn rounded_up(seconds: f64) -> f64 {
    (seconds / 5.0).ceil() * 5.0
}

pub(super) fn of(site: &Site, doors: &[Door], id: Id<Area>) -> Advice {
    const USUAL_EXIT: f64 = 60.0;
    let area = &site.areas[id];
    let limits = delays(site.edition);
    let needed = needed(doors, id).map_or(0.0, |(_, needed)| rounded_up(needed.0));
    let entry = needed.clamp(limits.entry.least.value, limits.entry.most.value);
    let exit = needed.clamp(USUAL_EXIT, limits.exit.most.value);
    let kept = area.abort.as_ref().map(|abort| abort.value.0).filter(|abort| limits.abort.holds(*abort));
    let left = limits.together.value - entry;
    let abort = kept.unwrap_or(limits.abort.most.value).min(left).max(limits.abort.least.value);
    Advice { entry, exit, abort, fits: entry + abort <= limits.together.value }
}

impl Advice {
    /// What to write for the entry delay, with the abort window where that has to give way.
    pub(super) fn entry_words(&self, area: &Area) -> String {
        let entry = format!("entry=(s){}", self.entry);
        match &area.abort {
            Some(abort) if (abort.value.0 - self.abort).abs() > 1e-9 => format!("{entry} abort=(s){}", self.abort),
            Some(_) | None => entry,
        }
    }
}

//! Whether a loop is right once a contact that is open at rest stands before what it is to bridge.
//!
//! Inside one place the order counts: such a contact bridges what comes behind it. Out of scope: the order of runs.

use crate::base::Id;
use crate::calc::loops::{self, LoopReadings, StateReading};
use crate::calc::network;
use crate::calc::{State, Verdict};
use crate::checks::Context;
use crate::checks::loops::loop_known::{Known, fits};
use crate::model::{Device, Mounted, Owner, Run, Site};
use crate::words::Screen;

/// How many contacts are tried in another place.
const TRIED: usize = 12;

/// What to swap, in words; `None` where no swap makes every state right.
pub(crate) fn help(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>) -> Option<String> {
    let site = context.site;
    let places = std::iter::once(None).chain(site.runs_of(Owner::Zone(readings.zone)).map(|(run, _)| Some(run)));
    let mut late = places.flat_map(|run| late(site, readings, run)).take(TRIED);
    let (device, run) = late.find(|(device, run)| {
        let swapped = network::with_first(site, readings.zone, *device, *run);
        let swapped = swapped.and_then(|network| loops::of_network(site, readings.zone, network));
        swapped.is_some_and(|readings| right(&readings, known))
    })?;
    let at = run.map_or_else(
        || "at the board".to_owned(),
        |run| format!("at the end of {}", Screen.cable(context.wiring, run)),
    );
    Some(format!(
        "Write {} first {at}, before the resistor: the order at one place counts, and a contact that is open at rest bridges only what comes behind it.",
        Screen.device(site, device)
    ))
}

/// The contacts at a place that are open at rest and stand behind something in series.
fn late(site: &Site, readings: &LoopReadings, run: Option<Id<Run>>) -> Vec<(Id<Device>, Option<Id<Run>>)> {
    let items = site.mounted(Owner::Zone(readings.zone), run);
    let open = |item: &Mounted| item.device().filter(|device| site.is_open_at_rest(*device));
    let behind = items.iter().skip_while(|item| open(item).is_some());
    behind.filter_map(open).map(|device| (device, run)).collect()
}

fn right(readings: &LoopReadings, known: &Known<'_>) -> bool {
    let cut = readings.states.iter().find(|reading| matches!(reading.state, State::Cut(_)));
    let cut: Option<Verdict> = cut.map(|reading| reading.reading.verdict);
    readings.states.iter().all(|reading: &StateReading| fits(known.wiring, true, reading, cut))
}

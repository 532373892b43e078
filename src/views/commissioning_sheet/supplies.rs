//! Supplies: where each is lowest, on mains at rest and on battery in alarm.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::base::Id;
use crate::calc::as_built::at_rest;
use crate::calc::meter::volts_shown_by_a_meter;
use crate::calc::power::own_supply::{end_of_battery, follows_battery};
use crate::calc::power::{Consumer, Demand, Feeding, Supply};
use crate::compiled::Compiled;
use crate::model::{Board, DeviceKind, Source};
use crate::quantity::Volts;
use crate::words::{self, Paper};

/// A supply, measured at one place.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    supply: String,
    at: String,
    mains: String,
    /// Empty to write the reading in; a dash where there is nothing to measure.
    mains_reading: &'static str,
}

/// A reading on battery in alarm.
#[derive(Debug, Serialize)]
pub(crate) struct OnBattery {
    supply: String,
    at: String,
    shows: String,
}

/// The supplies on mains at rest.
pub(crate) fn rows(compiled: &Compiled, feeding: &Feeding) -> Vec<Row> {
    let said = |(least, greatest): (Volts, Volts)| words::range(least.0, greatest.0, words::volts);
    let row = |(node, at): (usize, String)| {
        let mains = at_rest(feeding, node).map(volts_shown_by_a_meter).map(said);
        let is_off = mains.is_none() && feeding.volts(node, Supply::Mains, Demand::Alarm).is_some();
        let mains_reading = if is_off { "–" } else { "" };
        Row {
            supply: source(compiled, feeding, node),
            at,
            mains: mains.unwrap_or_else(|| mains_reading.to_owned()),
            mains_reading,
        }
    };
    places(compiled, feeding).into_iter().map(row).collect()
}

/// The batteries in an alarm without mains, each with what its board may lose on the way to the same places: a battery
/// that is full hides a bad joint from any figure that holds for one at its end.
pub(crate) fn on_battery(compiled: &Compiled) -> Vec<OnBattery> {
    let site = &compiled.site;
    if site.is_off_without_mains() {
        return Vec::new();
    }
    let with_battery = site.boards.entries().filter(|(_, board)| board.battery.is_some());
    with_battery.flat_map(|(board, _)| of_battery(compiled, board)).collect()
}

fn of_battery(compiled: &Compiled, board: Id<Board>) -> Vec<OnBattery> {
    let site = &compiled.site;
    let mut found = vec![OnBattery {
        supply: format!("battery of {}", Paper.board(site, board)),
        at: "its terminals".to_owned(),
        shows: "the next are held against it".to_owned(),
    }];
    let part = site.part_of(board);
    let end = part.map(end_of_battery);
    for feeding in compiled.power.of_board(board) {
        for (node, at) in places(compiled, feeding) {
            let volts = feeding.volts(node, Supply::Battery, Demand::Alarm);
            let Some((end, (hot, _))) = end.zip(volts) else { continue };
            let shown = volts_shown_by_a_meter((hot, hot)).0;
            let output = match feeding.tree.source {
                Source::Output(output) => site.output(output),
                Source::Port(..) => None,
            };
            let holds = part.zip(output).is_some_and(|(part, output)| !follows_battery(part, output));
            // Such an output holds its volts, whatever the battery has.
            let shows = if holds || raised_at(feeding, node).is_some() {
                format!("{shown} or more")
            } else {
                format!("at most {} less than the battery", Volts((end - shown).0.max(0.0)))
            };
            found.push(OnBattery { supply: source(compiled, feeding, node), at, shows });
        }
    }
    found
}

/// The output behind which a place has other volts than its board's supply.
fn raised_at(feeding: &Feeding, node: usize) -> Option<usize> {
    let raised = |at: &usize| feeding.tree.nodes.get(*at).is_some_and(|node| node.raised.is_some());
    feeding.tree.way(node).into_iter().rfind(raised)
}

/// What feeds a place, in words.
fn source(compiled: &Compiled, feeding: &Feeding, node: usize) -> String {
    let source = raised_at(feeding, node).map_or(feeding.tree.source, |output| feeding.tree.outlet_of(output));
    Paper.source(&compiled.site, source)
}

/// The places of a supply that are measured, each with its node: of what has its own volts, and of what a module raises them for.
fn places(compiled: &Compiled, feeding: &Feeding) -> Vec<(usize, String)> {
    let of = feeding.tree.loads().map(|(node, _)| raised_at(feeding, node)).collect::<BTreeSet<_>>();
    of.into_iter().flat_map(|raised| places_behind(compiled, feeding, raised)).collect()
}

/// The place that gets least on a tired battery in alarm, where one reading says most; and where that is off at rest, the place
/// that gets least of those that are not.
fn places_behind(compiled: &Compiled, feeding: &Feeding, raised: Option<usize>) -> Vec<(usize, String)> {
    // What an alarm releases is read at rest.
    let at_rest = |node| at_rest_volts(feeding, node).map(|(hot, _)| hot);
    let least = |node: &usize| least_in_alarm(feeding, *node).or_else(|| at_rest(*node));
    let lowest = |at_rest: bool| {
        let loads = feeding.tree.loads().filter(|(node, _)| raised_at(feeding, *node) == raised);
        let loads = loads.filter(|(node, _)| !at_rest || at_rest_volts(feeding, *node).is_some());
        let found = loads.filter_map(|(node, load)| Some((node, least(&node)?, load.consumer)));
        found.min_by(|one, other| one.1.0.total_cmp(&other.1.0)).map(|(node, _, consumer)| (node, consumer))
    };
    let mut places: Vec<(usize, Consumer)> = lowest(false).into_iter().chain(lowest(true)).collect();
    if places.first().is_some_and(|(node, _)| at_rest_volts(feeding, *node).is_some()) {
        places.truncate(1);
    }
    places.into_iter().map(|(node, consumer)| measured(compiled, feeding, node, consumer)).collect()
}

fn least_in_alarm(feeding: &Feeding, node: usize) -> Option<Volts> {
    let battery = feeding.volts(node, Supply::Battery, Demand::Alarm);
    battery.or_else(|| feeding.volts(node, Supply::Mains, Demand::Alarm)).map(|(hot, _)| hot)
}

fn at_rest_volts(feeding: &Feeding, node: usize) -> Option<(Volts, Volts)> {
    feeding.volts(node, Supply::Mains, Demand::Idle)
}

/// Nobody stands on a ladder beside a sounder while it sounds: its supply is measured at the board's terminals.
fn measured(compiled: &Compiled, feeding: &Feeding, node: usize, consumer: Consumer) -> (usize, String) {
    let site = &compiled.site;
    if is_sounder(compiled, consumer) {
        let outlet = Paper.source(site, feeding.tree.outlet_of(node));
        (feeding.tree.outlet_node(node), format!("terminals of {outlet}"))
    } else {
        (node, Paper.consumer(site, consumer))
    }
}

fn is_sounder(compiled: &Compiled, consumer: Consumer) -> bool {
    match consumer {
        Consumer::Device(device) => compiled.site.devices[device].kind == DeviceKind::Sounder,
        Consumer::Board(_) | Consumer::Hop(..) => false,
    }
}

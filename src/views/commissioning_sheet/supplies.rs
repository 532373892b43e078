//! Supplies: where each is lowest, on mains at rest and on battery in alarm.

use serde::Serialize;

use crate::calc::as_built::at_rest;
use crate::calc::meter::volts_shown_by_a_meter;
use crate::calc::power::{Consumer, Demand, Feeding, Supply};
use crate::compiled::Compiled;
use crate::model::DeviceKind;
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
    battery: String,
}

/// The place of a supply that gets least on a tired battery in alarm, where one reading says most; and where that is off
/// at rest, the place that gets least of those that are not.
pub(crate) fn rows(compiled: &Compiled, feeding: &Feeding) -> Vec<Row> {
    let least = |node: &usize| least_in_alarm(feeding, *node);
    let lowest = |at_rest: bool| {
        let loads = feeding.tree.loads().filter(|(node, _)| !at_rest || at_rest_volts(feeding, *node).is_some());
        let found = loads.filter_map(|(node, load)| Some((node, least(&node)?, load.consumer)));
        found.min_by(|one, other| one.1.0.total_cmp(&other.1.0)).map(|(node, _, consumer)| (node, consumer))
    };
    let mut places: Vec<(usize, Consumer)> = lowest(false).into_iter().chain(lowest(true)).collect();
    if places.first().is_some_and(|(node, _)| at_rest_volts(feeding, *node).is_some()) {
        places.truncate(1);
    }
    places.into_iter().map(|(node, consumer)| supply(compiled, feeding, node, consumer)).collect()
}

fn least_in_alarm(feeding: &Feeding, node: usize) -> Option<Volts> {
    let battery = feeding.volts(node, Supply::Battery, Demand::Alarm);
    battery.or_else(|| feeding.volts(node, Supply::Mains, Demand::Alarm)).map(|(hot, _)| hot)
}

fn at_rest_volts(feeding: &Feeding, node: usize) -> Option<(Volts, Volts)> {
    feeding.volts(node, Supply::Mains, Demand::Idle)
}

/// Nobody stands on a ladder beside a sounder while it sounds: its supply is measured at the board's terminals.
fn supply(compiled: &Compiled, feeding: &Feeding, node: usize, consumer: Consumer) -> Row {
    let site = &compiled.site;
    let source = Paper.source(site, feeding.tree.source);
    let (node, at) = if is_sounder(compiled, consumer) {
        (feeding.tree.outlet_node(node), format!("terminals of {}", Paper.source(site, feeding.tree.outlet_of(node))))
    } else {
        (node, Paper.consumer(site, consumer))
    };
    let said = |(least, greatest): (Volts, Volts)| words::range(least.0, greatest.0, words::volts);
    let battery = least_in_alarm(feeding, node).map(|volts| volts_shown_by_a_meter((volts, volts)).0);
    let mains = at_rest(feeding, node).map(volts_shown_by_a_meter).map(said);
    let is_off = mains.is_none() && feeding.volts(node, Supply::Mains, Demand::Alarm).is_some();
    let mains_reading = if is_off { "–" } else { "" };
    Row {
        supply: source,
        at,
        mains: mains.unwrap_or_else(|| mains_reading.to_owned()),
        mains_reading,
        battery: battery.map(|volts| format!("{volts} or more")).unwrap_or_default(),
    }
}

fn is_sounder(compiled: &Compiled, consumer: Consumer) -> bool {
    match consumer {
        Consumer::Device(device) => compiled.site.devices[device].kind == DeviceKind::Sounder,
        Consumer::Board(_) | Consumer::Hop(..) => false,
    }
}

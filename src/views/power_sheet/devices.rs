//! What arrives at every device: rows of the sheet, and the table of the CSV file.

use serde::Serialize;

use crate::calc::power::{CASES, Case, Consumer, Demand, Feeding, Load, Supply};
use crate::compiled::Compiled;
use crate::model::DeviceKind;
use crate::quantity::{Volts, print};
use crate::views::Table;
use crate::words::{self, Paper};

/// A device on a supply.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    device: String,
    way: String,
    takes: String,
    mains_idle: String,
    mains_alarm: String,
    battery_idle: String,
    battery_alarm: String,
    needs: String,
    margin: String,
}

/// The devices of a supply, in the order of the cables.
pub(crate) fn rows(compiled: &Compiled, feeding: &Feeding) -> Vec<Row> {
    feeding.tree.loads().map(|(node, load)| row(compiled, feeding, node, load)).collect()
}

fn row(compiled: &Compiled, feeding: &Feeding, node: usize, load: &Load) -> Row {
    let volts = |supply, demand| feeding.volts(node, supply, demand).map_or_else(|| "–".to_owned(), range);
    Row {
        device: Paper.consumer(&compiled.site, load.consumer),
        way: words::way(&compiled.site, &compiled.wiring, &feeding.tree, node, load.consumer),
        takes: if load.idle == load.alarm { load.idle.to_string() } else { format!("{} / {}", load.idle, load.alarm) },
        mains_idle: volts(Supply::Mains, Demand::Idle),
        mains_alarm: volts(Supply::Mains, Demand::Alarm),
        battery_idle: volts(Supply::Battery, Demand::Idle),
        battery_alarm: volts(Supply::Battery, Demand::Alarm),
        needs: match (load.min, load.max) {
            (Some(min), Some(max)) => format!("{}–{}", bare(min), bare(max)),
            (Some(min), None) => format!("from {}", bare(min)),
            (None, Some(max)) => format!("to {}", bare(max)),
            (None, None) => "not given".to_owned(),
        },
        margin: margin(feeding, node, load).map_or_else(|| "–".to_owned(), |margin| format!("{:.2}", margin.0)),
    }
}

/// Volts in the heat and in the cold, as one where they print alike.
fn range((hot, cold): (Volts, Volts)) -> String {
    let (least, most) = (format!("{:.2}", hot.0), format!("{:.2}", cold.0));
    if least == most { least } else { format!("{least}–{most}") }
}

/// Volts without their unit, which the head of the column has.
fn bare(volts: Volts) -> String {
    let text = format!("{:.2}", volts.0);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Volts over the minimum in the worst case; `None` where no minimum is given or nothing is known of the volts.
pub(crate) fn margin(feeding: &Feeding, node: usize, load: &Load) -> Option<Volts> {
    let min = load.min?;
    let (_, least) = worst(feeding, node)?;
    Some(Volts(least.0 - min.0))
}

/// The least volts at a place, and the case in which they are; `None` where nothing is known of the volts.
pub(crate) fn worst(feeding: &Feeding, node: usize) -> Option<(Case, Volts)> {
    let flows = feeding.flows.iter().filter_map(|(case, flow)| Some((*case, flow.as_ref().ok()?)));
    let volts = flows.filter_map(|(case, flow)| Some((case, flow.volts.get(node).copied().flatten()?)));
    volts.min_by(|(_, one), (_, other)| one.0.total_cmp(&other.0))
}

/// A row for each device.
pub(crate) fn table(compiled: &Compiled) -> Table {
    let site = &compiled.site;
    let columns = vec![
        "board",
        "supply",
        "device",
        "kind",
        "cables",
        "length",
        "idle",
        "alarm",
        "min V",
        "max V",
        "mains idle cold V",
        "mains idle hot V",
        "mains alarm cold V",
        "mains alarm hot V",
        "battery idle cold V",
        "battery idle hot V",
        "battery alarm cold V",
        "battery alarm hot V",
        "margin V",
    ];
    let mut table = Table { columns, rows: Vec::new() };
    for feeding in &compiled.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let kind = match load.consumer {
                Consumer::Device(id) => match site.devices[id].kind {
                    DeviceKind::Sounder => "sounder",
                    DeviceKind::Load => "load",
                    DeviceKind::Contact | DeviceKind::Detector | DeviceKind::Wireless | DeviceKind::Fault => "detector",
                },
                Consumer::Board(id) => site.boards[id].kind.noun(),
                Consumer::Hop(..) => "communication",
            };
            let three = |volts: Option<Volts>| volts.map(|volts| format!("{:.3}", volts.0)).unwrap_or_default();
            let mut row = vec![
                Paper.board(site, feeding.tree.source.board()),
                Paper.outlet(site, feeding.tree.source),
                Paper.consumer(site, load.consumer),
                kind.to_owned(),
                words::labels(&compiled.wiring, &feeding.tree, node).join(" → "),
                print::length(words::length(site, &feeding.tree, node), site.lengths),
                load.idle.to_string(),
                load.alarm.to_string(),
                three(load.min),
                three(load.max),
            ];
            row.extend(CASES.map(|case| {
                let flow = feeding.flow(case.supply, case.demand, case.wire);
                three(flow.and_then(|flow| flow.volts.get(node).copied().flatten()))
            }));
            row.push(three(margin(feeding, node, load)));
            table.rows.push(row);
        }
    }
    table
}

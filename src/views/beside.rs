//! Beside the spec: what is known of a thing, for whoever has the line open on which it is written.
//!
//! Every figure is the one of a sheet: a loop's states those of `why`, a supply's load and a battery's hours those of the
//! power sheet, a module's place that of the bus sheet. Out of scope: where on the screen it is shown.

use super::bus_sheet::places;
use super::power_sheet::{of_outlet, times_given, worst};
use super::why;
use crate::base::{Id, Span};
use crate::calc::power::{Consumer, Feeding, Load, standby};
use crate::calc::{Element, trail};
use crate::compiled::Compiled;
use crate::model::{Board, Device, Owner, Run, Source, Zone};
use crate::words::{self, Paper};

/// A thing of which figures are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Thing {
    /// A zone with its loop.
    Zone(Id<Zone>),
    /// A run of cable.
    Run(Id<Run>),
    /// A device.
    Device(Id<Device>),
    /// A board.
    Board(Id<Board>),
    /// The battery of a board.
    Battery(Id<Board>),
    /// What gives a supply.
    Source(Source),
}

/// The things of a site, each with a place in the node that writes it.
pub(crate) fn things(compiled: &Compiled) -> Vec<(Span, Thing)> {
    let site = &compiled.site;
    let mut things = Vec::new();
    for (id, zone) in site.zones.entries() {
        things.push((zone.number.span, Thing::Zone(id)));
        things.extend(zone.wired.as_ref().map(|wired| (wired.place.span, Thing::Zone(id))));
    }
    things.extend(site.runs.entries().map(|(id, run)| (run.span(), Thing::Run(id))));
    things.extend(site.devices.entries().map(|(id, device)| (device.span(), Thing::Device(id))));
    for (id, board) in site.boards.entries() {
        things.push((board.name.span, Thing::Board(id)));
        things.extend(board.battery.as_ref().map(|battery| (battery.capacity.span, Thing::Battery(id))));
    }
    for circuit in &site.circuits {
        let source = circuit.feed.as_ref().map(|feed| Thing::Source(Source::Output(feed.value)));
        things.extend(source.map(|source| (circuit.name.span, source)));
    }
    things
}

/// What is known of a thing, a line each; nothing where it cannot be computed.
pub(crate) fn lines(compiled: &Compiled, thing: Thing) -> Vec<String> {
    match thing {
        Thing::Zone(zone) => of_zone(compiled, zone),
        Thing::Run(run) => of_run(compiled, run),
        Thing::Device(device) => of_consumer(compiled, Consumer::Device(device)),
        Thing::Board(board) => of_board(compiled, board),
        Thing::Battery(board) => of_battery(compiled, board),
        Thing::Source(source) => of_source(compiled, source).into_iter().collect(),
    }
}

/// The one figure that matters most, in a few characters; `None` where there is none.
pub(crate) fn short(compiled: &Compiled, thing: Thing) -> Option<String> {
    match thing {
        Thing::Zone(zone) => {
            let rest = compiled.loops.get(&zone)?.states.first()?;
            Some(format!("{} at rest", words::ohms(rest.ohms.nominal)))
        }
        Thing::Run(run) => {
            let label = words::cable(&compiled.wiring, run);
            let ohms = ohms(compiled, run).map(words::ohms);
            Some(
                [Some(label.to_owned()).filter(|label| !label.is_empty()), ohms]
                    .into_iter()
                    .flatten()
                    .collect::<Vec<_>>()
                    .join(", "),
            )
            .filter(|text| !text.is_empty())
        }
        Thing::Device(device) => volts(compiled, Consumer::Device(device)),
        Thing::Board(board) => volts(compiled, Consumer::Board(board)),
        Thing::Battery(board) => {
            let hours = times_given(compiled, board, standby::currents(&compiled.site, &compiled.power, board));
            Some(hours.into_iter().next()?.time)
        }
        Thing::Source(_) => None,
    }
}

fn of_zone(compiled: &Compiled, zone: Id<Zone>) -> Vec<String> {
    let Some(why) = why::of(compiled, zone, |file| &file.path, usize::MAX) else { return Vec::new() };
    let state = |state: why::StateTrail| {
        let volts = if state.volts_result.is_empty() { String::new() } else { format!(", {}", state.volts_result) };
        format!("{}: {}{volts}: reads {}", state.state, state.ohms_result, state.reads)
    };
    let input = Some(why.input).filter(|input| !input.is_empty());
    input.into_iter().chain(why.states.into_iter().map(state)).collect()
}

/// The ohms of a run's pair in the loop that it is part of.
fn ohms(compiled: &Compiled, run: Id<Run>) -> Option<f64> {
    let Owner::Zone(zone) = compiled.site.runs[run].owner else { return None };
    let readings = compiled.loops.get(&zone)?;
    let trail = trail::of(&compiled.site, readings, 0);
    trail.steps.iter().find(|step| step.element == Element::Wire(run)).map(|step| step.ohms.nominal)
}

fn of_run(compiled: &Compiled, run: Id<Run>) -> Vec<String> {
    let site = &compiled.site;
    let cable = words::sized_cable(site, &compiled.wiring, run).replace('`', "");
    let way = format!("from {} to {}", words::start(site, run), words::end(site, run));
    let ohms = ohms(compiled, run).map(|ohms| format!("both conductors of the loop: {}", words::ohms(ohms)));
    [Some(cable), Some(way), ohms].into_iter().flatten().collect()
}

/// The places in the supplies' trees at which something takes current.
fn loads(compiled: &Compiled, consumer: Consumer) -> impl Iterator<Item = (&Feeding, usize, &Load)> {
    compiled.power.feedings.iter().flat_map(move |feeding| {
        let loads = feeding.tree.loads().filter(move |(_, load)| load.consumer == consumer);
        loads.map(move |(node, load)| (feeding, node, load))
    })
}

fn volts(compiled: &Compiled, consumer: Consumer) -> Option<String> {
    let worst = loads(compiled, consumer).filter_map(|(feeding, node, _)| worst(feeding, node));
    worst
        .map(|(_, volts)| volts)
        .min_by(|one, other| one.0.total_cmp(&other.0))
        .map(|volts| format!("{volts} at worst"))
}

fn of_consumer(compiled: &Compiled, consumer: Consumer) -> Vec<String> {
    let site = &compiled.site;
    let mut lines = Vec::new();
    for (feeding, node, load) in loads(compiled, consumer) {
        let takes = if load.idle == load.alarm {
            load.idle.to_string()
        } else {
            format!("{} at rest, {} in alarm", load.idle, load.alarm)
        };
        let way = words::way(site, &compiled.wiring, &feeding.tree, node, consumer);
        lines.push(format!("fed by {}: {way}; takes {takes}", Paper.source(site, feeding.tree.outlet_of(node))));
        if let Some((case, volts)) = worst(feeding, node) {
            let needs = load.min.map_or_else(String::new, |min| format!("; needs {min}"));
            lines.push(format!("worst volts: {volts} ({}){needs}", words::case(case)));
        }
    }
    lines
}

fn of_board(compiled: &Compiled, board: Id<Board>) -> Vec<String> {
    let site = &compiled.site;
    let mut lines: Vec<String> = compiled
        .buses
        .iter()
        .filter_map(|(bus, figures)| {
            let at = figures.layout.places.iter().position(|place| place.boards.contains(&board))?;
            let order = figures.layout.in_order();
            let row = order.iter().position(|(place, _)| *place == at)?;
            let place = places::of(compiled, figures).into_iter().nth(row)?;
            let address = site.boards[board]
                .address
                .as_ref()
                .map_or_else(String::new, |address| format!("address {}, ", address.value));
            let unit = site.lengths.symbol();
            Some(format!(
                "bus {}: {address}place {}, {} {unit} from its first end",
                site.buses[*bus].name.value, place.position, place.distance
            ))
        })
        .collect();
    lines.extend(of_consumer(compiled, Consumer::Board(board)));
    if site.boards[board].has_own_supply() {
        let sources = compiled.power.of_board(board).map(|feeding| feeding.tree.source);
        lines.extend(sources.filter_map(|source| of_source(compiled, source)));
    }
    lines
}

fn of_battery(compiled: &Compiled, board: Id<Board>) -> Vec<String> {
    let currents = standby::currents(&compiled.site, &compiled.power, board);
    let hours = times_given(compiled, board, currents);
    hours.into_iter().map(|hours| format!("{}: {} (enough: {})", hours.state, hours.time, hours.enough)).collect()
}

fn of_source(compiled: &Compiled, source: Source) -> Option<String> {
    let feedings = &compiled.power.feedings;
    let (feeding, node) = feedings.iter().find_map(|feeding| {
        let nodes = feeding.tree.nodes.iter().enumerate();
        let at = nodes.filter(|(at, node)| *at > 0 && node.outlet == Some(source)).map(|(at, _)| at).next();
        at.or((feeding.tree.source == source).then_some(0)).map(|node| (feeding, node))
    })?;
    let limit = if node == 0 { feeding.tree.limit } else { feeding.tree.nodes.get(node)?.limit };
    let row = of_outlet(compiled, feeding, node, limit);
    let spare = if row.spare.is_empty() { String::new() } else { format!("; spare: {}", row.spare) };
    Some(format!(
        "{}: {} at rest, {} in alarm, limit {}{spare}",
        Paper.source(&compiled.site, source),
        row.idle,
        row.alarm,
        row.limit
    ))
}

//! How the figures of a supply, a battery and a bus are computed: those of the power sheet and of the bus sheet, each with
//! its formula, what it rests on and its place in the spec.

use serde::Serialize;

use super::bus_sheet::{self, places};
use super::power_sheet;
use super::why::{self, PathOf, place};
use crate::base::{Id, Span};
use crate::calc::pair::Pair;
use crate::calc::power::own_supply::Currents;
use crate::calc::power::{Consumer, Demand, Feeding, Load, Supply, Wire, standby};
use crate::calc::trail::Formula;
use crate::compiled::Compiled;
use crate::model::{Board, Bus, Source};
use crate::quantity::{Amperes, Volts};
use crate::words::{self, Paper};

/// The figures of a supply, a battery or a bus.
#[derive(Clone, Debug, Serialize)]
pub struct Figures {
    /// What they are of: "output aux of Panel".
    pub(crate) of: String,
    /// In the order in which they follow from each other.
    pub(crate) figures: Vec<Figure>,
}

/// A figure.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Figure {
    /// What it is.
    pub(crate) what: String,
    /// Its formula with numbers put in; empty where it stands in the spec.
    pub(crate) formula: String,
    /// Its value.
    pub(crate) result: String,
    /// What it rests on.
    pub(crate) source: String,
    /// Path and line of the spec that it comes from; empty where it comes from several.
    pub(crate) place: String,
}

/// The outputs and ports that the power sheet has a row of, as `supply=` names them: "main/aux".
pub(crate) fn supplies(compiled: &Compiled) -> Vec<(String, Source)> {
    let sources = compiled.power.feedings.iter().flat_map(|feeding| {
        let outlets = feeding.tree.nodes.iter().filter_map(|node| node.outlet);
        std::iter::once(feeding.tree.source).chain(outlets)
    });
    let mut all: Vec<(String, Source)> = sources.map(|source| (source_name(compiled, source), source)).collect();
    all.sort();
    all.dedup();
    all
}

fn source_name(compiled: &Compiled, source: Source) -> String {
    let site = &compiled.site;
    let board = &site.boards[source.board()].name.value;
    let own = match source {
        Source::Output(output) => site.output(output).map(|output| output.name.value.clone()),
        Source::Port(board, port) => {
            site.part_of(board).and_then(|part| part.bus_ports.get(port)).map(|port| port.name.value.clone())
        }
    };
    format!("{board}/{}", own.unwrap_or_default())
}

/// What a supply feeds, each with its tree and node.
fn fed(compiled: &Compiled, source: Source) -> Vec<(&Feeding, usize, &Load)> {
    let of = |feeding: &'_ Feeding, node| feeding.tree.source == source || feeding.tree.outlet_of(node) == source;
    let feedings = compiled.power.feedings.iter();
    feedings
        .flat_map(|feeding| feeding.tree.loads().map(move |(node, load)| (feeding, node, load)))
        .filter(|(feeding, node, _)| of(feeding, *node))
        .collect()
}

/// The current of a supply, and the way to the device on it that has the least left over what it needs.
pub(crate) fn of_supply(compiled: &Compiled, source: Source, path: PathOf) -> Figures {
    let figures = worst_of(compiled, source, path);
    Figures { of: Paper.source(&compiled.site, source), figures }
}

fn worst_of(compiled: &Compiled, source: Source, path: PathOf) -> Vec<Figure> {
    let left = |(feeding, node, load): &(&Feeding, usize, &Load)| {
        let margin = power_sheet::margin(feeding, *node, load).map(|margin| margin.0);
        // Those of which no need is known come last, by their volts.
        let volts = power_sheet::worst(feeding, *node).map(|(_, volts)| volts.0);
        (margin.unwrap_or(f64::INFINITY), volts.unwrap_or(f64::INFINITY))
    };
    let all = fed(compiled, source);
    let by_left = |a: &&(&Feeding, usize, &Load), b: &&(&Feeding, usize, &Load)| {
        let (a, b) = (left(a), left(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    };
    let Some((feeding, node, load)) = all.iter().min_by(by_left).copied() else {
        let is_there = |feeding: &&Feeding| {
            feeding.tree.source == source || feeding.tree.nodes.iter().any(|node| node.outlet == Some(source))
        };
        let feeding = compiled.power.feedings.iter().find(is_there);
        return feeding.map(|feeding| currents(compiled, feeding, source, path)).unwrap_or_default();
    };
    let mut figures = currents(compiled, feeding, source, path);
    figures.extend(way(compiled, feeding, node, path));
    figures.extend(at_device(compiled, feeding, node, load, path));
    figures
}

/// What the supply gives, beside its limit.
fn currents(compiled: &Compiled, feeding: &Feeding, source: Source, path: PathOf) -> Vec<Figure> {
    let starts = feeding.tree.nodes.iter().position(|node| node.outlet == Some(source)).unwrap_or_default();
    let limit = feeding.tree.nodes.get(starts).and_then(|node| node.limit);
    let limit = if starts == 0 { feeding.tree.limit } else { limit };
    let row = power_sheet::of_outlet(compiled, feeding, starts, limit);
    let left = if row.spare.is_empty() || row.spare.ends_with("too much") { "" } else { " left" };
    let spare = if row.spare.is_empty() { String::new() } else { format!(", {}{left}", row.spare) };
    let mut is_raised = false;
    let takes: Vec<String> = fed(compiled, source)
        .into_iter()
        .map(|(of, node, load)| {
            let counted = |demand| {
                let mut supplies = [Supply::Mains, Supply::Battery].into_iter();
                let is_on = supplies.any(|supply| of.tree.is_on(node, supply, demand));
                if is_on { load.takes(demand).to_string() } else { "off".to_owned() }
            };
            let [idle, alarm] = [Demand::Idle, Demand::Alarm].map(|demand| of.factor(starts, node, demand));
            let who = Paper.consumer(&compiled.site, load.consumer);
            let takes = format!("{who} {} / {}", counted(Demand::Idle), counted(Demand::Alarm));
            if idle <= 1.0 && alarm <= 1.0 {
                return takes;
            }
            is_raised = true;
            format!("{takes} × {idle:.3} / {alarm:.3}")
        })
        .collect();
    let one_of_two = "; of what is never on at once, by the two contacts of a relay or by arming, the greater";
    let one_of_two = if feeding.tree.has_either_or() { one_of_two } else { "" };
    let sheets = "the sheets of the parts";
    vec![Figure {
        what: "current, at rest / in alarm".to_owned(),
        formula: if takes.is_empty() && feeding.tree.whole && feeding.tree.unknown.is_empty() {
            "nothing hangs on it".to_owned()
        } else if takes.is_empty() {
            "no sheet says what is taken here".to_owned()
        } else {
            format!("{}{one_of_two}", takes.join(" + "))
        },
        result: format!("{} / {}, limit {}{spare}", row.idle, row.alarm, row.limit),
        source: if is_raised {
            format!(
                "{sheets}; × the volts of an output that raises them, over those that come to it, {}",
                words::LOSSLESS
            )
        } else {
            sheets.to_owned()
        },
        place: part_place(compiled, source.board(), path),
    }]
}

/// Volts from the supply to a device in its worst case, cable by cable.
fn way(compiled: &Compiled, feeding: &Feeding, node: usize, path: PathOf) -> Vec<Figure> {
    let Compiled { site, wiring, .. } = compiled;
    let Some((case, _)) = power_sheet::worst(feeding, node) else { return Vec::new() };
    let Some(flow) = feeding.flow(case.supply, case.demand, case.wire) else { return Vec::new() };
    let volts = |at: usize| flow.volts.get(at).copied().flatten().map_or(f64::NAN, |volts| volts.0);
    let board = feeding.tree.source.board();
    let start = if case.supply == Supply::Battery { power_sheet::end_of_battery(compiled, board) } else { None };
    let mut figures = vec![Figure {
        what: format!("volts at {}, {}", Paper.source(site, feeding.tree.source), words::case(case)),
        formula: String::new(),
        result: fine(volts(0)),
        source: start.unwrap_or_else(|| "the board's sheet".to_owned()),
        place: part_place(compiled, board, path),
    }];
    for at in feeding.tree.way(node) {
        let Some(item) = feeding.tree.nodes.get(at).filter(|item| item.before != at) else { continue };
        let amperes = flow.amperes.get(at).map_or(0.0, |amperes| amperes.0);
        let temper = match case.wire {
            Wire::Hot => "hot",
            Wire::Cold => "cold",
            Wire::Usual => "20 °C",
        };
        let (before, ohms) = (volts(item.before), case.wire.of(item.ohms));
        let lost = if item.drop.0 > 0.0 { format!(" − {}", item.drop) } else { String::new() };
        let raised = item.raised.map(|raised| raised.volts(case.supply, case.wire));
        let held = item
            .most
            .map_or_else(String::new, |most| format!(", at most the {} that it holds", Volts(case.wire.supply(most))));
        let wire = item.run.and_then(|run| Pair::of_run(site, &site.runs[run]).map(|pair| (run, pair)));
        let (wire, source) = wire.map_or_else(Default::default, |(run, pair)| {
            let pairs = site.runs[run].pairs;
            let pairs = if pairs > 1 { format!(", {pairs} pairs side by side") } else { String::new() };
            let wire = format!("; R = {}{pairs}", why::formula(Formula::Wire(pair)));
            (wire, why::wire_source(Formula::Wire(pair)))
        });
        let what = item.run.map_or_else(
            || item.outlet.map_or_else(|| "in the board".to_owned(), |source| Paper.source(site, source)),
            |run| {
                format!(
                    "at the end of {}, from {} to {}",
                    Paper.cable(wiring, run),
                    words::start(site, run),
                    words::end(site, run)
                )
            },
        );
        figures.push(Figure {
            what: format!("volts {what}"),
            formula: match raised {
                Some(volts) => format!("raised from {} to {volts}, by its sheet", fine(before)),
                None => format!("{} − {amperes:.4} A × {ohms:.3} Ω ({temper} wire){lost}{held}{wire}", fine(before)),
            },
            result: fine(volts(at)),
            source,
            place: item.run.map_or_else(String::new, |run| place(compiled, path, site.runs[run].span())),
        });
    }
    figures
}

/// What the device needs, and what is left.
fn at_device(compiled: &Compiled, feeding: &Feeding, node: usize, load: &Load, path: PathOf) -> Option<Figure> {
    let site = &compiled.site;
    let (_, volts) = power_sheet::worst(feeding, node)?;
    let (span, part): (Option<Span>, _) = match load.consumer {
        Consumer::Device(id) => (Some(site.devices[id].span()), site.device_part(id)),
        Consumer::Board(id) => (Some(site.boards[id].name.span), site.part_of(id)),
        Consumer::Hop(..) => (None, None),
    };
    let sheet = part.map(|part| format!("part {} ({})", part.name.value, place(compiled, path, part.name.span)));
    let min = load.min;
    Some(Figure {
        what: format!("left at {}, the worst of this supply", Paper.consumer(site, load.consumer)),
        formula: min.map_or_else(String::new, |min| format!("{} − {min} that it needs", fine(volts.0))),
        result: power_sheet::margin(feeding, node, load).map_or_else(
            || format!("not known: no sheet says what it needs of {}", fine(volts.0)),
            |left| fine(left.0),
        ),
        source: sheet.unwrap_or_default(),
        place: span.map(|span| place(compiled, path, span)).unwrap_or_default(),
    })
}

fn part_place(compiled: &Compiled, board: Id<Board>, path: PathOf) -> String {
    compiled.site.part_of(board).map(|part| place(compiled, path, part.name.span)).unwrap_or_default()
}

/// The boards with a battery, as `battery=` names them.
pub(crate) fn batteries(compiled: &Compiled) -> Vec<(String, Id<Board>)> {
    let boards = compiled.site.boards.entries().filter(|(_, board)| board.battery.is_some());
    boards.map(|(id, board)| (board.name.value.clone(), id)).collect()
}

/// What a battery carries, what is asked for, and how long it lasts.
pub(crate) fn of_battery(compiled: &Compiled, board: Id<Board>, path: PathOf) -> Figures {
    let site = &compiled.site;
    let currents = standby::currents(site, &compiled.power, board);
    let here = place(compiled, path, site.boards[board].name.span);
    let sheet = part_place(compiled, board, path);
    let figure = |what: String, formula: String, result: String, place: &str| Figure {
        what,
        formula,
        result,
        source: String::new(),
        place: place.to_owned(),
    };
    let rows = power_sheet::budget_rows(compiled, board);
    let carried = rows.iter().filter_map(|row| row.carried.as_ref());
    let sum = |of: fn(&Currents) -> Amperes| {
        carried.clone().map(|(supply, currents)| format!("{supply} {}", of(currents))).collect::<Vec<_>>().join(" + ")
    };
    let mut figures = vec![
        figure("current at rest".to_owned(), sum(|currents| currents.idle), currents.idle.to_string(), &sheet),
        figure("current in alarm".to_owned(), sum(|currents| currents.alarm), currents.alarm.to_string(), &sheet),
    ];
    let lines = power_sheet::battery_lines(compiled, board, currents);
    figures.extend(lines.into_iter().map(|line| figure(line.what.to_owned(), line.how, line.figure, &here)));
    let hours = power_sheet::times_given(compiled, board, currents);
    figures.extend(hours.into_iter().map(|row| {
        let enough = match row.enough {
            "yes" => "enough",
            "no" => "not enough",
            "not known" => "whether that is enough is not known",
            other => other,
        };
        figure(format!("lasts {}", row.state), row.how, format!("{}, {enough}", row.time), &here)
    }));
    Figures { of: format!("battery of {}", Paper.board(site, board)), figures }
}

/// The buses, as `bus=` names them: "main/data", or "data" alone.
pub(crate) fn buses(compiled: &Compiled) -> Vec<(String, Id<Bus>)> {
    let name = |bus: &Bus| {
        let board = bus.board.as_ref().map(|board| compiled.site.boards[board.value].name.value.clone());
        board.map_or_else(|| bus.name.value.clone(), |board| format!("{board}/{}", bus.name.value))
    };
    compiled.site.buses.entries().map(|(id, bus)| (name(bus), id)).collect()
}

/// Places, addresses, lengths and terminators of a bus beside their limits, and the volts at its worst module; `None` where
/// it cannot be computed.
pub(crate) fn of_bus(compiled: &Compiled, id: Id<Bus>, path: PathOf) -> Option<Figures> {
    let site = &compiled.site;
    let (bus, found) = (&site.buses[id], compiled.buses.get(&id)?);
    let mut figures: Vec<Figure> = places::of(compiled, found)
        .into_iter()
        .zip(found.layout.in_order().into_iter().filter_map(|(at, _)| found.layout.places.get(at)))
        .map(|(row, at)| Figure {
            what: format!("place {}, {}", row.position, row.board),
            formula: if row.cable.is_empty() {
                String::new()
            } else {
                format!("{} {} of {}", row.length, site.lengths.symbol(), row.cable)
            },
            result: format!(
                "{} {} from the end{}",
                row.distance,
                site.lengths.symbol(),
                if row.address.is_empty() { String::new() } else { format!(", address {}", row.address) }
            ),
            source: if row.terminator.is_empty() { String::new() } else { format!("terminator {}", row.terminator) },
            place: at
                .run
                .map(|run| site.runs[run].span())
                .or_else(|| at.boards.first().map(|board| site.boards[*board].name.span))
                .map(|span| place(compiled, path, span))
                .unwrap_or_default(),
        })
        .collect();
    let here = place(compiled, path, bus.name.span);
    figures.extend(bus_sheet::summary(compiled, bus, found).into_iter().map(|row| Figure {
        what: row.what.to_owned(),
        formula: if row.margin.is_empty() { row.limit } else { format!("{}, left {}", row.limit, row.margin) },
        result: row.here,
        source: row.basis,
        place: here.clone(),
    }));
    let port = bus.board.as_ref().zip(bus.port).map(|(board, port)| Source::Port(board.value, port));
    figures.extend(port.map(|port| worst_of(compiled, port, path)).unwrap_or_default());
    Some(Figures { of: format!("bus {}", bus.name.value), figures })
}

fn fine(volts: f64) -> String {
    format!("{volts:.3} V")
}

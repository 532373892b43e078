//! The rows of a board's terminals, in their order on it.

use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::terminal::{Role, terminals};
use crate::model::{Board, Site, Zone};
use crate::quantity::Resistance;
use crate::register::{End, Fitted, FittedKind, OnTerminal, Point};
use crate::words::{self, Paper};

use super::row::{Row, State, Thing, in_use};
use super::shields;

/// What is under every screw.
pub(super) fn rows(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let Compiled { site, wiring, .. } = compiled;
    let mut listed = terminals(site, board);
    // A mark that the part does not list is printed all the same: what is in the wall must be on the paper.
    let dead = wiring.dead.iter().flat_map(|cable| &cable.conductors);
    let dead = dead.flat_map(|conductor| conductor.near.iter().chain(&conductor.far));
    for (_, mark) in wiring.terminals.keys().chain(dead).filter(|(on, _)| *on == board) {
        if !listed.iter().any(|terminal| terminal.mark == *mark) {
            listed.push(crate::model::Terminal { mark: mark.clone(), roles: Vec::new() });
        }
    }
    let mut rows = Vec::new();
    for terminal in listed {
        let role = words::roles(site, board, &terminal.roles);
        let things = wiring.terminals.get(&(board, terminal.mark.clone())).map(Vec::as_slice).unwrap_or_default();
        let start = rows.len();
        let row = |thing: Thing, cable: String, conductor: String, function: String, goes: String| Row {
            mark: terminal.mark.clone(),
            thing,
            cable,
            conductor,
            function,
            goes,
            ..Row::default()
        };
        for thing in things {
            match thing {
                OnTerminal::Conductor(cable, index) => {
                    let Some(cable) = wiring.cables.get(*cable) else { continue };
                    let Some(used) = cable.conductors.get(*index) else { continue };
                    let here = Point::Terminal(board, terminal.mark.clone());
                    let end = if used.near.contains(&here) { End::Near } else { End::Far };
                    rows.push(in_use(compiled, cable, used, end, terminal.mark.clone()));
                }
                OnTerminal::Shield(cable) => {
                    let Some(cable) = wiring.cables.get(*cable) else { continue };
                    rows.extend(shields::under(compiled, cable, board, &terminal.mark));
                }
                OnTerminal::Lead(which) => {
                    let lead = words::lead(site, board, *which);
                    let thing = Thing::Lead(*which, lead.colour, lead.fused);
                    rows.push(row(thing, lead.what.into(), lead.conductor, lead.function.into(), lead.goes));
                }
                OnTerminal::Link(to, mark) => {
                    let goes = format!("{}, terminal {mark}", Paper.board(site, *to));
                    let thing = Thing::Link(Some(mark.clone()).filter(|_| *to == board));
                    rows.push(row(thing, "link".into(), "short wire".into(), role.clone(), goes));
                }
            }
        }
        for cable in &wiring.dead {
            for conductor in cable.on(board, &terminal.mark) {
                let here = Some((board, terminal.mark.clone()));
                let end = if conductor.near == here { End::Near } else { End::Far };
                let function = format!("dead: {}", cable.because);
                let (label, thing) = (cable.label.clone(), Thing::Conductor(conductor.colour));
                let what = row(
                    thing,
                    label,
                    words::dead_conductor(site, cable, conductor),
                    function,
                    "take it off".to_owned(),
                );
                rows.push(Row { state: State::Dead, end: Some(end), ..what });
            }
        }
        for fitted in wiring.fitted.iter().filter(|fitted| fitted.board == board && !fitted.in_series()) {
            rows.extend(fitted_across(site, fitted, &terminal.mark));
        }
        rows.extend(fitted_in_series(site, wiring.in_series_at(board, &terminal.mark), &terminal.mark));
        for row in rows.iter_mut().skip(start) {
            let does = row.key.and_then(|key| key.function);
            if does.is_some_and(|does| wiring.is_behind_resistor(does, board, &terminal.mark)) {
                row.goes = format!("{}; on the free lead of the resistor in series, not under this screw", row.goes);
            }
        }
        if rows.len() == start {
            let free = !terminal.roles.is_empty() && terminal.roles.iter().copied().all(Role::is_wired_by_spec);
            let (state, function) = if free && terminal.roles.iter().any(|role| is_left_alone(site, board, *role)) {
                (State::StaysEmpty, format!("{role}: {}", words::OWN_SUPPLY))
            } else {
                (if free { State::Free } else { State::NotTold }, role)
            };
            rows.push(Row { mark: terminal.mark.clone(), state, function, ..Row::default() });
        }
        if let Some(first) = rows.get_mut(start) {
            first.first = true;
        }
    }
    rows
}

/// True for the positive of the port by which a board with a supply of its own hangs on a bus.
fn is_left_alone(site: &Site, board: Id<Board>, role: Role) -> bool {
    let Some((bus, _)) = site.boards[board].bus else { return false };
    let port = site.port_position(bus, board).map(Role::BusPlus);
    port == Some(role) && site.leaves_bus_supply(bus, board)
}

/// What is fitted across two terminals, at one of them.
fn fitted_across(site: &Site, fitted: &Fitted, mark: &str) -> Option<Row> {
    let (one, other) = &fitted.across;
    let to = match (one == mark, other == mark) {
        (true, _) => other,
        (_, true) => one,
        _ => return None,
    };
    let (what, value, function, figure) = match &fitted.kind {
        FittedKind::Resistor { value, zone, .. } => {
            ("resistor", *value, format!("zone {}", site.zones[*zone].number.value), words::resistor(value))
        }
        FittedKind::Terminator(value) => {
            ("terminator", Resistance::new(*value), "end of the bus".to_owned(), words::terminator(*value))
        }
    };
    let thing = Thing::Across(to.clone(), value.bands());
    Some(fitted_row(mark, thing, what, function, format!("across to terminal {to}: {figure}")))
}

/// The resistors between a terminal and the cable's conductor.
fn fitted_in_series(site: &Site, resistors: impl Iterator<Item = (Id<Zone>, Resistance)>, mark: &str) -> Option<Row> {
    let (zones, values): (Vec<Id<Zone>>, Vec<Resistance>) = resistors.unzip();
    let zone = *zones.first()?;
    let figures: Vec<String> = values.iter().map(words::resistor).collect();
    let (what, order) = if values.len() > 1 { ("resistors", ", one behind the other") } else { ("resistor", "") };
    let thing = Thing::InSeries(zone, values.iter().map(|value| value.bands().unwrap_or_default()).collect());
    let function = format!("zone {}", site.zones[zone].number.value);
    let goes = format!("in series between this terminal and the cable{order}: {}", figures.join(", "));
    Some(fitted_row(mark, thing, what, function, goes))
}

fn fitted_row(mark: &str, thing: Thing, what: &str, function: String, goes: String) -> Row {
    Row {
        mark: mark.to_owned(),
        thing,
        cable: what.to_owned(),
        conductor: "lead".to_owned(),
        function,
        goes,
        ..Row::default()
    }
}

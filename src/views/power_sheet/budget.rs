//! The currents of a board's supplies against their limits.

use serde::Serialize;

use super::bar;
use crate::base::Id;
use crate::calc::power::judge::SPARE;
use crate::calc::power::own_supply::{self, Currents};
use crate::calc::power::{Demand, Feeding, Supply};
use crate::compiled::Compiled;
use crate::model::{Board, Source};
use crate::quantity::{Amperes, Volts};
use crate::words::{self, Paper};

/// A supply.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    pub(crate) supply: String,
    when: &'static str,
    pub(crate) idle: String,
    pub(crate) alarm: String,
    pub(crate) limit: String,
    pub(crate) spare: String,
    /// True where less is left than usual.
    tight: bool,
    bar: String,
    /// What the board's battery carries for it, with its bare name; nothing for what is counted in another row.
    #[serde(skip)]
    pub(crate) carried: Option<(String, Currents)>,
}

/// The supplies of a board, the unused outputs too, and what it takes itself.
pub(crate) fn rows(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let mut rows: Vec<Row> = compiled
        .power
        .of_board(board)
        .flat_map(|feeding| {
            let modules = feeding.limits().filter(|(node, _)| *node > 0);
            let of_modules = modules.map(|(node, limit)| of_outlet(compiled, feeding, node, Some(limit)));
            std::iter::once(of_outlet(compiled, feeding, 0, feeding.tree.limit)).chain(of_modules)
        })
        .collect();
    let draw = compiled.site.part_of(board).and_then(|part| part.draw.as_ref());
    let own = draw.map(|_| own_supply::own(&compiled.site, board));
    let loops = own_supply::loops(&compiled.site, board, Supply::Battery);
    if loops.idle.0 > 0.0 {
        rows.push(plain(words::two_wire_loops(&compiled.site, board), loops));
    }
    rows.extend(own.map(|own| plain("the board itself".into(), own)));
    rows
}

/// All of it together: what the battery carries.
pub(crate) fn total(currents: Currents) -> Row {
    plain("all together".into(), currents)
}

fn plain(supply: String, currents: Currents) -> Row {
    Row {
        carried: Some((supply.clone(), currents)),
        supply,
        when: "",
        idle: currents.idle.to_string(),
        alarm: currents.alarm.to_string(),
        limit: String::new(),
        spare: String::new(),
        tight: false,
        bar: String::new(),
    }
}

/// The supply of a tree, or an output or port of a module in it, which is counted there.
pub(crate) fn of_outlet(compiled: &Compiled, feeding: &Feeding, node: usize, limit: Option<Amperes>) -> Row {
    let site = &compiled.site;
    let (idle, alarm) = (feeding.current_at(node, Demand::Idle), feeding.current_at(node, Demand::Alarm));
    let left = limit.map(|limit| Amperes(limit.0 - idle.0.max(alarm.0)));
    let spare = limit.map(|limit| feeding.spare(node, limit));
    let source = feeding.tree.outlet_of(node);
    let mut name = Paper.outlet(site, source);
    let [at_rest, in_alarm] = [Demand::Idle, Demand::Alarm].map(|demand| feeding.current_on(Supply::Battery, demand));
    let carried = Currents { idle: at_rest, alarm: in_alarm };
    let carried = (node == 0).then(|| (name.clone(), carried));
    // What the sum for the battery is made of, where a contact makes it another.
    let on_battery = [at_rest, in_alarm].map(|current| current.to_string());
    if node == 0 && feeding.battery_volts.is_some() && on_battery != [idle.to_string(), alarm.to_string()] {
        let [idle, alarm] = on_battery;
        name = format!("{name}, for which the battery gives {idle} / {alarm}");
    }
    let raised = feeding.tree.nodes.get(node).and_then(|node| node.raised).map(|raised| Volts(raised.on_mains.nominal));
    let raised = raised.map(|volts| raised_words(feeding, node, volts)).unwrap_or_default();
    Row {
        supply: match node {
            0 => name,
            _ => format!("in it: {name} of {}{raised}", Paper.board(site, source.board())),
        },
        when: when(compiled, source),
        idle: idle.to_string(),
        alarm: alarm.to_string(),
        limit: limit.map_or_else(|| "not given".to_owned(), |limit| limit.to_string()),
        spare: match (left, spare) {
            (Some(left), _) if left.0 < 0.0 => format!("{} too much", Amperes(-left.0)),
            (Some(left), Some(spare)) => format!("{left}, {}", words::share(spare, 100.0)),
            _ => String::new(),
        },
        tight: spare.is_some_and(|spare| spare < SPARE),
        bar: limit.map_or_else(String::new, |limit| bar::load(idle.0, alarm.0, limit.0)),
        carried,
    }
}

/// What goes in for what comes out of an output that raises its volts.
fn raised_words(feeding: &Feeding, node: usize, volts: Volts) -> String {
    let [idle, alarm] = [Demand::Idle, Demand::Alarm].map(|demand| format!("{:.2}", feeding.factor(0, node, demand)));
    let factor = if idle == alarm { idle } else { format!("{idle} / {alarm}") };
    format!(", raised to {volts}: × {factor} goes in, its volts over those that come to it, {}", words::LOSSLESS)
}

/// What the installer must know of an output.
fn when(compiled: &Compiled, source: Source) -> &'static str {
    let Source::Output(output) = source else { return "" };
    let output = compiled.site.output(output);
    match output {
        Some(output) if output.when == crate::terms::When::Alarm => "in alarm only",
        Some(output) if output.switched => "taken away to reset",
        _ => "",
    }
}

//! Power-up of every board with a supply of its own, step by step, with what each step must show.

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::small;
use crate::calc::meter::volts_shown_by_a_meter;
use crate::calc::power::own_supply;
use crate::compiled::Compiled;
use crate::model::{Output, Site};
use crate::profiles::battery;
use crate::quantity::Volts;
use crate::terms::When;
use crate::views::procedure::Order;
use crate::words::{self, Paper};

/// A board and its steps.
#[derive(Debug, Serialize)]
pub(crate) struct Board {
    title: String,
    steps: Vec<Step>,
}

/// A step and what it must show.
#[derive(Debug, Serialize)]
pub(crate) struct Step {
    pub(crate) what: String,
    /// A dash where it shows nothing.
    pub(crate) shows: String,
}

impl Step {
    /// Both in one line: "plug the transformer in: 13.2 to 14.4 V".
    pub(crate) fn words(&self) -> String {
        let what = small(&self.what);
        if self.shows == "–" { what } else { format!("{what}: {}", self.shows) }
    }
}

/// Volts by which an output may differ from its sheet where that gives no tolerance: common practice.
const OUTPUT_VOLTS: f64 = 0.5;

/// The boards with a supply of their own, by name.
pub(crate) fn boards(compiled: &Compiled) -> Vec<Board> {
    let site = &compiled.site;
    let powered = site.boards.entries().filter(|(_, board)| is_powered(board));
    powered.map(|(id, _)| Board { title: Paper.board(site, id), steps: steps(compiled, id) }).collect()
}

/// What a board shows with everything on it but its sounders, once it has been switched on alone.
pub(crate) fn landed(site: &Site, id: Id<crate::model::Board>) -> &'static str {
    if site.keypads().any(|(keypad, _)| site.supplied_by(keypad) == Some(id)) {
        "the same volts, within a few tenths; nothing hot, no smell, no fuse blown; every keypad on it wakes"
    } else {
        "the same volts, within a few tenths; nothing hot, no smell, no fuse blown"
    }
}

/// Whether a board has a supply of its own.
pub(crate) fn is_powered(board: &crate::model::Board) -> bool {
    board.battery.is_some() || board.has_own_supply()
}

/// The steps for one of them.
pub(crate) fn steps(compiled: &Compiled, id: Id<crate::model::Board>) -> Vec<Step> {
    let mut steps = alone(compiled, id);
    steps.push(Step {
        what: "Switch it off, land loops, outputs and bus, here and at all that hangs on it, but no sounder, and switch it on again".to_owned(),
        shows: landed(&compiled.site, id).to_owned(),
    });
    steps
}

/// Those of them for which nothing hangs on it.
pub(crate) fn alone(compiled: &Compiled, id: Id<crate::model::Board>) -> Vec<Step> {
    let site = &compiled.site;
    let mut steps = vec![Step {
        what: "The conductors of its loops, outputs and bus are lifted and capped".to_owned(),
        shows: "–".to_owned(),
    }];
    let (mains, battery) = (mains(site, id), battery_on(site, id));
    let both = match Order::of_board(site, id) {
        Order::BatteryFirst => [battery, mains],
        Order::BatteryLast | Order::EachItsOwn => [mains, battery],
    };
    if both.iter().all(Option::is_none) {
        steps.push(Step { what: "Give it its supply, as its sheet says".to_owned(), shows: "–".to_owned() });
    }
    steps.extend(both.into_iter().flatten());
    steps.extend(outputs(site, id));
    steps
}

fn mains(site: &Site, id: Id<crate::model::Board>) -> Option<Step> {
    let transformer = site.boards[id].transformer.as_ref()?;
    let port = site.part_of(id).and_then(|part| part.ac_port.as_ref());
    let at = port.map(|port| format!(", at {} and {}", port.a.value, port.b.value)).unwrap_or_default();
    let least = port.and_then(|port| port.min).map(|min| format!("; at least {min}, else the board does not charge"));
    Some(Step {
        what: "Plug the transformer in; where a screw is to hold its plug, with the breaker of its outlet off until it does".to_owned(),
        shows: format!(
            "{} alternating, or up to a fifth more while it has little to do (common practice){at}{}",
            transformer.volts.value,
            least.unwrap_or_default()
        ),
    })
}

fn battery_on(site: &Site, id: Id<crate::model::Board>) -> Option<Step> {
    let battery = site.boards[id].battery.as_ref()?;
    let cells = site.part_of(id).map_or(6.0, own_supply::cells);
    let charged = Volts(cells * battery::RESTING_CELL.value);
    Some(Step {
        what: format!(
            "Read the battery ({}) while its leads are off, then connect it, + to +",
            words::battery(battery)
        ),
        shows: format!(
            "{charged} or more after hours without load or charger ({}); less: charge it first; a spark is small, no lead gets warm",
            battery::RESTING_CELL.source()
        ),
    })
}

/// The outputs of a board that are on at rest, as a meter may show them.
fn outputs(site: &Site, id: Id<crate::model::Board>) -> Vec<Step> {
    let outputs = site.part_of(id).map(|part| part.outputs.as_slice()).unwrap_or_default();
    outputs.iter().map(output).collect()
}

fn output(output: &Output) -> Step {
    let what = format!("Output {}, {} and {}", output.name.value, output.positive, output.negative);
    if output.when != When::Always {
        return Step { what, shows: "no volts at rest".to_owned() };
    }
    let (off, basis) = if output.tolerance.0 > 0.0 {
        (output.volts.0 * output.tolerance.0, "tolerance of its sheet")
    } else {
        (OUTPUT_VOLTS, "half a volt beside its sheet: common practice")
    };
    let shown = volts_shown_by_a_meter((Volts(output.volts.0 - off), Volts(output.volts.0 + off)));
    Step { what, shows: format!("{} ({basis})", words::range(shown.0.0, shown.1.0, words::volts)) }
}

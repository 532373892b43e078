//! A reading of something that is not there, or that nothing is expected of.

use crate::base::wording::list;
use crate::calc::as_built::{self, Verdict};
use crate::calc::diagnose::Measured;
use crate::checks::Context;
use crate::checks::loops::sensing_missing;
use crate::checks::readings::reading_outside::about;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("reading-unknown", Basis::Practice, "a reading of which nothing is expected");

const HISTORY: &str = "The record is kept for years, and what it names may be gone.";

fn run(context: Context<'_>, sink: &mut Sink) {
    if !context.site.sound {
        return;
    }
    for judged in as_built::loops(context.site, context.loops).iter().filter(|j| j.verdict == Verdict::Unknown) {
        let in_volts = matches!(judged.value, Measured::Volts(_));
        if in_volts && judged.zone.is_some_and(|zone| sensing_missing::is_told(context.site, zone)) {
            continue;
        }
        let number = judged.written.zone.value;
        let state = judged.written.state.word();
        let (title, help) = match (judged.zone, &judged.written.of) {
            (None, _) => (
                format!("there is no zone {number} any more"),
                "Leave it as history and accept this, or correct the number.".to_owned(),
            ),
            // Neither `why` nor `readings` knows of it.
            (Some(zone), _) if !context.loops.contains_key(&zone) => {
                let wireless = context.site.zones[zone].wireless.is_some();
                let why = if wireless { "it is wireless" } else { "no loop of it is in the spec" };
                (
                    format!("zone {number} has no loop that could be read: {why}"),
                    "Leave it as history and accept this, or correct the number.".to_owned(),
                )
            }
            (Some(_), Some(of)) => (
                format!("in the loop of zone {number}, `{}` has no state {state}", of.value),
                "Name the opening or detector as the spec does, or leave of= out.".to_owned(),
            ),
            (Some(_), None) => (
                format!("nothing is expected of zone {number} in state {state}"),
                format!(
                    "Take a state that the loop has: `loopwright why` with zone={number} lists them. For volts the board must say how it senses."
                ),
            ),
        };
        let finding = Diagnostic::new(&RULE, judged.written.zone.span, title);
        let finding = finding.here(format!("read on {}", judged.date)).why(HISTORY).help(help);
        sink.push(about(finding, judged.written));
    }
    let site = context.site;
    // Of a board that charges a battery and has none, that is told: the reading is of the one that was there.
    let charges = |name: &str| {
        let part = site.board_named(name).and_then(|(id, _)| site.part_of(id));
        part.is_some_and(|part| part.charger.is_some())
    };
    let with_battery: Vec<String> = site
        .boards
        .iter()
        .filter(|board| board.battery.is_some())
        .map(|board| Screen.name(&board.name.value))
        .collect();
    for judged in as_built::supplies(context.site, context.power).iter().filter(|j| j.verdict == Verdict::Unknown) {
        if judged.battery && charges(judged.name) {
            continue;
        }
        let is_there = site.board_named(judged.name).is_some() || site.device_named(judged.name).is_some();
        if is_there && !judged.battery {
            let title = format!("`{}` takes no supply through a cable: no volts are expected there", judged.name);
            let finding = Diagnostic::new(&RULE, judged.span, title)
                .here(format!("read on {}", judged.date))
                .why("What a board gives, and what has a supply of its own, is read as `battery` of the board or not at all.")
                .help("Remove this line; `loopwright readings` prints one for everything there is to measure.")
                .about(judged.name);
            sink.push(finding);
            continue;
        }
        let what = if judged.battery { "no board with a battery" } else { "nothing with a supply" };
        let finding = Diagnostic::new(&RULE, judged.span, format!("{what} is called `{}`", judged.name));
        let right = if judged.battery && !with_battery.is_empty() {
            format!("name a board with a battery: {}", list(&with_battery, "or"))
        } else {
            "correct the name".to_owned()
        };
        sink.push(
            finding
                .here(format!("read on {}", judged.date))
                .why(HISTORY)
                .help(format!("Leave it as history and accept this, or {right}."))
                .about(judged.name),
        );
    }
}

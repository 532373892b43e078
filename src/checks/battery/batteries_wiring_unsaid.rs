//! Several batteries on a board, and no word on how they are wired to each other.

use crate::calc::power::own_supply::blocks;
use crate::calc::power::standby::Bank;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Volts;
use crate::words::{Screen, rated};

check!("batteries-wiring-unsaid", Basis::Language, "several batteries and no word on how they are wired");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, board) in site.boards.entries() {
        let Some(battery) = board.battery.as_ref().filter(|battery| battery.total() > 1 && battery.wired.is_none())
        else {
            continue;
        };
        let total = battery.total();
        let Some(part) = site.part_of(id).filter(|part| part.whole) else { continue };
        let Some(bank) = Bank::of(site, id) else { continue };
        let wired = match blocks(part) {
            1 => "parallel",
            needs if needs == total => "series",
            _ => "series-pairs",
        };
        let title =
            format!("{} has {total} batteries, and the spec does not say how they are wired", Screen.board(site, id));
        sink.push(
            Diagnostic::new(&RULE, battery.place(|written| &written.count), title)
                .here("in series or side by side?")
                .why("In series their volts add up, side by side their ampere-hours. The wrong one of the two destroys the board, or has the batteries overcharged until they may burst.")
                .help(if wired == "series-pairs" && total % 2 == 1 {
                    format!("{total} cannot stand two and two, as this board needs them. Put in {} or {}, and write count= and wired= as it is then.", total - 1, total + 1)
                } else {
                    format!(
                    "Write wired=\"{wired}\" if each of them has {}, which gives {}; else give volts= of one as well.",
                    rated(Volts(bank.volts.0 / f64::from(bank.in_series))),
                    rated(bank.volts)
                )})
                .about(&board.name.value),
        );
    }
}

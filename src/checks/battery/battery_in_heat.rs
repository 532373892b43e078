//! A battery where it gets so hot that it serves for a shorter time.

use crate::calc::ambient;
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::battery::{HALVES, RATED_TEMPERATURE};
use crate::quantity::Celsius;
use crate::words::Screen;

check!("battery-in-heat", Basis::Practice, "a battery at a place that gets hot");

/// A place that gets hotter than this is no place for a battery: a house does not, an unheated room hardly. Ours.
const HOT: Celsius = Celsius(40.0);

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::heads(context) {
        let ambient::Ambient { hot, cold, .. } = ambient::of_room(context.site, head.board.room);
        // Where it gets too cold as well, that is the finding: one place, one cause.
        let warm_enough = head.battery(context.site).filter(|(_, bank)| cold >= bank.coldest);
        let Some((battery, _)) = warm_enough.filter(|_| hot > HOT) else { continue };
        let share = 2f64.powf((hot.0 - RATED_TEMPERATURE.value) / HALVES.value);
        let title =
            format!("the battery of {} is at a place that gets as hot as {hot}", Screen.board(context.site, head.id));
        let finding = Diagnostic::new(&RULE, battery.capacity.span, title)
            .here("at a place that gets hot")
            .also(head.board.name.span, "the board")
            .why("Heat dries a lead-acid battery out: each 10 K above 25 °C halves the time that it serves, and one that is overcharged in the heat swells and vents.")
            .help("Put the board and its battery where it stays cooler; or write a shorter replace-after= for it, and accept this.")
            .figure(format!(
                "each {} K above {} halve its time ({}): as long as it is {hot}, it ages {share:.0} times as fast",
                HALVES.value,
                Celsius(RATED_TEMPERATURE.value),
                HALVES.source()
            ))
            .figure(format!("hottest of the place: {hot} (common practice)"));
        sink.push(standby::about(&head, finding));
    }
}

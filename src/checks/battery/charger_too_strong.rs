//! A charger that gives more than the battery's sheet lets it take.

use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Amperes;
use crate::words::Screen;

check!("charger-too-strong", Basis::Contradiction, "a charger that gives a battery more current than its sheet allows");

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::heads(context) {
        let (Some((battery, bank)), Some(charger)) = (head.battery(context.site), &head.part.charger) else { continue };
        let Some(most) = &battery.max_charge else { continue };
        // Batteries side by side share the current by their capacities; in a string each takes all of it.
        let share = (battery.capacity.value.0 / bank.capacity.0).min(1.0);
        let takes = Amperes(charger.current.0 * share);
        // What prints as the most is the most.
        if takes.0 <= most.value.0 * (1.0 + 1e-9) {
            continue;
        }
        let title = format!(
            "the charger of {} gives the battery {takes}, and its sheet allows {}",
            Screen.board(context.site, head.id),
            most.value
        );
        let finding = Diagnostic::new(&RULE, most.span, title)
            .here("the most that it may be charged with")
            .also(head.board.part_span, format!("its charger gives {}", charger.current))
            .why("A battery that is charged too fast gets hot and gives off gas that can burn: it bulges, leaks, or worse.")
            .help(format!(
                "Take a battery whose sheet allows {takes} or more, mostly a larger one, or a board whose charger can be set lower. Write max-charge= as the battery's sheet has it."
            ));
        let finding = if share < 1.0 {
            finding.figure(format!(
                "{} × {} of {} side by side = {takes}",
                charger.current,
                standby::ampere_hours(battery.capacity.value),
                standby::ampere_hours(bank.capacity)
            ))
        } else {
            finding
        };
        sink.push(standby::about(&head, finding));
    }
}

//! A charger that gives more than the battery's sheet lets it take.

use crate::calc::power::standby::Bank;
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Battery, Site};
use crate::quantity::Amperes;
use crate::words::{self, Screen};

check!("charger-too-strong", Basis::Contradiction, "a charger that gives a battery more current than its sheet allows");

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::heads(context) {
        let Some((battery, bank)) = head.battery(context.site) else { continue };
        let (Some(takes), Some(charger), Some(most)) =
            (given(context.site, &head), &head.part.charger, &battery.max_charge)
        else {
            continue;
        };
        let share = share(battery, bank);
        // A battery that is too small for its charger is often too small for the profile too.
        let is_loaded = standby::loaded(context).any(|loaded| loaded.id == head.id);
        let needed = head.requirement().asked(head.currents());
        let larger = if is_loaded && bank.capacity < needed {
            format!(" The profile asks for {} besides.", words::needed_capacity(needed))
        } else {
            String::new()
        };
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
                "Take a battery whose sheet allows {takes} or more, mostly a larger one, or a board whose charger can be set lower. Write max-charge= as the battery's sheet has it.{larger}"
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

/// What the charger gives each battery, where its sheet allows less.
pub(super) fn given(site: &Site, head: &standby::Head<'_>) -> Option<Amperes> {
    let (battery, bank) = head.battery(site)?;
    let takes = Amperes(head.part.charger.as_ref()?.current.0 * share(battery, bank));
    // What prints as the most is the most.
    (takes.0 > battery.max_charge.as_ref()?.value.0 * (1.0 + 1e-9)).then_some(takes)
}

/// Batteries side by side share the current by their capacities; in a string each takes all of it.
fn share(battery: &Battery, bank: Bank) -> f64 {
    (battery.capacity.value.0 / bank.capacity.0).min(1.0)
}

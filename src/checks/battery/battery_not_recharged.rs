//! A charger that needs longer than the profile allows.

use crate::calc::power::standby::CHARGE_FACTOR;
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::battery as profile;
use crate::quantity::Amperes;
use crate::words::{self, Screen};

check!(
    "battery-not-recharged",
    Basis::Published("the recharge time of the site's profile, with its document in the finding"),
    "a charger that needs longer for the battery than the profile allows"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::loaded(context) {
        let (Some((battery, bank)), Some(charger)) = (head.battery(context.site), &head.part.charger) else { continue };
        let requirement = head.requirement();
        let capacity = bank.capacity;
        let Some(most) = head.fills_only(capacity) else { continue };
        let time = requirement.recharge_time(capacity, charger.current);
        let share = requirement.recharge_share * 100.0;
        // Rounded up: with what is printed the time is kept.
        let needed = charger.current.0 * time.0 / requirement.recharge.0;
        let needed = Amperes((needed * 1000.0 - 1e-6).ceil() / 1000.0);
        let title = format!(
            "the charger of {} needs at least {} for a battery of {}",
            Screen.board(context.site, head.id),
            words::hours_past(time, requirement.recharge),
            standby::fitted(battery, bank)
        );
        let finding = Diagnostic::new(&RULE, battery.capacity.span, title)
            .here(format!("{share:.0} % of it must be back within {}", requirement.recharge))
            .also(head.board.part_span, format!("its charger gives {}", charger.current))
            .why("A battery that is still half empty when the mains fails again is a battery of half the size.")
            .help(format!(
                "With this charger the battery may have {} at most; with this battery the charger must give {needed} at least. Past about {:.0} % its current falls, so leave something over.",
                standby::ampere_hours(standby::down_to_tenths(most)),
                profile::TAPER.value * 100.0
            ))
            .figure(format!(
                "{} × {share:.0} % × {CHARGE_FACTOR} ÷ {} (the factor: {})",
                standby::ampere_hours(capacity),
                charger.current,
                profile::CHARGE_FACTOR.source()
            ))
            .figure(format!("from about {:.0} % on the current of a charger falls ({})", profile::TAPER.value * 100.0, profile::TAPER.source()))
            .figure(format!("profile {}: {} ({})", head.row().profile.word(), requirement.recharge, head.row().recharge.source()));
        sink.push(standby::about(&head, finding));
    }
}

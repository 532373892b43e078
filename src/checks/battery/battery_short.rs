//! A battery that does not last as long as the profile asks.

use crate::calc::power::standby::RATED_TEMPERATURE;
use crate::checks::Context;
use crate::checks::battery::{batteries_wrong_volts, charger_too_strong, standby};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Seconds;
use crate::quantity::print::apart;
use crate::words::{self, Screen};

check!(
    "battery-short",
    Basis::Published("the figures of the site's profile, each with its document in the finding"),
    "a battery that does not last as long as the profile asks"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::loaded(context) {
        let Some((battery, bank)) = head.battery(context.site) else { continue };
        let (requirement, capacity) = (head.requirement(), bank.capacity);
        let needed = requirement.asked(head.currents());
        // One that is too small for its charger as well is told there, with what is needed here; and one of other volts has
        // no capacity for this board.
        if capacity >= needed
            || charger_too_strong::given(context.site, &head).is_some()
            || batteries_wrong_volts::other_than(&head, battery, bank).is_some()
        {
            continue;
        }
        let Some(gives) = requirement.gives(capacity, head.currents(), RATED_TEMPERATURE, false) else { continue };
        let (name, has) = (Screen.board(context.site, head.id), standby::fitted(battery, bank));
        let title = if capacity >= requirement.summed(head.currents()) {
            let lasts = Seconds(whole_minutes(gives));
            format!(
                "the battery of {name} has {has} and lasts {lasts} of the {} that the profile asks for",
                requirement.standby
            )
        } else {
            // A sum of several is no figure of the spec, and its words say what it is made of.
            let (one, asked) = apart(capacity, words::needed_capacity(needed));
            let has = if has == capacity.to_string() { one } else { has };
            format!("the battery of {name} has {has} and the profile asks for {asked}")
        };
        let finding = Diagnostic::new(&RULE, battery.capacity.span, title)
            .here(format!("new and warm: {} at rest, then its alarm", Seconds(whole_minutes(gives))))
            .why(format!("The profile asks for {}. A battery that is flat before the mains comes back leaves the house open, and a lead-acid battery that was flat is often never the same again.", head.times()))
            .help(match standby::with_reserve(context, &head, bank.in_series, bank.coldest) {
                Some(battery) => format!("Take the size that is enough, also when it is old and cold: {battery}"),
                None => standby::advice(context, &head, needed, bank.in_series, |battery| format!("Take the next size that is enough: {battery}")),
            });
        sink.push(standby::about(&head, head.figures(context, finding)));
    }
}

/// Rounded down to whole minutes.
pub(crate) fn whole_minutes(time: Seconds) -> f64 {
    (time.0 / 60.0).floor() * 60.0
}

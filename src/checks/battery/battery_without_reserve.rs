//! A battery that is enough only while it is new and warm.

use crate::calc::ambient;
use crate::calc::power::standby as arithmetic;
use crate::checks::Context;
use crate::checks::battery::battery_short::whole_minutes;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::battery as profile;
use crate::quantity::Seconds;
use crate::words::Screen;

check!("battery-without-reserve", Basis::Practice, "a battery that is enough only while it is new and warm");

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::loaded(context) {
        let Some((battery, bank)) = head.battery(context.site) else { continue };
        let (requirement, capacity) = (head.requirement(), bank.capacity);
        let coldest = ambient::of_room(context.site, head.board.room).cold;
        // A battery that is too cold for its sheet is another finding.
        let share = arithmetic::temperature_factor(coldest).filter(|_| coldest >= bank.coldest);
        let (Some(share), Some(advised), Some(gives)) = (
            share,
            requirement.advised(head.currents(), coldest),
            requirement.gives(capacity, head.currents(), coldest, true),
        ) else {
            continue;
        };
        if capacity < requirement.asked(head.currents()) || capacity >= advised {
            continue;
        }
        let title = format!(
            "the battery of {} has {} and needs {} to be enough when it is old and cold",
            Screen.board(context.site, head.id),
            standby::fitted(battery, bank),
            standby::ampere_hours(advised)
        );
        let finding = Diagnostic::new(&RULE, battery.capacity.span, title)
            .here(format!("old and at {coldest}: {} at rest, then its alarm", Seconds(whole_minutes(gives))))
            .why("A battery is replaced when a fifth of its capacity is gone, a cold one gives less, and one that is discharged quickly gives less than one that is discharged slowly.")
            .help(match standby::with_reserve(context, &head, bank.in_series, bank.coldest) {
                Some(battery) => format!("With room in the box take {battery}; else replace it early and keep it warm."),
                None => "Replace it early and keep it warm: a larger one is not filled in time by this board's charger, or the trade has none.".to_owned(),
            })
            .figure(format!("at {coldest} {:.0} % of the capacity at 25 °C is left ({})", share * 100.0, profile::COLD[0].source()))
            .figure(format!("due for replacement at {:.0} % ({})", arithmetic::AGED * 100.0, profile::AGED.source()))
            .figure(format!("discharge rate by Peukert with exponent {} ({})", arithmetic::PEUKERT, profile::PEUKERT.source()));
        sink.push(standby::about(&head, head.figures(context, finding)));
    }
}

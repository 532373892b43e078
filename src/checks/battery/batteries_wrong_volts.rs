//! Batteries that together have other volts than the board needs.

use crate::calc::power::own_supply::{cells, greatest_volts};
use crate::calc::power::standby::Bank as FittedBank;
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Battery;
use crate::quantity::Volts;
use crate::terms::Bank;
use crate::words::{Screen, rated};

check!(
    "batteries-wrong-volts",
    Basis::Contradiction,
    "batteries that together have other volts than their board needs"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::heads(context) {
        let Some((battery, bank)) = head.battery(context.site) else { continue };
        if let Some(wired) = battery.wired.as_ref().filter(|wired| is_odd(battery.total(), wired.value)) {
            let total = battery.total();
            let name = Screen.board(context.site, head.id);
            let finding = Diagnostic::new(&RULE, wired.span, format!("{total} batteries of {name} cannot stand two and two"))
                .here("an even number is two and two")
                .why("The odd one has no partner in its string: beside strings of twice its volts it is charged until it bursts.")
                .help(format!("Put in {}, or {}, and write count= as it is then.", total - 1, total + 1));
            sink.push(standby::about(&head, finding));
            continue;
        }
        let greatest = greatest_volts(head.part);
        let Some(needs) = other_than(&head, battery, bank) else { continue };
        let span = battery.wired.as_ref().map_or_else(|| battery.place(|written| &written.volts), |wired| wired.span);
        let title = format!(
            "the batteries of {} give {} and the board needs {}",
            Screen.board(context.site, head.id),
            rated(bank.volts),
            rated(needs)
        );
        let cut_off = head.part.charger.as_ref().and_then(|charger| charger.cut_off);
        let says = match cut_off {
            Some(cut_off) => format!("lets go at {}", rated(cut_off)),
            None => format!("gives up to {}", rated(greatest)),
        };
        let one = Volts(bank.volts.0 / f64::from(bank.in_series));
        let finding = Diagnostic::new(&RULE, span, title)
            .here(match bank.in_series {
                1 => format!("{}, of {}", standby::fitted(battery, bank), rated(one)),
                number => format!("{}: {number} of {} one behind the other", standby::fitted(battery, bank), rated(one)),
            })
            .also(head.board.part_span, format!("{says}, so it is made for a battery of {}", rated(needs)))
            .why("Too many volts destroy the board. With too few the charger drives the battery far past full: it gets hot, gives off gas that can burn, and may burst; and without mains the board does not run.")
            .help(match (battery.total(), &battery.wired) {
                (1, _) if (needs.0 / bank.volts.0 - 2.0).abs() < 0.1 => format!(
                    "Put in two of {2} one behind the other, and write count=2 wired=\"series\"; or one of {0}, with volts=(V){1}, as it stands on the battery.",
                    rated(needs), needs.0, rated(one)
                ),
                (1, _) => format!("Write volts= as it stands on the battery, or put in one of {}.", rated(needs)),
                (_, Some(_)) if bank.volts.0 > needs.0 && (one.0 - needs.0).abs() < 0.1 => {
                    format!("Wire them side by side, so that they give {}, and write wired=\"parallel\".", rated(one))
                }
                (_, Some(_)) if one.0 < needs.0 && (f64::from(battery.total()) * one.0 - needs.0).abs() < 0.1 => {
                    format!("Wire them one behind the other, so that they give {}, and write wired=\"series\".", rated(needs))
                }
                _ => "Say how they are wired with wired=\"parallel\" or wired=\"series\", and with volts= what one of them has where that is not 12 V.".to_owned(),
            });
        sink.push(standby::about(&head, finding));
    }
}

/// True for an odd number of batteries two and two.
fn is_odd(total: u32, wired: Bank) -> bool {
    wired == Bank::SeriesPairs && total % 2 == 1
}

/// The volts that a board needs, where its batteries together have others.
pub(super) fn other_than(head: &standby::Head<'_>, battery: &Battery, bank: FittedBank) -> Option<Volts> {
    let needs = Volts(cells(head.part) * 2.0);
    // How several are wired has its own finding where it is not said.
    let is_said = battery.wired.is_some() || battery.total() == 1;
    let is_known = greatest_volts(head.part).0 > 0.0;
    (is_known && is_said && (bank.volts.0 - needs.0).abs() >= 0.5).then_some(needs)
}

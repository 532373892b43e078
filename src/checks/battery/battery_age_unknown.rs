//! A battery that was there before, of which nobody has written since when.

use crate::base::Span;
use crate::calc::wear::{self, Worn};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("battery-age-unknown", Basis::Practice, "a battery that was there before, and its age is not known");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for wear in wear::of_site(site).into_iter().filter(|wear| wear.since.is_none()) {
        match wear.worn {
            Worn::Battery(id, nth) => {
                let board = &site.boards[id];
                let Some(battery) = &board.battery else { continue };
                let other = nth.and_then(|nth| battery.others.get(nth));
                if other.map_or(battery.existing, |other| other.existing) {
                    let found = finding(&Screen.board(site, id), battery.put_in(nth), "installed=");
                    sink.push(found.about(&board.name.value));
                }
            }
            Worn::Transmitter(id) if site.devices[id].existing => {
                let device = &site.devices[id];
                let found = finding(&Screen.device(site, id), device.span(), "battery=");
                sink.push(about::device(site, device, found));
            }
            Worn::Transmitter(_) | Worn::OwnBattery(_) | Worn::Detector(_) => {}
        }
    }
}

fn finding(whose: &str, place: Span, day: &str) -> Diagnostic {
    Diagnostic::new(&RULE, place, format!("nobody knows how old the battery of {whose} is"))
        .here(format!("was there before, without {day}"))
        .why("The hours of the power sheet are those of a battery that keeps its capacity. One that is past its years has a fraction of them left, and nobody notices before the mains fails.")
        .help(format!("Look for the day that is written or stamped on it, and write it in {day}. Where none can be read, put in a new one and write that day."))
}

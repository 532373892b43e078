//! A battery put in, or a detector made, after the day of the spec's revision.

use crate::base::Span;
use crate::calc::wear::{self, Worn};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("day-after-revision", Basis::Mismatch, "a battery or detector that is younger than the revision of the spec");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let Some(day) = site.revision.as_ref().and_then(|revision| revision.date) else { return };
    for wear in wear::of_site(site) {
        let Some(since) = wear.since.filter(|since| *since > day.value) else { continue };
        let found = |place: Span, whose: String| {
            Diagnostic::new(&RULE, place, format!("{whose}: {since} is after the day of the revision"))
                .here(if matches!(wear.worn, Worn::Detector(_)) { "made later" } else { "put in later" })
                .also(day.span, "the revision")
                .why("The calendar of upkeep tells by the day of the revision which of two files is the newer one. A day that is still to come may also be a slip of the year.")
                .help(format!("Give the spec a revision of {since} or later, or correct the day."))
        };
        match wear.worn {
            Worn::Battery(id, other) => {
                let board = &site.boards[id];
                let Some(battery) = &board.battery else { continue };
                let whose = format!("battery of {}", Screen.board(site, id));
                sink.push(found(battery.put_in(other), whose).about(&board.name.value));
            }
            Worn::OwnBattery(id) | Worn::Transmitter(id) => {
                let device = &site.devices[id];
                let whose = format!("battery of {}", Screen.device(site, id));
                sink.push(about::device(site, device, found(device.span(), whose)));
            }
            Worn::Detector(id) => {
                let device = &site.devices[id];
                sink.push(about::device(site, device, found(device.span(), Screen.device(site, id))));
            }
        }
    }
}

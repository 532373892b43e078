//! A battery of a board, siren, lock or wireless detector that was past its years on the latest day of the spec.

use crate::base::Id;
use crate::calc::wear::{self, Rests, Wear, Worn};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Device};
use crate::words::Screen;

check!("battery-old", Basis::Practice, "a battery that is past its years");

fn run(context: Context<'_>, sink: &mut Sink) {
    for wear in wear::of_site(context.site) {
        match wear.worn {
            Worn::Battery(board, _) => of_board(context, &wear, board, sink),
            Worn::OwnBattery(device) | Worn::Transmitter(device) => of_device(context, &wear, device, sink),
            Worn::Detector(_) => {}
        }
    }
}

fn of_board(context: Context<'_>, wear: &Wear, id: Id<Board>, sink: &mut Sink) {
    let board = &context.site.boards[id];
    let Some(battery) = &board.battery else { return };
    let other = if let Worn::Battery(_, other) = wear.worn { other } else { None };
    let place = battery.put_in(other);
    let whose = Screen.board(context.site, id);
    let found = finding(context, wear, &whose, |title| Diagnostic::new(&RULE, place, title));
    sink.extend(found.map(|found| found.about(&board.name.value)));
}

fn of_device(context: Context<'_>, wear: &Wear, id: Id<Device>, sink: &mut Sink) {
    let device = &context.site.devices[id];
    let whose = Screen.device(context.site, id);
    let found = finding(context, wear, &whose, |title| Diagnostic::new(&RULE, device.span(), title));
    sink.extend(found.map(|found| about::device(context.site, device, found)));
}

/// A finding about a battery that was to be replaced by the latest day of the spec.
fn finding(
    context: Context<'_>,
    wear: &Wear,
    whose: &str,
    found: impl FnOnce(String) -> Diagnostic,
) -> Option<Diagnostic> {
    let day = wear::latest_day(context.site)?;
    let (since, due) = (wear.since?, wear.due().filter(|due| *due < day.value)?);
    let basis = match wear.rests {
        Rests::OnSpec => "the life that the spec gives".to_owned(),
        Rests::OnPractice(row) => row.source(),
    };
    let why = match wear.worn {
        Worn::Transmitter(_) => {
            "The battery of a wireless detector is changed on a fixed day: when it is flat, its zone is not watched until somebody finds out."
        }
        Worn::Battery(..) | Worn::OwnBattery(_) | Worn::Detector(_) => {
            "A lead-acid battery that still shows its volts may have a fraction of its hours left, and nobody notices before the mains fails."
        }
    };
    Some(
        found(format!("the battery of {whose} was to be replaced by {due}"))
            .here(format!("put in {since}"))
            .also(day.span, "the latest day of the spec")
            .why(why)
            .help("Replace it, take the old one to a collection point, and write the day of the new one where the old day stands.")
            .figure(format!("{since} and its years: {due} ({basis})")),
    )
}

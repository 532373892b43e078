//! A contact whose cable ends in another room than that of the door, window or hatch that it watches.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::DeviceKind;
use crate::words::Screen;

check!(
    "contact-in-other-room",
    Basis::Intent,
    "a contact whose cable ends in another room than the opening that it watches"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for device in site.devices.iter().filter(|device| device.kind == DeviceKind::Contact) {
        let (Some(on), Some(run)) = (&device.opening, device.run) else { continue };
        let (opening, run) = (&site.openings[on.value], &site.runs[run]);
        // A door between two rooms is of both.
        let Some(room) = run.room.filter(|room| *room != opening.room && !opening.inside) else { continue };
        let (here, there) = (&site.rooms[room].title, &site.rooms[opening.room].title);
        let said = Screen.opening(site, on.value);
        let finding = Diagnostic::new(
            &RULE,
            on.span,
            format!("the cable to the contact on {said} ends in {here}, and the {} is in {there}", opening.kind.noun()),
        )
        .here(format!("in {there}"))
        .also(run.span(), format!("ends in {here}"))
        .why("A contact is where its opening is. Whoever pulls the cable goes to the room of the run, and the form names the other.")
        .help("Correct room= of the run, or on= of the contact; without room= a run ends in the room of the opening.");
        sink.push(about::device(site, device, finding));
    }
}

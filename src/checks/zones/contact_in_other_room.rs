//! A contact whose cable ends in another room than that of the door, window or hatch that it watches.

use crate::base::{Id, Spanned};
use crate::checks::{Context, about};
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::{Device, DeviceKind, Opening, Room, Site};
use crate::words::Screen;

check!(
    "contact-in-other-room",
    Basis::Mismatch,
    "a contact whose cable ends in another room than the opening that it watches"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (device, room, on) in astray(site) {
        let opening = &site.openings[on.value];
        let (here, there) = (&site.rooms[room].title, &site.rooms[opening.room].title);
        let said = Screen.opening(site, on.value);
        let finding = Diagnostic::new(
            &RULE,
            on.span,
            format!("the cable to the contact on {said} ends in {here}, and the {} is in {there}", opening.kind.noun()),
        )
        .here(format!("in {there}"))
        .why("A contact is where its opening is. Whoever pulls the cable goes to the room of the run, and the form names the other.");
        let finding = match device.run {
            Some(run) => finding.also(site.runs[run].span(), format!("ends in {here}")),
            None => finding,
        };
        let finding = match left_out(site, room).as_slice() {
            [only] => {
                let name = &only.name.value;
                finding
                    .also(only.name.span, format!("in {here}, and nothing watches it"))
                    .help(format!("Write on=\"{name}\": it is in {here}, and nothing watches it. If on= is right, correct room= of the run."))
                    .edit(Certainty::Likely, on.span, format!("\"{name}\""))
            }
            _ => finding.help(
                "Correct room= of the run, or on= of the contact; without room= a run ends in the room of the opening.",
            ),
        };
        sink.push(about::device(site, device, finding));
    }
}

/// The openings of a room within reach that nothing watches.
pub(crate) fn left_out(site: &Site, room: Id<Room>) -> Vec<&Opening> {
    let here = site.openings.entries().filter(|(_, opening)| opening.room == room && site.is_within_reach(opening));
    here.filter(|(id, _)| !site.is_guarded(*id)).map(|(_, opening)| opening).collect()
}

/// The contacts whose cable ends in another room than their opening, with that room and what they say of the opening.
pub(crate) fn astray(site: &Site) -> impl Iterator<Item = (&Device, Id<Room>, &Spanned<Id<Opening>>)> {
    site.devices.iter().filter(|device| device.kind == DeviceKind::Contact).filter_map(|device| {
        let on = device.opening.as_ref()?;
        let opening = &site.openings[on.value];
        // A door between two rooms is of both.
        let room = site.runs[device.run?].room.filter(|room| *room != opening.room && !opening.inside)?;
        Some((device, room, on))
    })
}

//! Two things that hang at one spot of a plan and at one height.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Hung, Level, Room};
use crate::quantity::Metres;
use crate::words::Screen;

check!("spots-coincide", Basis::Mismatch, "two things at one spot of a plan and at one height");

/// A spot of a level, exactly as written.
type Spot = (Id<Level>, u64, u64);

/// What hangs at a spot.
struct Thing<'s> {
    hung: &'s Hung,
    room: Id<Room>,
    mount: Option<Metres>,
    name: String,
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let devices =
        site.devices.entries().map(|(id, device)| (&device.hung, device.room, device.mount, Screen.device(site, id)));
    let boards =
        site.boards.entries().map(|(id, board)| (&board.hung, board.room, board.mount, Screen.board(site, id)));
    // One at each height is kept, so that many at one spot are not compared with each other.
    let mut found: BTreeMap<Spot, Vec<Thing>> = BTreeMap::new();
    for (hung, room, mount, name) in boards.chain(devices) {
        let (Some(hung), Some(room)) = (hung, room) else { continue };
        let at = hung.at.value;
        let here = found.entry((site.rooms[room].level, at.x.to_bits(), at.y.to_bits())).or_default();
        let thing = Thing { hung, room, mount, name };
        match here.iter().find(|other| other.mount == mount || other.mount.is_none() || mount.is_none()) {
            Some(other) => sink.push(finding(context, other, &thing)),
            None => here.push(thing),
        }
    }
}

fn finding(context: Context<'_>, one: &Thing, other: &Thing) -> Diagnostic {
    let room = &context.site.rooms[other.room];
    Diagnostic::new(&RULE, other.hung.at.span, format!("{} hangs where {} hangs", other.name, one.name))
        .here("the same spot")
        .also(one.hung.at.span, "the other")
        .why("Two things cannot hang at one spot and one height, and on the floor plan one has to be drawn beside where it is.")
        .help("Correct the spot of one of them; of devices that hang above one another, say the heights by mount=. Accept this where one is built into the other.")
        .about(&room.name.value)
}

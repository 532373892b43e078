//! Something whose spot on the plan is not in its room.

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Hung, Room};
use crate::quantity::{Metres, print};
use crate::words::Screen;

check!("spot-outside-room", Basis::Contradiction, "something whose spot on the plan is outside its room");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let devices = site.devices.entries().map(|(id, device)| (&device.hung, device.room, Screen.device(site, id)));
    let boards = site.boards.entries().map(|(id, board)| (&board.hung, board.room, Screen.board(site, id)));
    for (hung, room, name) in devices.chain(boards) {
        let (Some(hung), Some(room)) = (hung, room) else { continue };
        if site.rooms[room].holds(hung.at.value) == Some(false) {
            sink.push(finding(context, hung, room, &name));
        }
    }
}

fn finding(context: Context<'_>, hung: &Hung, id: Id<Room>, name: &str) -> Diagnostic {
    let site = context.site;
    let room = &site.rooms[id];
    let length = |metres: f64| print::length(Metres(metres), site.lengths);
    let called = Screen.name(&room.name.value);
    let reaches = room.rect.map(|[x, y, width, depth]| {
        let to = |from: Metres, size: Metres| format!("{} to {}", length(from.0), length(from.0 + size.0));
        format!("the room goes from {} left to right, and from {} bottom to top", to(x, width), to(y, depth))
    });
    Diagnostic::new(&RULE, hung.at.span, format!("the spot of {name} is not in room {called}"))
        .here("outside its room")
        .also(room.name.span, reaches.unwrap_or_default())
        .why("The floor plan would show it where nobody finds it.")
        .help("Measure a spot from the same left and lower edge of the level as the rect of its room, not from the room's own corner; or correct the room.")
        .about(&room.name.value)
}

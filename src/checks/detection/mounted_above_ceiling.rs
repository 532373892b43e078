//! Something that hangs higher than the ceiling of its level.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::print;
use crate::words::Screen;

use super::ceiling_unlikely::HEIGHTS;

check!("mounted-above-ceiling", Basis::Practice, "something that hangs higher than its level's ceiling");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let devices = site.devices.entries().map(|(id, device)| {
        let room = device.room.or_else(|| device.opening.as_ref().map(|opening| site.openings[opening.value].room));
        (device.span(), device.mount, room, Screen.device(site, id))
    });
    let boards =
        site.boards.entries().map(|(id, board)| (board.name.span, board.mount, board.room, Screen.board(site, id)));
    for (span, mount, room, name) in devices.chain(boards) {
        let Some((mount, room)) = mount.zip(room).map(|(mount, room)| (mount, &site.rooms[room])) else { continue };
        let level = &site.levels[room.level];
        let Some(ceiling) = level.ceiling.filter(|ceiling| HEIGHTS.contains(&ceiling.0) && mount.0 > ceiling.0 + 1e-6)
        else {
            continue;
        };
        if room.is_outdoors() {
            continue;
        }
        let height = |metres| print::height(metres, site.lengths);
        let title = format!("{name} hangs at {} under a ceiling of {}", height(mount), height(ceiling));
        let finding = Diagnostic::new(&RULE, span, title)
            .here(format!("mount= is {}", height(mount)))
            .also(level.name.span, format!("ceiling= is {}", height(ceiling)))
            .why("Mostly the unit is a slip, or a height was measured from elsewhere. Whoever drills by the sheet stops there.")
            .help("Write the height above this level's floor. Where the room is open to the level above, accept this with that reason.")
            .about(&room.name.value);
        sink.push(finding);
    }
}

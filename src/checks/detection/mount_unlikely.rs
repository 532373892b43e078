//! A height above the floor at which nothing of the kind hangs.

use crate::base::{Id, Span};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, DeviceKind, Room};
use crate::quantity::{Metres, print};
use crate::terms::Senses;
use crate::words::Screen;

use super::ceiling_unlikely::HEIGHTS;

check!("mount-unlikely", Basis::Guess, "something that hangs so low or so high as nothing of its kind does");

/// A keypad, a sounder or what watches a room hangs no lower; ours.
const LEAST: Metres = Metres(0.1);

/// Nothing hangs lower, but for what lies on the floor, as a water detector; ours.
const LEAST_OF_ALL: Metres = Metres(0.005);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let under_ceiling =
        |room: Option<Id<Room>>| room.is_some_and(|room| site.levels[site.rooms[room].level].ceiling.is_some());
    for (id, device) in site.devices.entries() {
        let least = if may_be_at_the_floor(site.senses(id), device) { LEAST_OF_ALL } else { LEAST };
        let has_ceiling = under_ceiling(device.room);
        let Some(height) = device.mount.filter(|height| is_unlikely(*height, least, has_ceiling)) else { continue };
        let finding = told(context, height, device.span(), &Screen.device(site, id));
        sink.push(about::device(site, device, finding));
    }
    for (id, board) in site.boards.entries() {
        let has_ceiling = under_ceiling(board.room);
        let Some(height) = board.mount.filter(|height| is_unlikely(*height, LEAST, has_ceiling)) else { continue };
        sink.push(told(context, height, board.name.span, &Screen.board(site, id)).about(&board.name.value));
    }
}

/// Above a ceiling that is known, it is told of that.
fn is_unlikely(height: Metres, least: Metres, has_ceiling: bool) -> bool {
    let lies_there = height.0 == 0.0 && least == LEAST_OF_ALL;
    height.0 < least.0 && !lies_there || (height.0 > *HEIGHTS.end() && !has_ceiling)
}

/// True for what may hang next to the floor: a contact, a load, what lies in water or in the way of feet.
fn may_be_at_the_floor(senses: Option<Senses>, device: &Device) -> bool {
    match device.kind {
        DeviceKind::Sounder => false,
        DeviceKind::Contact | DeviceKind::Load | DeviceKind::Fault => true,
        DeviceKind::Detector | DeviceKind::Wireless => {
            !matches!(senses, Some(Senses::Motion | Senses::Smoke | Senses::Heat | Senses::Glass))
        }
    }
}

fn told(context: Context<'_>, height: Metres, place: Span, name: &str) -> Diagnostic {
    let unit = context.site.lengths;
    let at = print::height(height, unit);
    let help = if height.0 < LEAST.0 {
        format!("Look at the unit: mount={}, perhaps.", print::in_larger_unit(height, unit))
    } else {
        "Look at the unit and the point.".to_owned()
    };
    Diagnostic::new(&RULE, place, format!("{name} hangs {at} above the floor"))
        .here(format!("mount= is {at}"))
        .why("Mostly the unit is a slip, or the point. Whoever drills by the sheet stops there.")
        .help(help)
}

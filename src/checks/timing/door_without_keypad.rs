//! A door with an entry delay from which no keypad is known to be within reach.

use super::walk_without_effect::wrong_panel;
use crate::base::Id;
use crate::calc::timing::{Door, is_armed_at, is_armed_by_key, keypads};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Zone;
use crate::words::Screen;

check!("door-without-keypad", Basis::Practice, "a door with an entry delay and no keypad within reach");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    // Where no keypad arms the zone at all, that is told of its area.
    let armed = |zone: Id<Zone>| keypads(site).any(|(keypad, _)| is_armed_at(site, &site.zones[zone], keypad));
    let by_key = |door: &Door| is_armed_by_key(site, &site.zones[door.zone]);
    // A way that is written to the keypad of another panel is told there.
    let told = |door: &Door| {
        let mut walks = site.areas[door.area].walks.iter().filter(|walk| walk.from.value == door.opening);
        walks.any(|walk| wrong_panel(context, door.area, walk).is_some())
    };
    let without = |door: &&Door| door.keypad.is_none() && !by_key(door) && armed(door.zone) && !told(door);
    for door in context.doors.iter().filter(without) {
        let opening = &site.openings[door.opening];
        let what = Screen.opening(site, door.opening);
        let level = &site.levels[site.rooms[opening.room].level].title;
        let zone = &site.zones[door.zone].number;
        let finding = Diagnostic::new(&RULE, opening.name.span, format!("no keypad is within reach of {what}"))
            .here(format!("{level} has no keypad"))
            .also(zone.span, "gives time to reach one")
            .why("Whoever comes in here has the entry delay to find a keypad on another level. The spec does not say how long that way is, so nobody has held it against the delay.")
            .help(format!(
                "Walk it with a watch, and write walk \"{}\" to=\"…\" time=(s)… into area {}; or make the zone one without a delay.",
                opening.name.value,
                Screen.name(&site.areas[door.area].name.value)
            ))
            .about(&opening.name.value);
        sink.push(finding);
    }
}

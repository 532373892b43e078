//! Areas that nobody can arm or disarm: their panel has no keypad, and no keyswitch is in them.

use super::alarm_without_sounder::describes_use;
use super::door_without_keypad::with_keyswitch;
use crate::base::wording::list;
use crate::calc::timing::is_armed_at;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, BoardKind, Zone};
use crate::words::Screen;

check!("area-without-keypad", Basis::Intent, "areas that nobody can arm or disarm");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound || !describes_use(site) {
        return;
    }
    let by_key = with_keyswitch(site);
    let keypads = || site.boards.entries().filter(|(_, board)| board.kind == BoardKind::Keypad).map(|(id, _)| id);
    // One of another panel arms nothing of this one.
    let is_armed = |zone: &Zone| keypads().any(|keypad| is_armed_at(site, zone, keypad));
    let watches = |id| {
        let mut zones = site.zones.iter().filter(|zone| zone.reserved.is_none() && zone.area == Some(id));
        zones.any(|zone| zone.kind.as_ref().is_some_and(|kind| kind.value.sleeps_unarmed()) && !is_armed(zone))
    };
    let areas: Vec<&Area> =
        site.areas.entries().filter(|(id, _)| watches(*id) && !by_key.contains(id)).map(|(_, area)| area).collect();
    let [first, others @ ..] = areas.as_slice() else { return };
    let names: Vec<String> = areas.iter().map(|area| Screen.name(&area.name.value)).collect();
    let title =
        format!("nobody can arm or disarm {} {}", if names.len() == 1 { "area" } else { "areas" }, list(&names, "or"));
    let finding = Diagnostic::new(&RULE, first.name.span, title)
        .here("has zones that are armed")
        .why("Its panel has no keypad, and no key or button arms the area: its zones never watch, or never stop.")
        .help(
            "Write a keypad on the bus, or a zone of type \"keyswitch\" in the area; or accept this with what arms it.",
        )
        .about(&first.name.value);
    let finding = others
        .iter()
        .fold(finding, |finding, area| finding.also(area.name.span, "nor this one").about(&area.name.value));
    sink.push(finding);
}

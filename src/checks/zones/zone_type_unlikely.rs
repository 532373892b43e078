//! A type of zone that alarms while people move about as usual, or sleeps while they do.

use crate::base::Id;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, OpeningKind, Site, Zone};
use crate::terms::{RoomKind, Senses, ZoneType};
use crate::words::Screen;

check!("zone-type-unlikely", Basis::Works, "a type of zone that does not go with what people do there");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (of, zone) in site.zones.entries().filter(|(_, zone)| zone.whole && zone.reserved.is_none()) {
        let Some(kind) = &zone.kind else { continue };
        let told = |(id, device)| said(site, of, device, site.senses(id)?, kind.value).map(|said| (id, device, said));
        let Some((id, device, [what, why, help])) = site.devices_of(of).find_map(told) else { continue };
        let title = format!("zone {} {what}: {}", zone.number.value, Screen.device(site, id));
        let finding = Diagnostic::new(&RULE, kind.span, title)
            .here(format!("type=\"{}\"", kind.value.word()))
            .also(device.span(), "is in this zone")
            .why(why)
            .help(help);
        sink.push(about::device(site, device, finding));
    }
}

/// What is unlikely, why it matters, and what to do.
fn said(site: &Site, of: Id<Zone>, device: &Device, senses: Senses, kind: ZoneType) -> Option<[&'static str; 3]> {
    let room = device.room.map(|room| &site.rooms[room]);
    let opening = device.opening.as_ref().map(|opening| &site.openings[opening.value]);
    match (senses, kind) {
        (Senses::Motion, ZoneType::TwentyFourHour) if room.is_some_and(|room| !room.is_outdoors()) => Some([
            "alarms at every step, day and night",
            "A zone of this type is never disarmed. Whoever walks through the room sets it off, and after a week somebody takes it out.",
            "Write type=\"interior\". Where nobody ever goes, as in a strong room, accept this.",
        ]),
        (Senses::Opening, ZoneType::TwentyFourHour)
            if opening.is_some_and(|opening| opening.kind == OpeningKind::Door) =>
        {
            Some([
                "alarms whenever the door is opened, day and night",
                "A zone of this type is never disarmed. Whoever comes home through the door sets it off.",
                "Write type=\"entry-exit\" for a door that people come in by, else \"perimeter\". Where it is never opened, as that of a strong room, accept this.",
            ])
        }
        (Senses::Motion, ZoneType::Perimeter) if room.and_then(|room| room.kind).is_some_and(RoomKind::is_lived_in) => {
            Some([
                "alarms at once while people are at home with the house armed",
                "Outside openings are armed while people sleep or sit inside; a motion detector among them sees those people.",
                if opening.is_some() {
                    "Write type=\"interior\": then it is armed when everybody is away. Put a contact on the opening, in a zone of type \"perimeter\": nothing else watches it then while people are at home."
                } else {
                    "Write type=\"interior\": then it is armed when everybody is away."
                },
            ])
        }
        (Senses::Opening, ZoneType::Interior) if opening.is_some_and(|opening| !opening.inside) => Some([
            "is not armed while people are at home",
            "Inside detection is left out when the house is armed with people in it: the opening to the outside is open to anybody at night, and no sheet shows it.",
            "Write type=\"perimeter\", or \"entry-exit\" for a door that people come in by.",
        ]),
        (Senses::Opening | Senses::Glass | Senses::Vibration, ZoneType::EntryExit)
            if opening.is_some_and(|opening| opening.kind == OpeningKind::Window) =>
        {
            let by_window = |device: &Device| {
                device.opening.as_ref().is_some_and(|of| site.openings[of.value].kind == OpeningKind::Window)
            };
            let only = site.devices_of(of).all(|(_, device)| by_window(device));
            Some([
                "waits for the entry delay when a window is opened",
                "Nobody comes home by a window. Whoever breaks in there has the whole delay before anybody is alarmed.",
                if only {
                    "Write type=\"perimeter\"."
                } else {
                    "Put the window into a zone of type \"perimeter\". Where one cable serves the door and the window, accept this."
                },
            ])
        }
        _ => None,
    }
}

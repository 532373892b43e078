//! A smoke detector in a place that does not suit it.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::detectors::{SMOKE_TEMPERATURE, unsuited_to_smoke_detectors};
use crate::terms::Senses;
use crate::words::Screen;

check!(
    "smoke-detector-unsuited",
    Basis::Published("NFPA 72, edition not named, quoted: 40 to 100 °F; kitchen and bathroom: common practice"),
    "a smoke detector in a garage, an attic, a kitchen, a bathroom or in open air"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        let (Some(Senses::Smoke), Some(room)) = (site.senses(id), device.room) else {
            continue;
        };
        let room = &site.rooms[room];
        let Some((kind, reason)) = room.kind.and_then(|kind| Some((kind, unsuited_to_smoke_detectors(kind)?))) else {
            continue;
        };
        let title = format!(
            "{} is in {}, whose kind is {}",
            Screen.device(site, id),
            Screen.name(&room.name.value),
            kind.word()
        );
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here("no place for a smoke detector")
            .also(room.name.span, format!("kind=\"{}\"", kind.word()))
            .why(format!("A detector that alarms without a fire is taken out or no longer believed: {reason}."))
            .help("Take a heat detector here, rated for the place, and put the smoke detector where people sleep or pass; or accept this where the detector's sheet lists it for such a place.")
            .figure(SMOKE_TEMPERATURE.figure());
        sink.push(about::device(site, device, finding));
    }
}

//! A bedroom in which no sounder is loud enough to wake a sleeper.

use crate::calc::sound::{self, Bedroom, Heard};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Site;
use crate::profiles::detectors::{PILLOW, PILLOW_LEVEL};
use crate::profiles::timing::WALL_LOSS;
use crate::quantity::{Decibels, print};
use crate::words::Screen;

check!(
    "bedroom-not-heard",
    Basis::Published("NFPA 72, edition not named, from memory; what walls and doors take: common practice"),
    "a bedroom in which no sounder wakes a sleeper"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !sound::has_fire(site) {
        return;
    }
    let wanted = f64::from(PILLOW_LEVEL);
    for Bedroom { room, loudest, unknown, .. } in sound::bedrooms(site) {
        let Some(heard) = loudest.filter(|heard| unknown.is_empty() && heard.level.0 < wanted) else { continue };
        let room = &site.rooms[room];
        let sounder = &site.devices[heard.sounder];
        let title = format!("{} arrives in room {} with {}", Screen.device(site, heard.sounder), Screen.name(&room.name.value), heard.level);
        let walls = match heard.walls {
            0 => "in the same room".to_owned(),
            1 => "through one wall or closed door".to_owned(),
            more => format!("through {more} walls or closed doors"),
        };
        let finding = Diagnostic::new(&RULE, room.name.span, title)
            .here(format!("the loudest here: {}", heard.level))
            .also(sounder.span(), walls)
            .why("A closed door takes most of a sounder's level, and sleepers, children most of all, do not wake below the published one. This is an estimate: measure it with the doors shut.")
            .help(format!("Put a sounder into the room or beside its door, and measure {PILLOW_LEVEL} dBA at the pillow; or accept this with what was measured."))
            .figure(PILLOW.cited())
            .figure(level(site, &heard));
        sink.push(finding.about(&room.name.value));
    }
}

/// How the level comes about: "105 dBA at 10 ft − 10 dB to 31 ft − 2 × 20 dB (common practice) = 55 dBA".
fn level(site: &Site, heard: &Heard) -> String {
    let length = |length| print::length(length, site.lengths);
    let free = sound::free_field(heard.rated, heard.distance);
    let walls = match heard.walls {
        0 => String::new(),
        walls => format!(" − {walls} × {} dB for walls or closed doors ({})", WALL_LOSS.value, WALL_LOSS.source()),
    };
    format!(
        "{} at {} of the sheet, {free} at {}{walls}: {}",
        heard.rated.level,
        length(heard.rated.at),
        length(heard.distance),
        Decibels(heard.level.0)
    )
}

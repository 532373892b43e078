//! A bedroom in which no sounder is loud enough to wake a sleeper.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::sound::{self, Bedroom, Heard};
use crate::checks::{Context, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Room, Site};
use crate::profiles::detectors::{PILLOW, PILLOW_LEVEL};
use crate::profiles::timing::WALL_LOSS;
use crate::quantity::print;
use crate::words::Screen;

check!(
    "bedroom-not-heard",
    Basis::Published("NFPA 72, edition not named, from memory; what walls and doors take: common practice"),
    "a bedroom in which no sounder wakes a sleeper"
);

/// What is heard in each of some bedrooms.
type Bedrooms = Vec<(Id<Room>, Heard)>;

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !sound::has_fire(site) {
        return;
    }
    // One cause, however many bedrooms: the sounder that is the loudest in them, and is too far from them.
    // What is accepted of one bedroom is not accepted of another.
    let mut low: BTreeMap<(Id<Device>, bool), Bedrooms> = BTreeMap::new();
    for Bedroom { room, loudest, unknown, .. } in sound::bedrooms(site) {
        if let Some(heard) = loudest.filter(|heard| unknown.is_empty() && heard.level.0 < f64::from(PILLOW_LEVEL)) {
            let accepted = accept::is_accepted(site, RULE.slug, &site.rooms[room].name.value);
            low.entry((heard.sounder, accepted)).or_default().push((room, heard));
        }
    }
    for ((sounder, _), rooms) in low {
        let arrives = rooms.iter().map(|(room, heard)| {
            format!("{} in room {}", sound::told(heard.level), Screen.name(&site.rooms[*room].name.value))
        });
        let arrives = list(&arrives.collect::<Vec<_>>(), "and");
        let device = &site.devices[sounder];
        let alarm = rooms.iter().find_map(|(_, heard)| heard.alarm);
        let at = alarm.map_or_else(String::new, |kind| format!("at an alarm of `{}`: ", kind.word()));
        let title =
            format!("{at}of {} there is {arrives}, and no sounder is louder there", Screen.device(site, sounder));
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here("the loudest that they hear")
            .why("A closed door takes most of a sounder's level, and sleepers, children most of all, may not wake below the published one. This is an estimate: measure it with the doors shut.")
            .help(format!("Put a sounder that this alarm turns on into the room or beside its door, and measure {PILLOW_LEVEL} dBA at the pillow; or accept this with what was measured."))
            .figure(PILLOW.cited());
        let finding = rooms.iter().fold(finding, |finding, (room, heard)| {
            let room = &site.rooms[*room];
            let finding = finding.also(room.name.span, format!("here it is {}", sound::told(heard.level)));
            finding.figure(format!("{}: {}", room.title, level(site, heard))).about(&room.name.value)
        });
        sink.push(finding);
    }
}

/// How the level comes about: "105 dBA at 10 ft − 10 dB to 31 ft − 2 × 20 dB (common practice) = 55 dBA".
fn level(site: &Site, heard: &Heard) -> String {
    let length = |length| print::length(length, site.lengths);
    let free = sound::told(sound::free_field(heard.rated, heard.distance));
    let walls = match heard.walls {
        0 => String::new(),
        walls => format!(" − {walls} × {} dB for walls or closed doors ({})", WALL_LOSS.value, WALL_LOSS.source()),
    };
    format!(
        "{} at {} of the sheet, {free} at {}{walls}: {}",
        heard.rated.level,
        length(heard.rated.at),
        length(heard.distance),
        sound::told(heard.level)
    )
}

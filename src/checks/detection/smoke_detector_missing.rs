//! A place that the household figures ask a smoke detector for, and that has none.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::detection::{self, Place};
use crate::checks::{Context, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Level, Room, Site};
use crate::profiles::detectors::SLEEPING;
use crate::words::Screen;

check!(
    "smoke-detector-missing",
    Basis::Published("NFPA 72 chapter 29, edition not named, quoted"),
    "a bedroom, the way outside it or a level without a smoke detector"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    // What is accepted of one bedroom is not accepted of another.
    let mut outside: BTreeMap<(Id<Level>, bool), Vec<Id<Room>>> = BTreeMap::new();
    for asked in detection::smoke(site).iter().filter(|asked| asked.detectors.is_empty()) {
        match asked.place {
            Place::Bedroom(room) => sink.push(bedroom(site, room)),
            Place::Outside(room) => {
                let accepted = accept::is_accepted(site, RULE.slug, &site.rooms[room].name.value);
                outside.entry((site.rooms[room].level, accepted)).or_default().push(room);
            }
            Place::Level(level) => sink.push(on_level(site, level)),
        }
    }
    for ((level, accepted), rooms) in &outside {
        let finding = outside_of(site, *level, rooms);
        // Where some of them are accepted by name, a room may have the level's name.
        let parted = outside.contains_key(&(*level, !accepted));
        sink.push(if parted { finding } else { finding.about(&site.levels[*level].name.value) });
    }
}

fn bedroom(site: &Site, room: Id<Room>) -> Diagnostic {
    let room = &site.rooms[room];
    let name = &room.name;
    Diagnostic::new(&RULE, name.span, format!("no smoke detector in bedroom {}", Screen.name(&name.value)))
        .here("people sleep here")
        .why("Smoke does not wake people who sleep, and a shut door keeps the sound of the next detector out.")
        .help(format!("Put one there: a detector on a run with room=\"{0}\", or a wireless one with room=\"{0}\". Where an alarm of its own is there instead, accept this.", name.value))
        .about(&name.value)
        .figure(SLEEPING.figure())
}

fn outside_of(site: &Site, level: Id<Level>, rooms: &[Id<Room>]) -> Diagnostic {
    let level = &site.levels[level];
    let names: Vec<String> = rooms.iter().map(|room| Screen.name(&site.rooms[*room].name.value)).collect();
    let title = format!(
        "no smoke detector outside the bedrooms of level {}: {}",
        Screen.name(&level.name.value),
        list(&names, "and")
    );
    let finding = Diagnostic::new(&RULE, level.name.span, title)
        .here("none in hall, stair or living room within 21 ft (6.4 m) of them")
        .why("A fire mostly starts where nobody sleeps. The detector outside the bedrooms sounds while the way out is still open.")
        .help("Put one in the hall or on the landing that these bedrooms open to. The distance is measured here in a straight line between the rooms on the plan; the way that one walks counts.")
        .figure(SLEEPING.figure());
    rooms.iter().fold(finding, |finding, room| {
        let name = &site.rooms[*room].name;
        finding.also(name.span, "a bedroom").about(&name.value)
    })
}

fn on_level(site: &Site, level: Id<Level>) -> Diagnostic {
    let name = &site.levels[level].name;
    Diagnostic::new(&RULE, name.span, format!("no smoke detector on level {}", Screen.name(&name.value)))
        .here("people live here")
        .why("A fire on a level without a detector is noticed when its smoke has come to the next one.")
        .help("Put one on it, in a room that suits it: not in a kitchen, bathroom, garage or attic. Where an alarm of its own is there instead, accept this.")
        .about(&name.value)
        .figure(SLEEPING.figure())
}

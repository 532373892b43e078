//! Bedrooms that no detector of carbon monoxide is near to.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::detection::{self, Place};
use crate::checks::{Context, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Level, Room};
use crate::profiles::cited::CARBON_MONOXIDE;
use crate::words::Screen;

check!(
    "carbon-monoxide-detector-missing",
    Basis::Published("IRC R315.3, edition not named, quoted: outside each sleeping area"),
    "bedrooms without a detector of carbon monoxide outside them"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    // What is accepted of one bedroom is not accepted of another.
    let mut missing: BTreeMap<(Id<Level>, bool), Vec<Id<Room>>> = BTreeMap::new();
    for asked in detection::carbon_monoxide(site).iter().filter(|asked| asked.detectors.is_empty()) {
        if let Place::Outside(room) = asked.place {
            let accepted = accept::is_accepted(site, RULE.slug, &site.rooms[room].name.value);
            missing.entry((site.rooms[room].level, accepted)).or_default().push(room);
        }
    }
    for ((id, accepted), rooms) in &missing {
        let level = &site.levels[*id];
        let names: Vec<String> = rooms.iter().map(|room| Screen.name(&site.rooms[*room].name.value)).collect();
        let title = format!(
            "no detector of carbon monoxide outside the bedrooms of level {}: {}",
            Screen.name(&level.name.value),
            list(&names, "and")
        );
        let finding = Diagnostic::new(&RULE, level.name.span, title)
            .here("none in hall, stair or living room near them")
            .why("Carbon monoxide has no smell, and nobody who sleeps wakes from it. It comes from whatever burns, and from a car in a garage.")
            .help("Put one in the hall or on the landing that these bedrooms open to. Where an alarm of its own is there, or nothing burns in the house and no garage is attached, accept this.")
            .figure(format!("called for outside each separate sleeping area ({})", CARBON_MONOXIDE.cited()));
        // Where some of them are accepted by name, a room may have the level's name.
        let parted = missing.contains_key(&(*id, !accepted));
        let finding = if parted { finding } else { finding.about(&level.name.value) };
        let bedrooms = rooms.iter().map(|room| &site.rooms[*room].name);
        sink.push(bedrooms.fold(finding, |finding, room| finding.also(room.span, "a bedroom").about(&room.value)));
    }
}

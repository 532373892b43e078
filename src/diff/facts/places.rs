//! Facts of levels, rooms and openings.

use super::field::{Gather, length};
use super::site::metres;
use super::{Facts, Kind, Names, Subject, Thing, own_title};
use crate::model::{Level, Opening, Room};
use crate::terms::{RoomKind, Wall};

pub fn tell(names: &Names<'_>, facts: &mut Facts) {
    let site = names.site;
    for Level { name, title, storey, ceiling } in &site.levels {
        let fields = Gather::default()
            .text("title", own_title(title, &name.value))
            .figure("storey", Some(*storey))
            .atom("ceiling", metres(names, *ceiling))
            .done();
        let thing = Thing { fields, said: format!("level {title}"), named: true, of: None };
        facts.insert(Subject { kind: Kind::Level, key: name.value.clone() }, thing);
    }
    for (id, room) in site.rooms.entries() {
        let Room { name, title, kind, level, rect } = room;
        let level = Subject { kind: Kind::Level, key: site.levels[*level].name.value.clone() };
        let rect = rect.map(|sides| sides.map(|side| length(side, site.lengths)).to_vec());
        let fields = Gather::default()
            .text("title", own_title(title, &name.value))
            .text("used as", kind.map(RoomKind::word))
            .thing("level", Some(level))
            .value("place on the plan", rect.unwrap_or_default())
            .done();
        facts.insert(names.room(id), Thing { fields, said: format!("room {title}"), named: true, of: None });
    }
    for (id, opening) in site.openings.entries() {
        let Opening { name, title, kind, room, inside, reachable, wall, at } = opening;
        let fields = Gather::default()
            .text("title", own_title(title, &name.value))
            .text("kind", Some(kind.noun()))
            .thing("room", Some(names.room(*room)))
            .flag("leads inside", *inside)
            .text("reachable", reachable.map(|reachable| if reachable { "yes" } else { "no" }))
            .text("wall", wall.map(Wall::word))
            .atom("from the wall's left end", metres(names, *at))
            .done();
        let said = format!("{} {title}", kind.noun());
        facts.insert(names.opening(id), Thing { fields, said, named: true, of: None });
    }
}

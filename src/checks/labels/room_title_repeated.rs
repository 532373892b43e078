//! Two rooms of one level that are called alike.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::as_seen;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Level, Room};

check!("room-title-repeated", Basis::Works, "two rooms of a level that are called alike");

fn run(context: Context<'_>, sink: &mut Sink) {
    let mut first: BTreeMap<(Id<Level>, String), &Room> = BTreeMap::new();
    for room in &context.site.rooms {
        let Some(earlier) = first.get(&(room.level, as_seen(&room.title))) else {
            first.insert((room.level, as_seen(&room.title)), room);
            continue;
        };
        // One name for two rooms is another rule's.
        if earlier.name.value == room.name.value {
            continue;
        }
        sink.push(
            Diagnostic::new(&RULE, room.name.span, format!("two rooms of this level are called \"{}\"", room.title))
                .here("one")
                .also(earlier.name.span, "the other")
                .why("Sheets, labels and the installation order name a room by its title and its level: with two of a kind nobody knows into which of them a cable goes.")
                .help("Give each a title of its own, as \"Bedroom, east\".")
                .about(&earlier.name.value)
                .about(&room.name.value),
        );
    }
}

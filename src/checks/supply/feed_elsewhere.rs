//! A circuit that feeds a detector in a room where its cable does not end.

use crate::base::Id;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Owner, Room, Run, Site};
use crate::words::Screen;

check!("feed-elsewhere", Basis::Mismatch, "a run that feeds a detector and ends in another room");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (circuit, _) in site.circuits.entries() {
        for (at, item) in site.all_mounted(Owner::Circuit(circuit)) {
            let (Some(run), Some(fed)) = (at.map(|run| &site.runs[run]), item.feed()) else { continue };
            let device = &site.devices[fed.value];
            let (Some(here), Some(there)) = (run.room, device.room) else { continue };
            // What is on an opening is within reach from both sides of it.
            let opening = device.opening.as_ref().map(|opening| &site.openings[opening.value]);
            if opening.is_some_and(|opening| opening.inside || site.rooms[here].is_outdoors()) {
                continue;
            }
            // One that lies in another run's cable ends where that one does: where the two differ, that is told instead.
            let host = run.along.as_ref().map(|along| &site.runs[along.value]);
            if here == there || host.is_some_and(|host| host.room.is_some_and(|room| room != here)) {
                continue;
            }
            let room = &site.rooms[there].name.value;
            let is_shared = item_rooms(site, run).any(|other| other != there);
            let [here, there] = [here, there].map(|room| site.room_title(room));
            let title = format!(
                "the run that feeds {} ends in {here}, and the detector is in {there}",
                Screen.device(site, fed.value)
            );
            let finding = Diagnostic::new(&RULE, run.span(), title)
                .here(format!("ends in {here}"))
                .also(fed.span, "feeds it here")
                .also(device.span(), format!("in {there}"))
                .why("A feed lands on the detector's own terminals. A cable that ends in another room does not reach them.")
                .help(if is_shared {
                    format!("A cable ends in one room, and this one feeds devices in several. Write in its braces, beside the feeds of its own room, a `run` with room=\"{room}\" that goes on, and in that one's braces the feed.")
                } else {
                    format!("Write room=\"{room}\" at the run where its cable ends there. Where it does not, write in its braces a `run` with room=\"{room}\" that goes on, and in that one's braces the feed.")
                });
            sink.push(about::device(site, device, finding));
        }
    }
}

/// The rooms of what a run feeds.
fn item_rooms(site: &Site, run: &Run) -> impl Iterator<Item = Id<Room>> {
    run.mounted.iter().filter_map(|item| site.devices[item.feed()?.value].room)
}

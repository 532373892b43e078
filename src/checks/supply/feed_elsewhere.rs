//! A circuit that feeds a detector in a room where its cable does not end.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::words::Screen;

check!("feed-elsewhere", Basis::Intent, "a run that feeds a detector and ends in another room");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (circuit, _) in site.circuits.entries() {
        for (at, item) in site.all_mounted(Owner::Circuit(circuit)) {
            let (Some(run), Some(fed)) = (at.map(|run| &site.runs[run]), item.feed()) else { continue };
            let device = &site.devices[fed.value];
            // What is on an opening is within reach from both sides of it.
            let there = device.room.filter(|_| device.opening.is_none());
            let (Some(here), Some(there)) = (run.room, there) else { continue };
            // One that lies in another run's cable ends where that one does: where the two differ, that is told instead.
            let host = run.along.as_ref().map(|along| &site.runs[along.value]);
            if here == there || host.is_some_and(|host| host.room.is_some_and(|room| room != here)) {
                continue;
            }
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
                .help("Leave room= of the run out: it then ends where the detector is. Or add a run from there to the detector.");
            sink.push(about::device(site, device, finding));
        }
    }
}

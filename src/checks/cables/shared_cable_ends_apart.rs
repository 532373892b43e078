//! Two runs that share one cable, and end at things that are far from each other.

use crate::base::Id;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Mounted, Point, Run, Site};
use crate::quantity::{Metres, print};
use crate::words::Screen;

check!("shared-cable-ends-apart", Basis::Mismatch, "runs in one cable that end at things far from each other");

/// So far the conductors of one cable may part at its end, with the jacket taken off. Ours.
const APART: Metres = Metres(3.0);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for run in &site.runs {
        let Some(along) = &run.along else { continue };
        let host = &site.runs[along.value];
        let pairs = ends(site, run)
            .flat_map(|(guest, here)| ends(site, host).map(move |(other, there)| (guest, other, here.to(there))));
        let Some((guest, other, far)) = pairs.min_by(|one, two| one.2.0.total_cmp(&two.2.0)) else { continue };
        if far.0 <= APART.0 || level(site, guest) != level(site, other) {
            continue;
        }
        let far = print::length(far, site.lengths);
        let label = context.wiring.cable_of(along.value).map(|cable| cable.label.clone()).unwrap_or_default();
        let (guest, other) = (&site.devices[guest], &site.devices[other]);
        let title = format!("cable {} ends at two places that are {far} from each other", Screen.name(&label));
        let finding = Diagnostic::new(&RULE, along.span, title)
            .here("shares the cable")
            .also(guest.span(), "its conductors end here")
            .also(other.span(), "and here the cable ends")
            .why(format!("A cable has one end, and all its conductors end there. What hangs {far} away wants cable from there on, which no sheet and no list has now."))
            .help("Leave along= out: then this run is a cable of its own, of which type, length and way are written here. If one of the two hangs elsewhere, write its true spot.");
        let finding = about::owner(site, run.owner, finding);
        sink.push(if run.owner == host.owner { finding } else { about::owner(site, host.owner, finding) });
    }
}

/// The devices at the end of a run of which the plan says where they are, with their places. The middle of a room or of a wall
/// says nothing.
fn ends<'s>(site: &'s Site, run: &'s Run) -> impl Iterator<Item = (Id<Device>, Point)> + use<'s> {
    let place = |id: Id<Device>| {
        let device = &site.devices[id];
        let at_opening = || {
            let opening = device.opening.as_ref()?.value;
            site.openings[opening].at.and_then(|_| site.place_of(opening))
        };
        Some((id, device.hung.as_ref().map(|hung| hung.at.value).or_else(at_opening)?))
    };
    let devices =
        run.mounted.iter().filter_map(|item| Mounted::device(item).or(Mounted::feed(item).map(|of| of.value)));
    devices.filter_map(place)
}

fn level(site: &Site, device: Id<Device>) -> Option<Id<crate::model::Level>> {
    site.devices[device].room.map(|room| site.rooms[room].level)
}

//! Two runs that share one cable, and end at things that are far from each other.

use crate::base::Id;
use crate::checks::cables::shared_cable_contradicted::two_rooms;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Mounted, Point, Run, Site};
use crate::quantity::{Metres, print};
use crate::words::Screen;

check!("shared-cable-ends-apart", Basis::Mismatch, "runs in one cable that end at things far from each other");

/// So far the conductors of one cable may part at its end, with the jacket taken off. Ours.
const APART: Metres = Metres(3.0);

/// How two things are known not to be at one place.
#[derive(Clone, Copy, PartialEq, PartialOrd)]
enum Apart {
    /// So far from each other on the plan, at the least.
    By(Metres),
    /// In two rooms of which the plan does not say that they adjoin.
    InRooms,
    /// On two levels.
    OnLevels,
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for run in &site.runs {
        let Some(along) = &run.along else { continue };
        let host = &site.runs[along.value];
        if two_rooms(site, run, host).is_some() {
            continue;
        }
        let pairs = ends(site, run).flat_map(|guest| ends(site, host).map(move |other| (guest, other)));
        let apart: Option<Vec<_>> =
            pairs.map(|(guest, other)| Some((guest, other, apart(site, guest, other)?))).collect();
        let nearest = apart
            .into_iter()
            .flatten()
            .min_by(|one, two| one.2.partial_cmp(&two.2).unwrap_or(std::cmp::Ordering::Equal));
        let Some((guest, other, apart)) = nearest else { continue };
        let label = context.wiring.cable_of(along.value).map(|cable| cable.label.clone()).unwrap_or_default();
        let (guest, other) = (&site.devices[guest], &site.devices[other]);
        let (at, elsewhere) = match apart {
            Apart::By(far) => {
                let far = print::length(far, site.lengths);
                (format!("at two places that are {far} from each other"), format!("{far} away"))
            }
            Apart::InRooms => ("in two rooms".to_owned(), "in another room".to_owned()),
            Apart::OnLevels => ("on two levels".to_owned(), "on another level".to_owned()),
        };
        let finding = Diagnostic::new(&RULE, along.span, format!("cable {} ends {at}", Screen.name(&label)))
            .here("shares the cable")
            .also(guest.span(), "its conductors end here")
            .also(other.span(), "and here the cable ends")
            .why(format!("A cable has one end, and all its conductors end there. What hangs {elsewhere} wants cable from there on, which no sheet and no list has now."))
            .help("Leave along= out: then this run is a cable of its own, of which type, length and way are written here. If one of the two hangs elsewhere, write its true room and spot.");
        let finding = about::owner(site, run.owner, finding);
        sink.push(if run.owner == host.owner { finding } else { about::owner(site, host.owner, finding) });
    }
}

/// The devices at the end of a run.
fn ends<'s>(site: &'s Site, run: &'s Run) -> impl Iterator<Item = Id<Device>> + use<'s> {
    run.mounted.iter().filter_map(Mounted::device_or_fed).filter(|id| site.devices[*id].room.is_some())
}

/// How two devices are apart; `None` where they may be at one place.
fn apart(site: &Site, one: Id<Device>, other: Id<Device>) -> Option<Apart> {
    let rooms = site.devices[one].room.zip(site.devices[other].room)?;
    if site.rooms[rooms.0].level != site.rooms[rooms.1].level {
        return Some(Apart::OnLevels);
    }
    let far = match (point(site, one), point(site, other)) {
        (Some(here), Some(there)) => here.to(there),
        _ if rooms.0 == rooms.1 => return None,
        _ => match site.rooms[rooms.0].gap_to(&site.rooms[rooms.1]) {
            Some(gap) => gap,
            // A door between two rooms is within reach from both.
            None => return (!is_between(site, one) && !is_between(site, other)).then_some(Apart::InRooms),
        },
    };
    (far.0 > APART.0).then_some(Apart::By(far))
}

/// True for what is on an opening between two rooms.
fn is_between(site: &Site, id: Id<Device>) -> bool {
    site.devices[id].opening.as_ref().is_some_and(|opening| site.openings[opening.value].inside)
}

/// Where a device is by the plan. The middle of a room or of a wall says nothing.
fn point(site: &Site, id: Id<Device>) -> Option<Point> {
    let device = &site.devices[id];
    let at_opening = || {
        let opening = device.opening.as_ref()?.value;
        site.openings[opening].at.and_then(|_| site.place_of(opening))
    };
    device.hung.as_ref().map(|hung| hung.at.value).or_else(at_opening)
}

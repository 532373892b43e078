//! Steps for the ways to the monitoring service: the jack of a telephone line, and what the alarm's own supply feeds there.

use std::collections::BTreeSet;

use super::Sides;
use super::place::Places;
use crate::base::Id;
use crate::base::wording::capital;
use crate::diff::{Kind, Subject};
use crate::materials::goods::{Goods, is_bought};
use crate::model::{Communicator, Owner, Room, Site};

/// Adds the steps of every jack and powered device that is new, gone or different.
pub(crate) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for change in sides.changes(Kind::Communicator) {
        let was = change.old.as_ref().and_then(|(subject, _)| way(old, subject));
        let is = change.new.as_ref().and_then(|(subject, _)| way(new, subject));
        let things = |site: &Site, way: Option<Id<Communicator>>| -> BTreeSet<Thing> {
            way.map(|way| things(site, way)).unwrap_or_default()
        };
        let (before, now) = (things(old, was), things(new, is));
        let said = |site: &Site, way: Option<Id<Communicator>>, thing: &Thing| {
            let title = way.map(|way| site.communicators[way].title.as_str()).unwrap_or_default();
            format!("{} of {title}", thing.title)
        };
        for gone in before.difference(&now) {
            places.add(old, gone.room, "remove", said(old, was, gone));
        }
        for fresh in now.difference(&before) {
            places.add(new, fresh.room, "mount", said(new, is, fresh));
        }
    }
}

fn way(site: &Site, subject: &Subject) -> Option<Id<Communicator>> {
    site.communicator_named(&subject.key).map(|(id, _)| id)
}

/// Something that is bought for a way.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Thing {
    title: String,
    /// Where its cable ends, where the spec has one.
    room: Option<Id<Room>>,
}

/// The jack stands at the end of the first cable, a powered device at that of the cable of its own number.
fn things(site: &Site, id: Id<Communicator>) -> BTreeSet<Thing> {
    let way = &site.communicators[id];
    let rooms: Vec<Option<Id<Room>>> = site.runs_of(Owner::Communicator(id)).map(|(_, run)| run.room).collect();
    let room = |nth: usize| rooms.get(nth).copied().flatten();
    let jack = way.jack.map(|jack| Thing { title: Goods::Jack(jack).title(), room: room(0) });
    let hops = way.hops.iter().enumerate().filter(|(_, hop)| is_bought(hop));
    let hops = hops.map(|(nth, hop)| Thing { title: capital(&hop.name.value), room: room(nth) });
    jack.into_iter().chain(hops).collect()
}

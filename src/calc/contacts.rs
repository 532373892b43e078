//! Which contacts of a loop are closed in which of its states.

use std::collections::{BTreeMap, BTreeSet};

use super::network::{self, Element, Network, Which, closed};
use super::spread::Spread;
use super::state::State;
use crate::base::Id;
use crate::model::{Device, Site};
use crate::terms::ContactForm;

/// A contact of a device.
pub(crate) type Contact = (Id<Device>, Which);

/// The contacts that are not at rest in a state; where a state is any so many of them, those whose resistors are the
/// smallest by what is written on them.
pub(crate) fn moved(site: &Site, network: &Network, devices: &[Id<Device>], state: State) -> BTreeSet<Contact> {
    let sorted = || by_added(site, network, devices, |spread| spread.nominal).into_iter();
    match state {
        State::Alarm(one) | State::SupplyLost(one) => BTreeSet::from([(one, Which::Alarm)]),
        State::Cover(one) => BTreeSet::from([(one, Which::Cover)]),
        State::AllAlarms => in_alarm(sorted()),
        State::Alarms(count) => in_alarm(sorted().take(count)),
        State::Normal | State::Cut(_) | State::ShortNear(_) | State::ShortFar(_) => BTreeSet::new(),
    }
}

/// Whether a contact is closed while those in `moved` are not at rest.
pub(crate) fn is_closed(site: &Site, contact: Contact, moved: &BTreeSet<Contact>) -> bool {
    let form = match contact.1 {
        Which::Alarm => network::contact(site, contact.0).map(|c| c.0),
        Which::Cover => network::cover(site, contact.0).map(|c| c.0),
    };
    (form == Some(ContactForm::NormallyClosed)) != moved.contains(&contact)
}

/// The contacts that alarms of these devices move.
pub(super) fn in_alarm(devices: impl Iterator<Item = Id<Device>>) -> BTreeSet<Contact> {
    devices.map(|device| (device, Which::Alarm)).collect()
}

/// The devices that can be in alarm, by what the alarm of each adds to its loop, least first, at one end of the spreads.
pub(super) fn by_added(
    site: &Site,
    network: &Network,
    devices: &[Id<Device>],
    end: fn(Spread) -> f64,
) -> Vec<Id<Device>> {
    let shunts = shunts(network);
    let added = |device: Id<Device>| {
        let shunt = shunts.get(&device).copied().unwrap_or(Spread::SHORT);
        let closed = network::contact(site, device).map_or(Spread::SHORT, |contact| closed(contact.1));
        end(shunt) - end(shunt.parallel(closed))
    };
    let mut sorted: Vec<Id<Device>> = devices
        .iter()
        .copied()
        .filter(|device| network::contact(site, *device).is_some() && !network::watches_supply(site, *device))
        .collect();
    sorted.sort_by(|a, b| added(*a).total_cmp(&added(*b)));
    sorted
}

/// The resistors across contacts, by device.
fn shunts(network: &Network) -> BTreeMap<Id<Device>, Spread> {
    let shunt = |part: &Network| {
        if let Network::Element(Element::Shunt(device), spread) = part { Some((*device, *spread)) } else { None }
    };
    network.parts().filter_map(shunt).collect()
}

//! What the findings about two-wire detectors have in common: who is on the loop, and what rules its readings out.

use crate::base::{Id, Spanned};
use crate::calc::loops::LoopReadings;
use crate::calc::{Spread, two_wire};
use crate::checks::Context;
use crate::checks::loops::loop_known::{Known, known, resistors};
use crate::model::{Device, LoopFed, LoopFeed, Site, Zone};
use crate::quantity::{Amperes, Resistance};
use crate::terms::{ContactForm, LoopWiring};

/// The two-wire detectors of a zone, in order.
pub(crate) fn detectors(site: &Site, zone: Id<Zone>) -> Vec<(Id<Device>, &LoopFed)> {
    site.devices_of(zone).filter_map(|(id, _)| Some((id, site.loop_fed(id)?))).collect()
}

/// A two-wire loop whose board's sheet says what it feeds.
pub(crate) struct Fed<'s> {
    pub(crate) zone: Id<Zone>,
    pub(crate) known: Known<'s>,
    pub(crate) feed: &'s LoopFeed,
    pub(crate) detectors: Vec<(Id<Device>, &'s LoopFed)>,
}

/// The two-wire loops of which nothing was reported.
pub(crate) fn fed(context: Context<'_>) -> impl Iterator<Item = Fed<'_>> {
    let site = context.site;
    site.zones.entries().filter_map(move |(zone, _)| of_zone(site, zone))
}

fn of_zone(site: &Site, zone: Id<Zone>) -> Option<Fed<'_>> {
    Some(Fed { zone, known: known(site, zone)?, feed: site.loop_feed(zone)?, detectors: detectors(site, zone) })
}

/// True where a loop is two-wire and something about it keeps its readings from being judged.
pub(crate) fn is_unfit(site: &Site, readings: &LoopReadings, known: &Known<'_>) -> bool {
    if is_unfed(site, readings.zone, known) {
        return true;
    }
    let Some(fed) = of_zone(site, readings.zone) else { return false };
    !foreign(site, &fed).is_empty()
        || too_much(&fed).is_some()
        || too_many(&fed).is_some()
        || !other_resistors(site, &fed).is_empty()
        || !outside(site, readings, &fed).is_empty()
}

/// True where two-wire detectors are on a loop that does not feed them, or a two-wire loop is on a board that says nothing
/// of them.
pub(crate) fn is_unfed(site: &Site, zone: Id<Zone>, known: &Known<'_>) -> bool {
    if known.wiring == LoopWiring::TwoWire { site.loop_feed(zone).is_none() } else { !detectors(site, zone).is_empty() }
}

/// The devices that a two-wire loop does not feed, and that its board does not let on the same input.
pub(crate) fn foreign(site: &Site, fed: &Fed<'_>) -> Vec<Id<Device>> {
    let contact = |id: Id<Device>| {
        let part = site.device_part(id);
        let open = part.and_then(|part| part.contacts.first()).is_some_and(|c| c.form == ContactForm::NormallyOpen);
        fed.feed.contacts && open && part.is_some_and(|part| part.supply.is_none())
    };
    let devices = site.devices_of(fed.zone).map(|(id, _)| id);
    devices.filter(|id| site.loop_fed(*id).is_none() && !contact(*id)).collect()
}

/// The current at rest of all detectors, where it is more than the board feeds.
pub(crate) fn too_much(fed: &Fed<'_>) -> Option<Amperes> {
    let limit = fed.feed.limit.as_ref()?;
    let idle: Amperes = fed.detectors.iter().map(|(_, sheet)| sheet.idle).sum();
    (idle.0 > limit.value.0 * (1.0 + 1e-9)).then_some(idle)
}

/// The detectors that are more than the board's list lets on one input, all of its kind, and the most.
pub(crate) fn too_many(fed: &Fed<'_>) -> Option<(Vec<Id<Device>>, u32)> {
    fed.detectors.iter().find_map(|(_, sheet)| {
        let most = fed.feed.lists(sheet)?.most?;
        let alike = fed.detectors.iter().filter(|(_, other)| other.identifier == sheet.identifier);
        let alike: Vec<Id<Device>> = alike.map(|(id, _)| *id).collect();
        (alike.len() > most as usize).then_some((alike, most))
    })
}

/// The resistors of a loop that are not the one of the board's sheet.
pub(crate) fn other_resistors<'s>(site: &'s Site, fed: &Fed<'_>) -> Vec<&'s Spanned<Resistance>> {
    let Some(wanted) = &fed.feed.resistor else { return Vec::new() };
    let ohms = wanted.value.nominal.0;
    let fitted = resistors(site, fed.zone).into_iter().map(|(_, value)| value);
    fitted.filter(|value| (value.value.nominal.0 / ohms - 1.0).abs() > 1e-6).collect()
}

/// The detectors that may get too few volts at rest, or too many.
pub(crate) fn outside<'s>(
    site: &'s Site,
    readings: &LoopReadings,
    fed: &Fed<'s>,
) -> Vec<(Id<Device>, &'s LoopFed, Spread)> {
    let Some(sensing) = fed.known.sensing else { return Vec::new() };
    let all = two_wire::at_detectors(site, &readings.network, sensing);
    let volts = |(id, sheet): &(Id<Device>, &'s LoopFed)| {
        let volts = *all.get(id)?;
        let outside = volts.least < sheet.min.0 || sheet.max.is_some_and(|max| volts.greatest > max.0);
        outside.then_some((*id, *sheet, volts))
    };
    fed.detectors.iter().filter_map(volts).collect()
}

//! Which outputs are made for what hangs on them, by when they are on, what they give, and who can take it away.
//!
//! Every help that names an output asks here, so that one that is followed leads to no other finding. Out of scope:
//! currents and volts (`remedy`).

use super::tree::Consumer;
use crate::base::Id;
use crate::model::{Board, Device, DeviceKind, Output, OutputRef, Site, Take};
use crate::terms::{Senses, SupplyForm, When, Works};

/// True for a sounder with a battery of its own, by the spec, that takes current at rest, by its part: it charges that.
pub(crate) fn charges(site: &Site, device: Id<Device>) -> bool {
    let item = &site.devices[device];
    let takes = site.device_part(device).and_then(|part| part.supply.as_ref()).is_some_and(|need| match need.idle {
        Take::Current(current) => current.0 > 0.0,
        Take::Power(power) => power.0 > 0.0,
    });
    item.kind == DeviceKind::Sounder && item.own_battery().is_some() && takes
}

/// The form of the supply that something needs.
pub(crate) fn form(site: &Site, consumer: Consumer) -> SupplyForm {
    match consumer {
        Consumer::Device(id) => {
            let need = site.device_part(id).and_then(|part| part.supply.as_ref());
            need.map_or(SupplyForm::Steady, |need| need.form)
        }
        Consumer::Board(_) | Consumer::Hop(..) => SupplyForm::Steady,
    }
}

/// True where an output is made for something: for sounders and strobes one that is on in alarms; for all else one that is always on,
/// which the board can take away to reset what senses smoke, with what watches its supply, and nothing else.
pub(crate) fn suits(site: &Site, consumer: Consumer, output: &Output) -> bool {
    let always = output.when == When::Always;
    let device = |id: Id<Device>| match site.devices[id].kind {
        DeviceKind::Sounder if !charges(site, id) => !always,
        DeviceKind::Load if site.device_part(id).is_some_and(|part| part.works == Some(Works::Strobe)) => !always,
        DeviceKind::Sounder | DeviceKind::Load => always && !output.switched,
        DeviceKind::Contact | DeviceKind::Detector | DeviceKind::Wireless | DeviceKind::Fault => {
            always && is_reset(site, id).is_none_or(|reset| output.switched == reset)
        }
    };
    form(site, consumer) == output.form
        && match consumer {
            Consumer::Device(id) => device(id),
            Consumer::Board(_) | Consumer::Hop(..) => always && !output.switched,
        }
}

/// Whether a detector is reset by its supply: one of smoke is, and what watches a supply goes with the detectors of its zone.
/// `None` for such a relay in a zone of its own.
fn is_reset(site: &Site, device: Id<Device>) -> Option<bool> {
    let senses = site.senses(device);
    if senses != Some(Senses::Supply) {
        return Some(senses == Some(Senses::Smoke));
    }
    let with = site.devices[device].zone.into_iter().flat_map(|zone| site.devices_of(zone));
    let watched = with.filter_map(|(id, _)| site.senses(id)).filter(|senses| *senses != Senses::Supply);
    watched.map(|senses| senses == Senses::Smoke).reduce(|one, other| one || other)
}

/// The outputs of a board that are made for something, in the order of its part.
pub(crate) fn fitting(site: &Site, board: Id<Board>, consumer: Consumer) -> impl Iterator<Item = (OutputRef, &Output)> {
    site.outputs(board).filter(move |(_, output)| suits(site, consumer, output))
}

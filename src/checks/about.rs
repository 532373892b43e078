//! By which words an `accept` names the thing that a finding is about.

use crate::calc::power::Consumer;
use crate::diag::Diagnostic;
use crate::model::{Device, Owner, Site};

/// A finding that is about a device: by its zone and by its name.
#[must_use]
pub(crate) fn device(site: &Site, device: &Device, finding: Diagnostic) -> Diagnostic {
    let finding = match device.zone {
        Some(zone) => finding.about(site.zones[zone].number.value),
        None => finding,
    };
    match &device.name {
        Some(name) => finding.about(&name.value),
        None => finding,
    }
}

/// A finding that is about what a run belongs to.
#[must_use]
pub(crate) fn owner(site: &Site, owner: Owner, finding: Diagnostic) -> Diagnostic {
    match owner {
        Owner::Zone(zone) => finding.about(site.zones[zone].number.value),
        Owner::Bus(bus) => finding.about(&site.buses[bus].name.value),
        Owner::Circuit(circuit) => finding.about(&site.circuits[circuit].name.value),
        Owner::Transformer(board) => finding.about(&site.boards[board].name.value),
        Owner::Spare(spare) => finding.about(&site.spares[spare].name.value),
        Owner::Communicator(line) => finding.about(&site.communicators[line].name.value),
    }
}

/// A finding that is about a load: by zone and name.
#[must_use]
pub(crate) fn consumer(site: &Site, consumer: Consumer, finding: Diagnostic) -> Diagnostic {
    match consumer {
        Consumer::Device(id) => device(site, &site.devices[id], finding),
        Consumer::Board(id) => finding.about(&site.boards[id].name.value),
        Consumer::Hop(line, _) => finding.about(&site.communicators[line].name.value),
    }
}

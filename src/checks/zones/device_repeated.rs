//! A contact or detector that stands twice in its loop: the same part at the same place under the same title.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, DeviceKind, Opening, Part, Run, Zone};
use crate::words::Screen;

check!("device-repeated", Basis::Guess, "a contact or detector that stands twice in its loop");

/// Where a device is, as far as the spec tells two apart.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    /// At an opening, whichever run brings its cable.
    Opening(Id<Opening>),
    /// At the end of a run, or at the board.
    Run(Option<Id<Run>>),
}

/// What is the same in both: zone, part, place, title, and height.
type Same<'s> = (Id<Zone>, Id<Part>, Place, &'s str, Option<u64>);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut found: BTreeMap<Same<'_>, Vec<(Id<Device>, &Device)>> = BTreeMap::new();
    for (id, device) in site.devices.entries() {
        // A loop that was cut off holds what a script has written.
        if let Some(same) = same(device).filter(|(zone, ..)| site.zones[*zone].whole) {
            found.entry(same).or_default().push((id, device));
        }
    }
    for devices in found.into_values() {
        let [(_, first), others @ ..] = devices.as_slice() else { continue };
        let Some((last, again)) = others.split_last() else { continue };
        let (id, device) = *last;
        let name = Screen.device(site, id);
        let finding = Diagnostic::new(&RULE, device.span(), format!("{name} stands twice in its loop"))
            .here("the same part, at the same place")
            .also(first.span(), "first here")
            .why("Mostly a line was copied and not changed: then a device is bought, drawn and counted that is not there, or one that is there has the name of another.")
            .help("Take one of them away, or say what differs: on= of the other opening, or a title= for each, such as \"Left leaf\" and \"Right leaf\".");
        let finding = again.iter().fold(finding, |finding, (_, other)| finding.also(other.span(), "and here"));
        sink.push(about::device(site, device, finding));
    }
}

/// `None` for what has a name or a spot of its own, which tells it apart.
fn same(device: &Device) -> Option<Same<'_>> {
    match device.kind {
        DeviceKind::Contact | DeviceKind::Detector => {}
        DeviceKind::Sounder | DeviceKind::Load | DeviceKind::Wireless | DeviceKind::Fault => return None,
    }
    if device.name.is_some() || device.hung.is_some() {
        return None;
    }
    let place = device.opening.as_ref().map_or(Place::Run(device.run), |opening| Place::Opening(opening.value));
    Some((device.zone?, device.part?, place, &device.title, device.mount.map(|height| height.0.to_bits())))
}

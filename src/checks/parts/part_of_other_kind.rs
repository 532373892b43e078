//! A part that is mounted as what it is not: a detector as a sounder, a sounder as a load.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::DeviceKind;
use crate::words::Screen;

check!("part-of-other-kind", Basis::Mismatch, "a part that is mounted as what it is not");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        let Some(part) = site.device_part(id).filter(|part| part.whole && part.supply.is_some()) else { continue };
        let (is, node) = match device.kind {
            DeviceKind::Sounder | DeviceKind::Load if part.senses.is_some() => ("senses something", "detector"),
            DeviceKind::Load if part.sound.is_some() => ("sounds", "sounder"),
            DeviceKind::Contact
            | DeviceKind::Detector
            | DeviceKind::Sounder
            | DeviceKind::Load
            | DeviceKind::Wireless
            | DeviceKind::Fault => continue,
        };
        let (noun, name) = (device.kind.noun(), &part.name.value);
        let finding = Diagnostic::new(
            &RULE,
            device.span(),
            format!("{} is a {noun}, and its part `{name}` {is}", Screen.device(site, id)),
        )
        .here(format!("mounted as a {noun}"))
        .also(part.name.span, format!("the part {is}"))
        .why("What a part takes in alarm, how loud it is and how it is tried follow from what it is mounted as.")
        .help(format!("Name the part of the {noun}, or write it as a `{node}`."));
        sink.push(about::device(site, device, finding));
    }
}

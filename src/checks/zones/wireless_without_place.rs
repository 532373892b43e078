//! A wireless detector of which nobody says where it is.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::DeviceKind;
use crate::words::Screen;

check!("wireless-without-place", Basis::Practice, "a wireless detector without a room or an opening");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    for (id, device) in site.devices.entries() {
        if device.kind != DeviceKind::Wireless || device.room.is_some() || device.opening.is_some() {
            continue;
        }
        let finding = Diagnostic::new(
            &RULE,
            device.span(),
            format!("{} is nowhere", Screen.device(site, id)),
        )
        .here("neither room= nor on=")
        .why("No cable leads to it. Whoever mounts it, tests it or changes its battery has only the paper to find it by.")
        .help("Add room=, or on= where it watches a door, window or hatch.");
        sink.push(about::device(site, device, finding));
    }
}

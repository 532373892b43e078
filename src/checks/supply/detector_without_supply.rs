//! A detector that needs a supply and gets none.

use crate::base::Id;
use crate::base::wording::{capital, list};
use crate::calc::power::Consumer;
use crate::calc::power::suits::fitting;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, DeviceKind, Part, Site};
use crate::terms::ContactForm;
use crate::words::Screen;

check!("detector-without-supply", Basis::Contradiction, "a detector that needs a supply and gets none");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        if !is_unfed(device) {
            continue;
        }
        // Only a device with a name can be fed from a circuit, which may be what could not be read.
        let known =
            if device.name.is_some() { site.sound } else { device.zone.is_some_and(|zone| site.zones[zone].whole) };
        if !known {
            continue;
        }
        let Some(part) = device.part.map(|part| &site.parts[part]) else { continue };
        let Some(need) = &part.supply else { continue };
        let finding = Diagnostic::new(&RULE, device.span(), format!("{} gets no supply", Screen.device(site, id)))
            .here("neither supply= nor a circuit that feeds it")
            .also(part.name.span, "needs a supply")
            .why(why(part))
            .figure(format!("needs at least {}; takes {} at rest and {} in alarm", need.min, need.idle, need.alarm))
            .help(help(site, id, device));
        sink.push(about::device(site, device, finding));
    }
}

/// True for what is wired and that nothing feeds, whether it needs a supply or not.
pub(super) fn is_unfed(device: &Device) -> bool {
    let wired = matches!(device.kind, DeviceKind::Contact | DeviceKind::Detector);
    wired && !device.supply_written && device.fed_by.is_empty()
}

/// What a dead detector does: a contact that closes in alarm stays open, and nobody notices.
fn why(part: &Part) -> &'static str {
    if part.contacts.iter().any(|contact| contact.form == ContactForm::NormallyOpen) {
        "Without its supply the detector is dead, and its contact stands as at rest: it reports nothing, and nobody notices."
    } else {
        "Without its supply the detector is dead, and most relays then stand as in alarm: the zone never comes ready, or worse, is bridged to make it so."
    }
}

fn help(site: &Site, id: Id<Device>, device: &Device) -> String {
    if device.kind == DeviceKind::Contact {
        return "Write it as a `detector`, and feed it with supply= through its own cable or from a circuit."
            .to_owned();
    }
    let board = device.zone.and_then(|zone| site.zones[zone].wired.as_ref()).and_then(|wired| wired.board.as_ref());
    let outputs: Vec<String> = board
        .into_iter()
        .flat_map(|board| fitting(site, board.value, Consumer::Device(id)))
        .map(|(_, output)| format!("supply=\"{}\"", output.name.value))
        .collect();
    let feed = match &device.name {
        Some(name) => format!("write `feed \"{}\"` in a circuit", name.value),
        None => "give it a name and a `feed` of that name in a circuit".to_owned(),
    };
    if outputs.is_empty() {
        format!("{}.", capital(&feed))
    } else {
        format!("Add {}, or {feed}.", list(&outputs, "or"))
    }
}

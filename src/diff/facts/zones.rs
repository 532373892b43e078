//! Facts of zones with their loops, and of devices.

use super::field::{Gather, figure};
use super::runs::chain;
use super::site::metres;
use super::{Facts, Kind, Names, Subject, Thing};
use crate::model::{Device, DeviceKind, Loop, Mounted, Site, Zone};
use crate::register::Wiring;
use crate::terms::{LoopWiring, ZoneType};

pub fn tell(names: &Names<'_>, wiring: &Wiring, facts: &mut Facts) {
    let site = names.site;
    for (id, zone) in site.zones.entries() {
        let Zone { number, description, kind, area, event, note, wired, wireless, whole: _ } = zone;
        let area = area.map(|area| Subject { kind: Kind::Area, key: site.areas[area].name.value.clone() });
        let mut gather = Gather::default()
            .text("description", Some(&description.value))
            .text("type", kind.as_ref().map(|kind| ZoneType::word(kind.value)))
            .thing("area", area)
            .figure("event code", event.as_ref().map(|event| event.value))
            .text("note", note.as_deref())
            .thing("wireless detector", wireless.map(|device| names.device(device)));
        if let Some(Loop { wiring: supervised, board, input: _, input_written: _, chain: items, place: _ }) = wired {
            // The input that it is on, whether the spec says so or the register does.
            gather = gather
                .text("wiring", supervised.as_ref().map(|wiring| LoopWiring::word(wiring.value)))
                .thing("board", board.as_ref().map(|board| names.board(board.value)))
                .figure("input", wiring.inputs.of_zone.get(&id).copied())
                .value("from the board on", chain(names, items));
        }
        let said = format!("zone {} {}", number.value, description.value);
        facts.insert(names.zone(id), Thing { fields: gather.done(), said, named: true, of: None });
    }
    for (id, _) in site.devices.entries() {
        tell_device(names, id, facts);
    }
}

fn tell_device(names: &Names<'_>, id: crate::base::Id<Device>, facts: &mut Facts) {
    let site = names.site;
    let Device {
        kind,
        name,
        title,
        part,
        opening,
        room,
        mount,
        zone,
        run,
        supply,
        supply_written: _,
        fed_by: _, // told where it is fed
        shunt,
        tamper_in_loop,
        shares,
        receiver,
        receiver_written: _,
        battery,
        place: _,
    } = &site.devices[id];
    let owner = run.map(|run| super::runs::owner(names, site.runs[run].owner)).filter(|_| zone.is_none());
    let fields = Gather::default()
        .text("kind", Some(noun(*kind)))
        .text("name", name.as_ref().map(|name| name.value.as_str()))
        .text("title", Some(title.as_str()).filter(|title| *title != usual_title(site, &site.devices[id])))
        .thing("part", part.map(|part| names.part(part)))
        .thing("on", opening.as_ref().map(|opening| names.opening(opening.value)))
        .thing("room", room.map(|room| names.room(room)))
        .atom("height", metres(names, *mount))
        .thing("zone", zone.map(|zone| names.zone(zone)))
        .thing("circuit", owner)
        .thing("at the end of", run.map(|run| names.run(run)))
        .value("supply", supply.as_ref().map(|supply| names.output(supply.value)).unwrap_or_default())
        .atom("resistor across its contact", shunt.as_ref().map(|shunt| figure(shunt.value)))
        .flag("cover contact in the loop", *tamper_in_loop)
        .flag("shares its opening", *shares)
        .thing("receiver", receiver.as_ref().map(|receiver| names.board(receiver.value)))
        .figure("battery put in", *battery)
        .done();
    let said =
        if title.to_lowercase().starts_with(noun(*kind)) { title.clone() } else { format!("{} {title}", noun(*kind)) };
    let of = zone.map(|zone| names.zone(zone));
    facts.insert(names.device(id), Thing { fields, said, named: name.is_some(), of });
}

fn noun(kind: DeviceKind) -> &'static str {
    match kind {
        DeviceKind::Contact => "contact",
        DeviceKind::Detector => "detector",
        DeviceKind::Sounder => "sounder",
        DeviceKind::Wireless => "wireless detector",
    }
}

/// The title that a device has where the spec gives none.
fn usual_title(site: &Site, device: &Device) -> String {
    let part = device.part.map(|part| site.parts[part].title.as_str()).unwrap_or_default();
    match &device.opening {
        Some(opening) => format!("{part}, {}", site.openings[opening.value].title),
        None => part.to_owned(),
    }
}

/// What a device is known by: its name, else its zone or circuit with its opening, else with its part and room.
pub fn device_key(site: &Site, device: &Device) -> String {
    if let Some(name) = &device.name {
        return name.value.clone();
    }
    let owner = match (device.zone, device.run) {
        (Some(zone), _) => format!("zone {}", site.zones[zone].number.value),
        (None, Some(run)) => owner_key(site, run),
        (None, None) => circuit_at_board(site, device),
    };
    match &device.opening {
        Some(opening) => format!("{owner} on {}", site.openings[opening.value].name.value),
        None => {
            let part = device.part.map(|part| site.parts[part].name.value.as_str()).unwrap_or_default();
            let room = device.room.map(|room| site.rooms[room].name.value.as_str()).unwrap_or_default();
            format!("{owner} {part} in {room}")
        }
    }
}

fn owner_key(site: &Site, run: crate::base::Id<crate::model::Run>) -> String {
    match site.runs[run].owner {
        crate::model::Owner::Circuit(circuit) => format!("circuit {}", site.circuits[circuit].name.value),
        _ => "site".to_owned(),
    }
}

/// A sounder at the board stands in its circuit's chain, before any run.
fn circuit_at_board(site: &Site, device: &Device) -> String {
    let holds =
        |item: &Mounted| matches!(item, Mounted::Device(id) if std::ptr::eq(&raw const site.devices[*id], device));
    let circuit = site.circuits.iter().find(|circuit| circuit.chain.iter().any(holds));
    circuit.map_or_else(|| "site".to_owned(), |circuit| format!("circuit {}", circuit.name.value))
}

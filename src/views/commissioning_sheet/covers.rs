//! Covers: a blank for each cover switch and each loop that watches covers, and for the lid of each board.

use serde::Serialize;

use super::loops::shown;
use crate::base::Id;
use crate::calc::State;
use crate::compiled::Compiled;
use crate::model::{BoardKind, Device, DeviceKind, Site, Zone};
use crate::terms::{Senses, ZoneType};
use crate::words::{self, Paper};

/// A cover.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    cover: String,
    told: String,
    /// False where it is told by nothing: there is nothing to tick.
    is_told: bool,
    reads: String,
}

/// The covers of detectors, then cover switches and loops that watch covers, then the lids of boards.
pub(crate) fn rows(compiled: &Compiled) -> Vec<Row> {
    let site = &compiled.site;
    let devices = site.devices.entries();
    // The part of a fault contact is its supply's, whose lid is below.
    let of_detectors = devices.filter(|(_, device)| device.kind != DeviceKind::Fault).filter_map(|(id, device)| {
        let has = site.device_part(id).is_some_and(|part| part.tamper.is_some());
        has.then(|| of_detector(compiled, id, device))
    });
    let of_switches = site.zones.entries().flat_map(|(id, zone)| switches(compiled, id, zone));
    let lids = site.boards.entries().filter(|(_, board)| !board.kind.offers_nothing());
    let lids = lids.map(|(id, board)| {
        // One that stands alone has nothing to tell it by.
        let is_told = board.kind != BoardKind::PowerSupply;
        Row {
            cover: format!("lid of {}", Paper.board(site, id)),
            told: if is_told {
                format!("{}, where the board watches it", teller(site))
            } else {
                "nobody, unless a loop watches it".to_owned()
            },
            is_told,
            reads: String::new(),
        }
    });
    of_detectors.chain(of_switches).chain(lids).collect()
}

fn of_detector(compiled: &Compiled, id: Id<Device>, device: &Device) -> Row {
    let zone = device.zone.filter(|_| device.tamper_in_loop);
    let states = zone.and_then(|zone| compiled.loops.get(&zone)).map(|readings| readings.states.as_slice());
    let state: Vec<_> = states.unwrap_or_default().iter().filter(|reading| reading.state == State::Cover(id)).collect();
    Row {
        cover: format!("cover of {}", words::placed(&compiled.site, id)),
        told: match (zone, device.kind) {
            (Some(zone), _) => zone_of(compiled, zone),
            (None, DeviceKind::Wireless) => format!("{}, by its radio", teller(&compiled.site)),
            (None, _) => "nobody: its switch is in no loop".to_owned(),
        },
        is_told: zone.is_some() || device.kind == DeviceKind::Wireless,
        reads: shown(&state),
    }
}

/// The devices of a zone that is there for covers.
fn switches(compiled: &Compiled, id: Id<Zone>, zone: &Zone) -> Vec<Row> {
    let site = &compiled.site;
    let is_tamper = zone.is_of(ZoneType::Tamper);
    let watched = site.devices_of(id).filter(|(device, _)| {
        let senses = site.senses(*device);
        is_tamper || senses == Some(Senses::Tamper)
    });
    let states = compiled.loops.get(&id).map(|readings| readings.states.as_slice()).unwrap_or_default();
    let row = |(device, _): (Id<Device>, &Device)| {
        let state: Vec<_> = states.iter().filter(|reading| reading.state == State::Alarm(device)).collect();
        Row { cover: words::placed(site, device), told: zone_of(compiled, id), is_told: true, reads: shown(&state) }
    };
    watched.map(row).collect()
}

/// What tells of an open cover.
fn teller(site: &Site) -> &'static str {
    if site.keypads().next().is_some() { "the keypad" } else { "the board" }
}

fn zone_of(compiled: &Compiled, id: Id<Zone>) -> String {
    format!("zone {}", compiled.site.zones[id].number.value)
}

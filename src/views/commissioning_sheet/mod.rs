//! Commissioning sheet: what to look at, measure and try before the paper is signed, in an order that hurts nobody: what
//! is cold before what is powered, what is silent before what sounds. What is expected stands beside the blanks.
//!
//! The readings go into the as-built record afterwards (`loopwright readings`).

mod bus;
pub(super) mod cold;
mod covers;
pub(super) mod heard;
mod loops;
pub(super) mod power_up;
mod supplies;
mod trials;

use std::collections::BTreeSet;

use serde::Serialize;
use serde_json::Value;

use super::zone_descriptions::others::{self, OtherRow};
use super::{Document, Orientation, View, procedure, programming_sheet, value};
use crate::base::wording::list;
use crate::calc::as_built;
use crate::calc::meter::{meter_words, volts_shown_by_a_meter};
use crate::calc::sound::{Pattern, is_heard, pattern};
use crate::compiled::Compiled;
use crate::model::{Battery, Site};
use crate::terms::{Senses, ZoneType};
use crate::words::{self, Paper};

/// The commissioning sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "commissioning-sheet",
    title: "Commissioning sheet",
    about: "look, measure, try, sign, in this order; what is expected stands beside the blank where it can be calculated",
    orientation: Orientation::Portrait,
    template: crate::template!("commissioning-sheet"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Sheet {
    ohms_procedure: String,
    volts_procedure: &'static str,
    bus_procedure: String,
    on_procedure: String,
    sounders_off: String,
    meter: String,
    look: Vec<&'static str>,
    cold: Vec<cold::LoopRow>,
    insulation: String,
    lines: Vec<cold::SupplyRow>,
    bus_ohms: Vec<cold::BusRow>,
    power_up: Vec<power_up::Board>,
    loops: Vec<loops::Row>,
    remarks: Vec<loops::Remark>,
    covers: Vec<covers::Row>,
    bus: Vec<bus::Rows>,
    supplies: Vec<supplies::Row>,
    on_battery: Vec<supplies::OnBattery>,
    /// Panels without a battery, beside others that have one.
    off: String,
    wireless: Vec<trials::Wireless>,
    areas: Vec<trials::AreaRow>,
    walk: Vec<trials::Walk>,
    switched: Vec<trials::SwitchedRow>,
    sounders: Vec<trials::SounderRow>,
    fire: bool,
    carbon_monoxide: bool,
    /// Heading of what sounds steady; empty where nothing does.
    steady: String,
    /// True where heat detectors may serve but once.
    once: bool,
    resets: Vec<trials::Reset>,
    relays: Vec<trials::RelayRow>,
    /// Zones that confirm each other.
    confirming: Vec<String>,
    relay_procedure: String,
    heard: Vec<heard::Pair>,
    others: Vec<OtherRow>,
    keys: Vec<heard::KeyRow>,
    paths: Vec<String>,
    keypads: bool,
    alone: &'static str,
    cut: &'static str,
    batteries: Vec<BatteryRow>,
}

#[derive(Serialize)]
struct BatteryRow {
    board: String,
    battery: String,
    installed: String,
    /// Volts of the full battery on its charger; empty where nobody says.
    charged: String,
}

fn view(compiled: &Compiled) -> Value {
    let Compiled { site, power, .. } = compiled;
    value(&Sheet {
        ohms_procedure: procedure::told(site, procedure::LOOP_OHMS),
        volts_procedure: procedure::LOOP_VOLTS,
        bus_procedure: procedure::told(site, procedure::BUS_OHMS),
        on_procedure: procedure::told(site, procedure::BOARD_ON),
        sounders_off: procedure::told(site, procedure::SOUNDERS_OFF),
        meter: meter_words(),
        look: cold::look(compiled),
        cold: cold::loops(compiled),
        insulation: cold::insulation(),
        lines: cold::supplies(compiled),
        bus_ohms: cold::buses(compiled),
        power_up: power_up::boards(compiled),
        loops: site.zones.entries().filter_map(|(id, _)| loops::row(compiled, id)).collect(),
        remarks: site.zones.iter().filter_map(loops::remark).collect(),
        covers: covers::rows(compiled),
        bus: bus::rows(compiled),
        on_battery: supplies::on_battery(compiled),
        off: list(&site.panels_without_battery().map(|board| Paper.board(site, board)).collect::<Vec<_>>(), "and"),
        supplies: power.feedings.iter().flat_map(|feeding| supplies::rows(compiled, feeding)).collect(),
        wireless: site.zones.iter().filter_map(|zone| trials::wireless(compiled, zone)).collect(),
        areas: trials::areas(site),
        walk: site.zones.entries().filter_map(|(id, zone)| trials::walk(site, id, zone)).collect(),
        switched: site.circuits.entries().filter_map(|(id, _)| trials::switched(compiled, id)).collect(),
        sounders: trials::sounders(site),
        fire: is_heard(site, |kind| pattern(kind) == Some(Pattern::Fire)),
        carbon_monoxide: is_heard(site, |kind| pattern(kind) == Some(Pattern::CarbonMonoxide)),
        steady: steady(site),
        once: site
            .devices
            .iter()
            .any(|device| device.part.is_some_and(|part| site.parts[part].senses == Some(Senses::Heat))),
        resets: trials::resets(compiled),
        relays: trials::relays(compiled),
        confirming: programming_sheet::confirming(site).iter().map(programming_sheet::CrossRow::to_try).collect(),
        relay_procedure: procedure::relay_here(),
        heard: heard::zones(site),
        others: others::rows(compiled),
        keys: site.boards.entries().flat_map(|(id, board)| heard::keys(site, id, board)).collect(),
        keypads: site.keypads().next().is_some(),
        paths: site.communicators.iter().map(|line| line.title.clone()).collect(),
        alone: heard::ALONE,
        cut: heard::CUT,
        batteries: batteries(compiled),
    })
}

/// The heading of what sounds steady: "for a burglary and gas: steady"; empty where nothing does.
fn steady(site: &Site) -> String {
    let gas = is_heard(site, |kind| kind == ZoneType::Gas);
    let other = is_heard(site, |kind| kind != ZoneType::Gas && pattern(kind) == Some(Pattern::Other));
    let of: Vec<&str> =
        [("a burglary", other), ("gas", gas)].into_iter().filter(|(_, is)| *is).map(|(of, _)| of).collect();
    if of.is_empty() { String::new() } else { format!("for {}: steady", list(&of, "and")) }
}

/// The days on which the batteries of a board were put in, each once; one that is not known is a blank of its own.
fn installed(battery: &Battery) -> String {
    let day = |day: Option<jiff::civil::Date>| day.map_or_else(|| "not known".to_owned(), |day| day.to_string());
    let all = std::iter::once(battery.installed).chain(battery.others.iter().map(|other| other.installed));
    let days: BTreeSet<Option<jiff::civil::Date>> = all.collect();
    if days.iter().all(Option::is_none) {
        String::new()
    } else {
        days.into_iter().map(day).collect::<Vec<_>>().join(", ")
    }
}

fn batteries(compiled: &Compiled) -> Vec<BatteryRow> {
    let site = &compiled.site;
    let of_boards = site.boards.entries().filter_map(|(id, board)| {
        let battery = board.battery.as_ref()?;
        Some(BatteryRow {
            board: Paper.board(site, id),
            battery: words::battery(battery),
            installed: installed(battery),
            charged: as_built::float(site, &board.name.value)
                .map(volts_shown_by_a_meter)
                .map(|(least, most)| words::range(least.0, most.0, words::volts))
                .unwrap_or_default(),
        })
    });
    let of_devices = site.devices.entries().filter_map(|(id, device)| {
        let installed = device.own_battery()?;
        let (board, battery) = (words::placed(site, id), "its own".to_owned());
        Some(BatteryRow { board, battery, installed: installed.to_string(), charged: String::new() })
    });
    of_boards.chain(of_devices).collect()
}

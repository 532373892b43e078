//! Commissioning sheet: what to measure and try before the paper is signed, with what is expected and blanks.
//!
//! A row per zone and one per supply. The readings go into the as-built record afterwards (`loopwright readings`).

use serde::Serialize;
use serde_json::Value;

use super::{Document, Orientation, Reader, procedure, value};
use crate::base::Id;
use crate::calc::as_built::at_rest;
use crate::calc::meter::{meter_words, shown_by_a_meter, volts_shown_by_a_meter};
use crate::calc::power::{Consumer, Demand, Feeding, Supply};
use crate::calc::{LoopReadings, Spread, State, StateReading};
use crate::compiled::Compiled;
use crate::model::{Board, Circuit, DeviceKind, KeyInUse, Part, Site, Zone};
use crate::quantity::Volts;
use crate::terms::{Senses, SwitchContact, Works};
use crate::words::{self, Paper};

/// The commissioning sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "commissioning-sheet",
    title: "Commissioning sheet",
    readers: &[Reader::Installer],
    about: "measure, walk-test, sign; what is expected stands beside the blank where it can be calculated",
    orientation: Orientation::Landscape,
    template: crate::template!("commissioning-sheet"),
    view,
    table: None,
    drawings: None,
};

#[derive(Serialize)]
struct Sheet {
    ohms_procedure: String,
    on_procedure: String,
    volts_procedure: &'static str,
    relay_procedure: &'static str,
    meter: String,
    relays: bool,
    zones: Vec<Row>,
    wireless: Vec<Wireless>,
    supplies: Vec<SupplyRow>,
    batteries: Vec<BatteryRow>,
    paths: Vec<String>,
    remarks: Vec<Remark>,
    switched: Vec<SwitchedRow>,
    keys: Vec<KeyRow>,
}

/// An emergency key of a keypad.
#[derive(Serialize)]
struct KeyRow {
    keypad: String,
    key: &'static str,
}

/// What a relay or transistor switches.
#[derive(Serialize)]
struct SwitchedRow {
    output: String,
    drives: String,
    loads: String,
    happens: String,
}

/// What the spec has to say to the installer about a zone.
#[derive(Serialize)]
struct Remark {
    number: String,
    text: String,
}

#[derive(Serialize)]
struct Row {
    number: String,
    description: String,
    at: String,
    rest_ohms: String,
    rest_volts: String,
    alarm: String,
    to_try: String,
}

#[derive(Serialize)]
struct Wireless {
    number: String,
    description: String,
    detector: String,
    receiver: String,
}

#[derive(Serialize)]
struct SupplyRow {
    supply: String,
    at: String,
    mains: String,
    /// Empty to write the reading in; a dash where there is nothing to measure.
    mains_reading: &'static str,
    battery: String,
}

#[derive(Serialize)]
struct BatteryRow {
    board: String,
    battery: String,
    installed: String,
}

fn view(compiled: &Compiled) -> Value {
    let Compiled { site, power, .. } = compiled;
    let watches = |part: Id<Part>| site.parts[part].senses == Some(Senses::Supply);
    value(&Sheet {
        ohms_procedure: procedure::told(site, procedure::LOOP_OHMS),
        on_procedure: procedure::told(site, procedure::BOARD_ON),
        volts_procedure: procedure::LOOP_VOLTS,
        relay_procedure: procedure::RELAY,
        meter: meter_words(),
        relays: site.devices.iter().any(|device| device.zone.is_some() && device.part.is_some_and(watches)),
        zones: site.zones.entries().filter_map(|(id, _)| row(compiled, id)).collect(),
        wireless: site.zones.iter().filter_map(|zone| wireless(compiled, zone)).collect(),
        supplies: power.feedings.iter().flat_map(|feeding| supplies(compiled, feeding)).collect(),
        batteries: site
            .boards
            .entries()
            .filter_map(|(id, board)| {
                let battery = board.battery.as_ref()?;
                Some(BatteryRow {
                    board: Paper.board(site, id),
                    battery: words::battery(battery),
                    installed: battery.installed.map(|day| day.to_string()).unwrap_or_default(),
                })
            })
            .chain(site.devices.entries().filter_map(|(id, device)| {
                let installed = device.own_battery()?;
                let (board, battery) = (words::placed(site, id), "its own".to_owned());
                Some(BatteryRow { board, battery, installed: installed.to_string() })
            }))
            .collect(),
        paths: site.communicators.iter().map(|line| line.title.clone()).collect(),
        remarks: site.zones.iter().filter_map(remark).collect(),
        keys: site.boards.entries().flat_map(|(id, board)| keys(site, id, board)).collect(),
        switched: site.circuits.entries().filter_map(|(id, _)| switched(compiled, id)).collect(),
    })
}

/// What must happen when a circuit's relay or transistor is driven, and what to beware of.
fn switched(Compiled { site, .. }: &Compiled, id: Id<Circuit>) -> Option<SwitchedRow> {
    let (of, switch, switching) = site.switched_by(&site.circuits[id])?;
    let happens = match (switching.contact, switching.dry) {
        (SwitchContact::Make, false) => "on for as long as it is driven",
        (SwitchContact::Break, false) => "off for as long as it is driven",
        (SwitchContact::Make, true) => "what joining its two terminals does",
        (SwitchContact::Break, true) => "what parting its two terminals does",
    };
    let mut happens = vec![happens.to_owned()];
    for (device, _) in site.devices_on(id) {
        let works = site.device_part(device).and_then(|part| part.works);
        if let Some(caution) = works.and_then(caution).filter(|caution| happens.iter().all(|said| said != caution)) {
            happens.push(caution.to_owned());
        }
    }
    Some(SwitchedRow {
        output: format!("{}: {}", Paper.board(site, of.board), words::contact(switch, switching)),
        drives: words::drives(site, switching),
        loads: words::hung(site, id),
        happens: happens.join(". "),
    })
}

fn keys(site: &Site, id: Id<Board>, board: &Board) -> Vec<KeyRow> {
    let row = |in_use: &KeyInUse| KeyRow { keypad: Paper.board(site, id), key: in_use.key.value.printed() };
    board.emergency_keys.iter().map(row).collect()
}

fn caution(works: Works) -> Option<&'static str> {
    match works {
        Works::Lock => {
            Some("Stay on the side that opens by hand, with the key; try it as well with the mains and the battery off")
        }
        Works::Operator => Some("Stand where you see the door, with nobody and nothing under it"),
        Works::Relay => Some("Its contact may carry mains: leave its box shut"),
        Works::Lamp | Works::Indicator | Works::Strobe | Works::Other => None,
    }
}

fn remark(zone: &Zone) -> Option<Remark> {
    zone.note.as_ref().map(|note| Remark { number: zone.number.value.to_string(), text: note.clone() })
}

fn row(compiled: &Compiled, id: Id<Zone>) -> Option<Row> {
    let Compiled { site, wiring, loops, .. } = compiled;
    let zone = &site.zones[id];
    zone.wired.as_ref()?;
    let readings = loops.get(&id);
    let rest = readings.and_then(|readings| readings.states.first());
    let devices = site.devices_of(id).map(|(_, device)| device).filter(|device| device.kind != DeviceKind::Wireless);
    Some(Row {
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        at: Paper.input(site, wiring, id),
        rest_ohms: rest
            .map(|rest| words::bounds(&[shown_by_a_meter(rest.ohms, true)], words::ohms))
            .unwrap_or_default(),
        rest_volts: rest
            .and_then(|rest| rest.volts)
            .map(|volts| words::bounds(&[shown_by_a_meter(volts, false)], words::volts))
            .unwrap_or_default(),
        alarm: readings.map(alarm).unwrap_or_default(),
        to_try: devices.map(|_| "☐").collect::<Vec<_>>().join(" "),
    })
}

/// What any one contact in alarm reads: volts where the board's sensing is known, else ohms.
fn alarm(readings: &LoopReadings) -> String {
    let states: Vec<&StateReading> =
        readings.states.iter().filter(|reading| matches!(reading.state, State::Alarm(_))).collect();
    let volts: Vec<Spread> =
        states.iter().filter_map(|state| state.volts).map(|volts| shown_by_a_meter(volts, false)).collect();
    let ohms: Vec<Spread> = states.iter().map(|state| shown_by_a_meter(state.ohms, true)).collect();
    match (ohms.is_empty(), volts.is_empty()) {
        (true, _) => String::new(),
        (_, false) => words::bounds(&volts, words::volts),
        (_, true) => words::bounds(&ohms, words::ohms),
    }
}

fn wireless(compiled: &Compiled, zone: &Zone) -> Option<Wireless> {
    let site = &compiled.site;
    let device = &site.devices[zone.wireless?];
    Some(Wireless {
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        detector: Paper.device(site, zone.wireless?),
        receiver: device.receiver.as_ref().map(|receiver| Paper.board(site, receiver.value)).unwrap_or_default(),
    })
}

/// The place of a supply that gets least on a tired battery in alarm, where one reading says most; and where that is off
/// at rest, the place that gets least of those that are not.
fn supplies(compiled: &Compiled, feeding: &Feeding) -> Vec<SupplyRow> {
    let least = |node: &usize| least_in_alarm(feeding, *node);
    let lowest = |at_rest: bool| {
        let loads = feeding.tree.loads().filter(|(node, _)| !at_rest || at_rest_volts(feeding, *node).is_some());
        let found = loads.filter_map(|(node, load)| Some((node, least(&node)?, load.consumer)));
        found.min_by(|one, other| one.1.0.total_cmp(&other.1.0)).map(|(node, _, consumer)| (node, consumer))
    };
    let mut places: Vec<(usize, Consumer)> = lowest(false).into_iter().chain(lowest(true)).collect();
    if places.first().is_some_and(|(node, _)| at_rest_volts(feeding, *node).is_some()) {
        places.truncate(1);
    }
    places.into_iter().map(|(node, consumer)| supply(compiled, feeding, node, consumer)).collect()
}

fn least_in_alarm(feeding: &Feeding, node: usize) -> Option<Volts> {
    let battery = feeding.volts(node, Supply::Battery, Demand::Alarm);
    battery.or_else(|| feeding.volts(node, Supply::Mains, Demand::Alarm)).map(|(hot, _)| hot)
}

fn at_rest_volts(feeding: &Feeding, node: usize) -> Option<(Volts, Volts)> {
    feeding.volts(node, Supply::Mains, Demand::Idle)
}

/// Nobody stands on a ladder beside a sounder while it sounds: its supply is measured at the board's terminals.
fn supply(compiled: &Compiled, feeding: &Feeding, node: usize, consumer: Consumer) -> SupplyRow {
    let site = &compiled.site;
    let source = Paper.source(site, feeding.tree.source);
    let (node, at) = if is_sounder(compiled, consumer) {
        (feeding.tree.outlet_node(node), format!("terminals of {}", Paper.source(site, feeding.tree.outlet_of(node))))
    } else {
        (node, Paper.consumer(site, consumer))
    };
    let said = |(least, greatest): (Volts, Volts)| words::range(least.0, greatest.0, words::volts);
    let battery = least_in_alarm(feeding, node).map(|volts| volts_shown_by_a_meter((volts, volts)).0);
    let mains = at_rest(feeding, node).map(volts_shown_by_a_meter).map(said);
    let is_off = mains.is_none() && feeding.volts(node, Supply::Mains, Demand::Alarm).is_some();
    let mains_reading = if is_off { "–" } else { "" };
    SupplyRow {
        supply: source,
        at,
        mains: mains.unwrap_or_else(|| mains_reading.to_owned()),
        mains_reading,
        battery: battery.map(|volts| format!("{volts} or more")).unwrap_or_default(),
    }
}

fn is_sounder(compiled: &Compiled, consumer: Consumer) -> bool {
    match consumer {
        Consumer::Device(device) => compiled.site.devices[device].kind == DeviceKind::Sounder,
        Consumer::Board(_) | Consumer::Hop(..) => false,
    }
}

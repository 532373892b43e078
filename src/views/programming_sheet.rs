//! Programming sheet: everything that must be keyed into the board, in the order in which most boards ask for it.
//!
//! Words are generic. A board's own numbers for its options are blanks, as are transmitters' codes. Codes of people,
//! of the installer and of the account are keyed in and written nowhere: there is only a box to tick.
//! The table beside it names zones, areas and outputs for what connects next.

mod connect;
pub(super) mod lines;
mod outputs;

use std::collections::BTreeSet;

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::{Document, Orientation, View, value};
use crate::base::wording::{list, numbers};
use crate::base::{Id, Spanned};
use crate::calc::{contacts, network};
use crate::compiled::Compiled;
use crate::model::{Area, Board, Communicator, CrossZones, KeyInUse, Monitoring, Site, Zone};
use crate::quantity::{Ohms, Seconds};
use crate::register::Wiring;
use crate::terms::{Format, LoopWiring, Word, ZoneType};
use crate::words::{self, Paper};

/// The programming sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "programming-sheet",
    title: "Programming sheet",
    about: "what is keyed into the board, in order, and how each is checked; its table names zones, areas and outputs for what connects next",
    orientation: Orientation::Portrait,
    template: crate::template!("programming-sheet"),
    view: View::Plain(view),
    table: Some(connect::table),
};

#[derive(Serialize)]
struct Sheet {
    areas: Vec<AreaRow>,
    /// The site has several buses: each has its own addresses.
    buses: bool,
    boards: Vec<BoardRow>,
    types: Vec<TypeRow>,
    zones: Vec<ZoneRow>,
    wireless: Vec<WirelessRow>,
    reserved: String,
    keys: Vec<KeyRow>,
    outputs: Vec<outputs::Row>,
    ways: Vec<WayRow>,
    format: &'static str,
    test_every: String,
    duress: bool,
}

/// An area and its delays.
#[derive(Serialize)]
struct AreaRow {
    #[serde(skip)]
    name: String,
    number: String,
    title: String,
    entry: String,
    exit: String,
    abort: String,
    trips: String,
    sounders: String,
    zones: String,
    cross_zones: Vec<CrossRow>,
}

/// Zones of an area that confirm each other.
#[derive(Serialize)]
pub(crate) struct CrossRow {
    zones: String,
    window: String,
}

/// A board on a bus.
#[derive(Serialize)]
struct BoardRow {
    #[serde(skip)]
    name: String,
    bus: String,
    address: String,
    title: String,
    kind: &'static str,
    room: String,
    inputs: String,
}

/// A type of zone that the site uses.
#[derive(Serialize)]
struct TypeRow {
    word: &'static str,
    does: &'static str,
    zones: String,
}

/// A zone with a loop.
#[derive(Serialize)]
struct ZoneRow {
    number: String,
    description: String,
    kind: String,
    area: String,
    at: String,
    wiring: String,
}

/// A zone with a wireless detector.
#[derive(Serialize)]
struct WirelessRow {
    number: String,
    description: String,
    kind: String,
    area: String,
    detector: String,
    receiver: String,
}

/// An emergency key of a keypad.
#[derive(Serialize)]
struct KeyRow {
    keypad: String,
    key: &'static str,
    number: String,
}

/// A way to the monitoring service.
#[derive(Serialize)]
struct WayRow {
    #[serde(skip)]
    name: String,
    title: String,
    over: &'static str,
    by: String,
    /// Within what time the service misses it; empty where it is not supervised.
    supervised: String,
}

fn view(compiled: &Compiled) -> Value {
    value(&sheet(&compiled.site, &compiled.wiring))
}

fn sheet(site: &Site, wiring: &Wiring) -> Sheet {
    let monitoring = site.monitoring.as_ref();
    let test_every = monitoring.and_then(Monitoring::test_interval);
    let keys = |(id, board): (Id<Board>, &Board)| {
        let row = |in_use: &KeyInUse| KeyRow {
            keypad: Paper.board(site, id),
            key: in_use.key.value.printed(),
            number: in_use.number.as_ref().map(|number| number.value.to_string()).unwrap_or_default(),
        };
        board.emergency_keys.iter().map(row).collect::<Vec<_>>()
    };
    Sheet {
        areas: areas(site),
        buses: site.buses.iter().count() > 1,
        boards: boards(site),
        types: types(site),
        zones: site.zones.entries().filter_map(|(id, _)| zone(site, wiring, id)).collect(),
        wireless: site.zones.iter().filter_map(|zone| wireless(site, zone)).collect(),
        reserved: reserved(site),
        keys: site.boards.entries().flat_map(keys).collect(),
        outputs: outputs::rows(site),
        ways: site.communicators.iter().map(|line| way(site, line)).collect(),
        format: monitoring
            .and_then(|monitoring| monitoring.format.as_ref())
            .map_or("", |format| format_words(format.value)),
        duress: monitoring.is_some_and(|monitoring| monitoring.duress),
        test_every: test_every.map(|every| every.to_string()).unwrap_or_default(),
    }
}

fn format_words(format: Format) -> &'static str {
    Format::WORDS.iter().find(|word| word.word == format.word()).map_or("", |word| word.doc)
}

fn areas(site: &Site) -> Vec<AreaRow> {
    let delay =
        |delay: &Option<Spanned<Seconds>>| delay.as_ref().map(|delay| delay.value.to_string()).unwrap_or_default();
    let row = |(id, area): (Id<Area>, &Area)| AreaRow {
        name: area.name.value.clone(),
        number: area.number.to_string(),
        title: area.title.clone(),
        entry: delay(&area.entry),
        exit: delay(&area.exit),
        abort: delay(&area.abort),
        trips: area.swinger_shutdown.as_ref().map(|trips| trips.value.to_string()).unwrap_or_default(),
        sounders: delay(&area.sounder_cut_off),
        zones: numbers_of(site.zones_in_use().map(|(_, zone)| zone).filter(|zone| zone.area == Some(id))),
        cross_zones: area.cross_zones.iter().map(cross_row).collect(),
    };
    site.areas_by_number().into_iter().map(row).collect()
}

/// The zones of all areas that confirm each other.
pub(crate) fn confirming(site: &Site) -> Vec<CrossRow> {
    site.areas.iter().flat_map(|area| &area.cross_zones).map(cross_row).collect()
}

fn cross_row(cross: &CrossZones) -> CrossRow {
    CrossRow {
        zones: numbers(&cross.zones.iter().map(|zone| zone.value).collect::<Vec<_>>()),
        window: cross.window.map(|window| window.to_string()).unwrap_or_default(),
    }
}

impl CrossRow {
    /// The numbers of the zones.
    pub(crate) fn zones(&self) -> &str {
        &self.zones
    }

    /// How that is tried.
    pub(crate) fn to_try(&self) -> String {
        let Self { zones, window } = self;
        let within = if window.is_empty() { String::new() } else { format!(" within {window}") };
        format!("Zones {zones} confirm each other, one alone is no alarm: trip one and then another{within}")
    }
}

fn numbers_of<'z>(zones: impl Iterator<Item = &'z Zone>) -> String {
    numbers(&zones.map(|zone| zone.number.value).collect::<Vec<_>>())
}

/// "zone 8", "zones 8 and 9"; empty where no number is kept for later.
fn reserved(site: &Site) -> String {
    let kept: Vec<&Zone> = site.zones.iter().filter(|zone| zone.reserved.is_some()).collect();
    match kept.len() {
        0 => String::new(),
        one_or_more => format!("{} {}", if one_or_more == 1 { "zone" } else { "zones" }, numbers_of(kept.into_iter())),
    }
}

/// The boards on a bus in the order of their addresses.
fn boards(site: &Site) -> Vec<BoardRow> {
    let mut boards: Vec<(Id<Board>, &Board)> =
        site.boards.entries().filter(|(_, board)| board.kind.hangs_on_bus()).collect();
    let bus = |board: &Board| board.bus.map(|(bus, _)| site.buses[bus].name.value.clone()).unwrap_or_default();
    boards.sort_by(|(_, one), (_, other)| {
        let address = |board: &Board| board.address.as_ref().map_or(u32::MAX, |address| address.value);
        let place = |board: &Board| (bus(board), address(board));
        place(one).cmp(&place(other)).then_with(|| natural(&one.title, &other.title))
    });
    let row = |(id, board): (Id<Board>, &Board)| BoardRow {
        name: board.name.value.clone(),
        bus: bus(board),
        address: board.address.as_ref().map(|address| address.value.to_string()).unwrap_or_default(),
        title: Paper.board(site, id),
        kind: board.kind.noun(),
        room: words::room(site, board.room),
        inputs: inputs(site, id, board),
    };
    boards.into_iter().map(row).collect()
}

/// How the panel counts the inputs of a board: "17 to 28"; empty for a board that has none.
fn inputs(site: &Site, id: Id<Board>, board: &Board) -> String {
    let mut known: Vec<u32> = site.known_inputs(id).map(|(known, _)| known).collect();
    known.sort_unstable();
    match board.kind.inputs_from() {
        None if !known.is_empty() => "(the sheets of both say which)".to_owned(),
        Some(first) if known.is_empty() => format!("from {first}"),
        _ => numbers(&known),
    }
}

fn types(site: &Site) -> Vec<TypeRow> {
    let is_of = |zone: &&Zone, kind: ZoneType| zone.kind.as_ref().is_some_and(|of| of.value == kind);
    let row = |(kind, word): (&ZoneType, &Word)| {
        let zones = numbers_of(site.zones_in_use().map(|(_, zone)| zone).filter(|zone| is_of(zone, *kind)));
        (!zones.is_empty()).then_some(TypeRow { word: word.word, does: word.doc, zones })
    };
    ZoneType::ALL.iter().zip(ZoneType::WORDS).filter_map(row).collect()
}

fn kind(zone: &Zone) -> String {
    let kind = zone.kind.as_ref().map_or("", |kind| kind.value.word());
    let action = zone.action.as_ref().map(|action| format!(", {}", action.value.word()));
    let waits = zone.follows.then(|| ", waits".to_owned());
    [Some(kind.to_owned()), action, waits].into_iter().flatten().collect()
}

fn area(site: &Site, zone: &Zone) -> String {
    site.area_of(zone).map_or_else(|| "none".to_owned(), |area| area.number.to_string())
}

/// The input of a zone, with the number by which the panel knows it where that is another: "Expander, input 3, the panel's 19".
fn input(site: &Site, wiring: &Wiring, id: Id<Zone>) -> String {
    let board = site.zones[id].wired.as_ref().and_then(|wired| wired.board.as_ref());
    let own = wiring.inputs.of_zone.get(&id).copied();
    let known = board
        .zip(own)
        .and_then(|(board, own)| site.known_inputs(board.value).find(|(known, input)| *input == own && *known != own));
    let known = known.map(|(known, _)| format!(", the panel's {known}")).unwrap_or_default();
    format!("{}{known}", Paper.input(site, wiring, id))
}

fn zone(site: &Site, wiring: &Wiring, id: Id<Zone>) -> Option<ZoneRow> {
    let zone = &site.zones[id];
    let wired = zone.wired.as_ref()?;
    Some(ZoneRow {
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        kind: kind(zone),
        area: area(site, zone),
        at: input(site, wiring, id),
        wiring: wired.wiring.as_ref().map(|wiring| supervision(site, id, wiring.value)).unwrap_or_default(),
    })
}

/// How a loop is supervised, with the resistors that the input must be set for.
fn supervision(site: &Site, zone: Id<Zone>, wiring: LoopWiring) -> String {
    // What the board sees at rest: halves at the ends of two cables are one resistor for it.
    let at_rest = network::of_zone(site, zone).map(|network| {
        network.resistors_alone(&|device, which| contacts::is_closed(site, (device, which), &BTreeSet::new()))
    });
    let mut said = vec![wiring.word().replace('-', " ")];
    said.extend(at_rest.filter(|ohms| *ohms > 0.0 && ohms.is_finite()).map(|ohms| Ohms(ohms).to_string()));
    let shunts = site.devices_of(zone).filter_map(|(_, device)| device.shunt.as_ref());
    let mut shunts: Vec<String> = shunts.map(|shunt| shunt.value.nominal.to_string()).collect();
    shunts.sort_by(|one, other| natural(one, other));
    shunts.dedup();
    match shunts.as_slice() {
        [] => {}
        [one] => said.push(format!("{one} at each contact")),
        several => said.push(format!("{} at the contacts", list(several, "and"))),
    }
    said.join(", ")
}

fn wireless(site: &Site, zone: &Zone) -> Option<WirelessRow> {
    let device = &site.devices[zone.wireless?];
    Some(WirelessRow {
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        kind: kind(zone),
        area: area(site, zone),
        detector: Paper.device(site, zone.wireless?),
        receiver: device.receiver.as_ref().map(|receiver| Paper.board(site, receiver.value)).unwrap_or_default(),
    })
}

fn way(site: &Site, line: &Communicator) -> WayRow {
    let board = line.starts_at().map(|board| Paper.board(site, board));
    let hops: Vec<&str> = line.hops.iter().map(|hop| hop.name.value.as_str()).collect();
    let hops = (!hops.is_empty()).then(|| format!("through {}", list(&hops, "and")));
    WayRow {
        name: line.name.value.clone(),
        title: line.title.clone(),
        over: line.path.as_ref().map_or("", |path| path.value.word()),
        by: board.into_iter().chain(hops).collect::<Vec<_>>().join(", "),
        supervised: line.supervised_every.as_ref().map(|every| every.value.to_string()).unwrap_or_default(),
    }
}

//! Bus sheet: the order along the cable, what lies across the data pair, and what a meter shows at each place.
//!
//! The drawing is the cable as it lies; the first table says what is where, the second what to measure standing
//! there. Out of scope: which conductor is under which screw, which is on the terminal schedule.

mod drawing;
mod line;
pub(super) mod measure;
pub(crate) mod places;
mod summary;

pub(crate) use places::row_link;
pub(super) use summary::of as summary;

use serde::Serialize;
use serde_json::Value;

use super::{Document, Drawings, Orientation, Shown, View, procedure, value};
use crate::base::Id;
use crate::calc::bus::BusFigures;
use crate::compiled::Compiled;
use crate::model::{Bus, Owner};
use crate::register::{Cable, End};
use crate::words::{self, Paper};

use measure::{Fault, Meter};
use places::Place;
use summary::Figure;

/// The bus sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "bus-sheet",
    title: "Bus sheet",
    about: "order along each data bus, addresses, terminators, bias, volts at each module",
    orientation: Orientation::Portrait,
    template: crate::template!("bus-sheet"),
    view: View::Drawn(view),
    table: Some(places::table),
};

#[derive(Serialize)]
struct Sheet {
    /// True where some bus has a pair to measure; of no bus too, for the head is the same.
    differential: bool,
    /// True where a monitoring service hears what is done.
    reports: bool,
    ohms_procedure: String,
    buses: Vec<BusSheet>,
}

#[derive(Serialize)]
struct BusSheet {
    name: String,
    start: String,
    /// False where the figures of TIA-485-A do not hold.
    differential: bool,
    /// True where all is known that the figures need.
    computed: bool,
    /// The drawings of its line.
    drawings: Vec<Shown>,
    /// Head of the column of lengths: "ft" or "m".
    unit: &'static str,
    places: Vec<Place>,
    figures: Vec<Figure>,
    shields: Vec<ShieldRow>,
    /// Where the meter stands for the resistances: the two ends.
    first_end: String,
    last_end: String,
    faults: Vec<Fault>,
    meter: Vec<Meter>,
}

/// The shield of a cable of the bus, and what becomes of it at its two ends.
#[derive(Serialize)]
struct ShieldRow {
    cable: String,
    what: &'static str,
    near: String,
    far: String,
}

/// The shields of a bus's cables, in the order of the runs.
fn shields(compiled: &Compiled, bus: Id<Bus>) -> Vec<ShieldRow> {
    let Compiled { site, wiring, .. } = compiled;
    let cables = wiring.cables.iter().filter(|cable| site.runs[cable.run].owner == Owner::Bus(bus));
    let row = |cable: &Cable| ShieldRow {
        cable: cable.label.clone(),
        what: words::shield(site, cable),
        near: words::shield_end(site, wiring, cable, End::Near),
        far: words::shield_end(site, wiring, cable, End::Far),
    };
    cables.filter(|cable| cable.shield.is_some()).map(row).collect()
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    value(&Sheet {
        differential: compiled.site.buses.is_empty() || compiled.site.buses.iter().any(|bus| bus.differential),
        reports: !compiled.site.communicators.is_empty(),
        ohms_procedure: procedure::told(&compiled.site, procedure::BUS_OHMS),
        buses: compiled.site.buses.entries().map(|(id, bus)| sheet(compiled, id, bus, drawings)).collect(),
    })
}

fn sheet(compiled: &Compiled, id: Id<Bus>, bus: &Bus, drawings: &mut Drawings) -> BusSheet {
    let site = &compiled.site;
    let board = bus.board.as_ref().map(|board| Paper.board(site, board.value));
    let port = bus.board.as_ref().and_then(|board| site.bus_port(id, board.value));
    let port = port.map(|port| format!("terminals {}, {}, {}, {}", port.plus, port.minus, port.a, port.b));
    let rate = Some(bus.rate.as_ref().map_or("rate not written".to_owned(), |rate| rate.value.to_string()));
    let start = board.into_iter().chain(port).chain(rate).collect::<Vec<_>>().join(", ");
    let figures = compiled.buses.get(&id);
    let of = |end: fn(&BusFigures) -> usize| {
        figures.map(|figures| places::title(compiled, figures, end(figures))).unwrap_or_default()
    };
    BusSheet {
        name: bus.name.value.clone(),
        start,
        differential: bus.differential,
        computed: figures.is_some(),
        drawings: drawings.show(drawing::of(compiled, id)),
        unit: site.lengths.symbol(),
        places: figures.map(|figures| places::of(compiled, figures)).unwrap_or_default(),
        figures: figures.map(|figures| summary::of(compiled, bus, figures)).unwrap_or_default(),
        shields: shields(compiled, id),
        first_end: of(|figures| figures.layout.ends().0),
        last_end: of(|figures| figures.layout.ends().1),
        faults: figures.map(|figures| measure::faults(compiled, figures)).unwrap_or_default(),
        meter: figures.map(|figures| measure::meter(compiled, figures)).unwrap_or_default(),
    }
}

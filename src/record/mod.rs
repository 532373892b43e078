//! The one record of a site: every thing with its fields, each with its name, its value, its unit and what it means.
//!
//! It is written as `site.json` (for whatever the owner connects next) and told to the comparison of two sites, which
//! sees its facts. Every struct of the model is taken apart here without `..`: a field that is added to the model does not
//! compile until it has a place here, or a word on why it needs none. Spans and marks of "was reported" need none.
//!
//! The names are those of the format, not of the model: within a version of the format fields may be added, none is
//! renamed or removed. Units: metre, ohm, volt, ampere, ampere-hour, volt-ampere, second; the name of a field says which,
//! but for lengths. What is not given is left out; null is said of what has no number, as a cut cable's ohms. References
//! are by the names of the spec, by zone number and by label, so they outlive a reordering.
//!
//! What is calculated ([`figures`]) stands with what it is of, and is no fact. Out of scope: secrets and personal data.
//! The spec holds none, so none can come out.

pub(crate) mod areas;
pub(crate) mod boards;
pub(crate) mod cables;
pub(crate) mod chain;
pub(crate) mod dead;
pub(crate) mod devices;
pub(crate) mod events;
pub(crate) mod figures;
pub(crate) mod item;
pub(crate) mod lines;
pub(crate) mod measured;
pub(crate) mod names;
pub(crate) mod number;
pub(crate) mod parts;
pub(crate) mod places;
pub(crate) mod ports;
pub(crate) mod service;
mod switching;
mod two_wire;
pub(crate) mod zones;

pub use item::{Atom, Value};

/// The things of the record, for the names of their facts in a comparison: `fact::Zone::area`.
pub(crate) mod fact {
    pub(crate) use super::boards::{Battery, Board, Transformer};
    pub(crate) use super::cables::{Conductor, Place, Run};
    pub(crate) use super::devices::Device;
    pub(crate) use super::lines::Bus;
    pub(crate) use super::zones::{Loop, Zone};
}
pub(crate) use item::{Fields, Item};
pub(crate) use names::number;
pub use names::{Kind, Names, Subject};

use crate::base::digest;
use crate::compiled::Compiled;
use crate::model::{self, Site};
use crate::quantity::{Metres, Seconds};
use crate::terms::{Framing, LabelGrid, PaperSize, Profile};

use areas::Area;
use boards::Board;
use cables::{Cable, CableType, Conduit, Run};
use dead::DeadCable;
use events::{Event, Handled};
use figures::findings::{self, Finding};
use figures::growth::{self, Growth};
use figures::power::{self, BoardPower};
use figures::{buses, states};
use item::{Printed, Title, record};
use lines::{Bus, Circuit, Communicator, Spare};
use measured::Measured;
use parts::Part;
use places::Level;
use service::{Accepted, Monitoring, Prices};
use zones::Zone;

/// The value of `format`.
pub(crate) const FORMAT: &str = "loopwright-site";
/// The value of `version`.
pub(crate) const VERSION: u32 = 2;

record! {
    /// A house's alarm wiring, as written by loopwright.
    ///
    /// New in version 2: everything that the spec says. Besides: what a part needs of its supply is written like a load's
    /// (`idle`, `alarm`, each in amperes or watts); `shunt` is a resistor with its tolerance; of a bus, ohms without
    /// bound are null beside their neighbours.
    Record {
        /// Always "loopwright-site".
        #[schemars(extend("const" = FORMAT))]
        format: &'static str,
        /// Version of the format. Fields may be added within a version; a reader ignores those that it does not know.
        #[schemars(extend("const" = VERSION))]
        version: u32,
        /// Short name of the site.
        name: String => "name",
        /// Name for people.
        title: Title => "title",
        /// What stands before a zone's number on the cables of its loop, where it is not Z.
        label_prefix: Option<String> => "label prefix",
        /// The unit in which lengths are printed: "ft" or "m". Here they are in metres.
        lengths: &'static str => "printed lengths",
        /// The state of the spec that this belongs to.
        revision: Option<Revision> => "",
        /// The set of published limits that the site is held against.
        profile: Option<&'static str> => "profile",
        /// Year of the edition that has been adopted.
        edition: Option<u32> => "edition",
        /// Facts of the house.
        building: Building => "",
        /// Levels with their rooms and openings, by name.
        levels: Vec<Level>,
        /// Parts in use, by name.
        parts: Vec<Part>,
        /// Types of cable in use, by name.
        cable_types: Vec<CableType>,
        /// Panels, keypads, modules, receivers and strips, by name.
        boards: Vec<Board>,
        /// Cables as pulled.
        cables: Vec<Cable>,
        /// Cables in the wall that the spec no longer has, by label.
        dead_cables: Vec<DeadCable>,
        /// Runs of which no cable is known; none in a packet.
        #[serde(skip)]
        loose: Vec<Run>,
        /// Areas, by name.
        areas: Vec<Area>,
        /// Zones, by number.
        zones: Vec<Zone>,
        /// Data buses, by name.
        buses: Vec<Bus>,
        /// Powered circuits, by name.
        circuits: Vec<Circuit>,
        /// Cables pulled for later, by name.
        spare_cables: Vec<Spare>,
        /// Ways to the monitoring service, by name.
        communicators: Vec<Communicator>,
        /// Conduits with the cables in them, by title.
        conduits: Vec<Conduit> => "conduit",
        /// What the monitoring service's form wants.
        monitoring: Option<Monitoring>,
        /// Every event that the site can report, as far as its boards send it: zones by number, keys, equipment, people.
        events: Vec<Event>,
        /// What the service is to do, by group of events.
        event_handling: Vec<Handled>,
        /// What comes due again and again.
        upkeep: Upkeep => "",
        /// The paper that the labels are printed on, where the spec says so.
        label_sheet: Option<LabelSheet> => "",
        /// What a firm adds to the paper.
        house_style: Option<HouseStyle> => "",
        /// What things cost, as the spec gives it.
        prices: Option<Prices> => "",
        /// Findings that the site accepts, in the order of the source.
        accepted: Vec<Accepted>,
        /// What was measured, by day.
        measured: Vec<Measured>,
        /// Boards with a supply of their own, by name: what they give, what arrives, how long they last.
        power: Vec<BoardPower>,
        /// How much is left of what may fill up: boards by name, then buses.
        growth: Vec<Growth>,
        /// What the compiler found, in the order of the source.
        findings: Vec<Finding>,
    }

    /// What a firm adds to the paper.
    HouseStyle {
        /// Who is responsible for the documents.
        firm: Option<String> => "firm",
        /// What stands at the head of every sheet.
        note: Option<String> => "note on every sheet",
        /// Colour of headings, as #rrggbb.
        accent: Option<String> => "accent",
        /// Path of its picture in the site's folder.
        logo: Option<String> => "logo",
        /// Digest of the picture.
        logo_digest: Option<String> => "logo's content",
    }

    /// The state of the spec.
    Revision {
        /// Letter or number.
        mark: String => "revision",
        /// Its day, as year-month-day.
        date: Option<Printed<jiff::civil::Date>> => "date",
        /// What changed.
        note: Option<String> => "note",
    }

    /// What comes due again and again.
    Upkeep {
        /// How often the owner tests, in seconds.
        test_every_seconds: Option<Seconds> => "tested every",
        /// How often detectors are cleaned and batteries tried, in seconds.
        clean_every_seconds: Option<Seconds> => "cleaned every",
        /// The last day of the alarm permit, as year-month-day.
        permit_ends: Option<Printed<jiff::civil::Date>> => "permit ends",
    }

    /// Paper with labels, by its geometry; what is left out is as on the grid.
    LabelSheet {
        /// A common form: labels across and down, and the paper.
        grid: Option<&'static str> => "grid of labels",
        /// The paper, upright: "letter" or "a4".
        paper: Option<&'static str> => "paper of labels",
        /// Labels beside one another.
        columns: Option<u32> => "labels across",
        /// Labels below one another.
        rows: Option<u32> => "labels down",
        /// Width of one label in metres.
        width: Option<Metres> => "width of a label",
        /// Height of one label in metres.
        height: Option<Metres> => "height of a label",
        /// From the paper's left edge to the first label in metres.
        left: Option<Metres> => "labels from the left",
        /// From the paper's upper edge to the first label in metres.
        top: Option<Metres> => "labels from the top",
        /// From a label's left edge to that of the next in metres.
        across: Option<Metres> => "from label to label across",
        /// From a label's upper edge to that of the next in metres.
        down: Option<Metres> => "from label to label down",
        /// Height of the printed zone of a wrap with a clear tail in metres.
        printed: Option<Metres> => "printed zone of a label",
        /// Labels that are gone from the first sheet.
        used: u32 => "labels used",
        /// True where each label has a code.
        code: bool => "code on labels",
    }

    /// Facts of the house.
    Building {
        /// Year of the oldest part.
        built: Option<i64> => "built",
        /// What walls and floors are made of.
        framing: Option<&'static str> => "framing",
    }
}

impl LabelSheet {
    fn of(sheet: &model::LabelSheet) -> Self {
        let model::LabelSheet {
            grid,
            paper,
            columns,
            rows,
            width,
            height,
            left,
            top,
            across,
            down,
            printed,
            used,
            code,
        } = sheet;
        Self {
            grid: grid.map(LabelGrid::word),
            paper: paper.map(PaperSize::word),
            columns: *columns,
            rows: *rows,
            width: *width,
            height: *height,
            left: *left,
            top: *top,
            across: *across,
            down: *down,
            printed: *printed,
            used: *used,
            code: *code,
        }
    }
}

impl HouseStyle {
    fn of(style: &model::HouseStyle) -> Option<Self> {
        let model::HouseStyle { firm, note, accent, logo } = style;
        (*style != model::HouseStyle::default()).then(|| Self {
            firm: firm.clone(),
            note: note.clone(),
            accent: accent.map(|[red, green, blue]| format!("#{red:02x}{green:02x}{blue:02x}")),
            logo: logo.as_ref().map(|logo| logo.path.clone()),
            logo_digest: logo.as_ref().map(|logo| digest(logo.bytes.iter().copied())),
        })
    }
}

impl Record {
    /// The record of a site with its wiring, all parts and types of cable included; without what is calculated.
    pub fn of(names: &Names<'_>) -> Self {
        let Site {
            name,
            title,
            label_prefix,
            lengths,
            revision,
            profile,
            edition,
            building: model::Building { built, framing },
            levels: _, // from here on by their own modules
            rooms: _,
            openings: _,
            parts: _,
            cables: _,
            boards: _,
            areas: _,
            zones: _,
            buses: _,
            circuits: _,
            spares: _,
            communicators: _,
            devices: _,
            runs: _,
            conduits,
            monitoring,
            upkeep: model::Upkeep { test_every, clean_every, permit_ends },
            label_sheet,
            house_style,
            prices,
            measured,
            accepts,
            complete: _, // marks of "was reported"
            sound: _,
            index: _, // found in the others
        } = names.site;
        Self {
            format: FORMAT,
            version: VERSION,
            name: name.value.clone(),
            title: Title::new(title, &name.value),
            label_prefix: label_prefix.clone(),
            lengths: lengths.symbol(),
            revision: revision.as_ref().map(|model::Revision { mark, date, note }| Revision {
                mark: mark.clone(),
                date: date.map(|date| Printed(date.value)),
                note: note.clone(),
            }),
            profile: profile.map(Profile::word),
            edition: *edition,
            building: Building { built: *built, framing: framing.map(Framing::word) },
            levels: places::levels(names),
            parts: parts::parts(names),
            cable_types: cables::types(names),
            boards: boards::boards(names),
            cables: cables::cables(names),
            dead_cables: dead::cables(names),
            loose: cables::without_cable(names),
            areas: areas::areas(names),
            zones: zones::zones(names),
            buses: lines::buses(names),
            circuits: lines::circuits(names),
            spare_cables: lines::spares(names),
            communicators: lines::communicators(names),
            conduits: conduits.iter().map(|conduit| Conduit::of(names, conduit)).collect(),
            monitoring: monitoring.as_ref().map(Monitoring::of),
            events: Vec::new(),
            event_handling: Vec::new(),
            upkeep: Upkeep {
                test_every_seconds: *test_every,
                clean_every_seconds: *clean_every,
                permit_ends: permit_ends.map(|day| Printed(day.value)),
            },
            house_style: HouseStyle::of(house_style),
            label_sheet: label_sheet.as_ref().map(|sheet| LabelSheet::of(&sheet.value)),
            prices: Some(Prices::of(prices)).filter(|prices| prices.currency.is_some() || !prices.list.is_empty()),
            accepted: accepts.iter().map(Accepted::of).collect(),
            measured: measured.iter().map(Measured::of).collect(),
            power: Vec::new(),
            growth: Vec::new(),
            findings: Vec::new(),
        }
    }

    /// The record with what is calculated of it; of parts and types of cable, those in use.
    pub(crate) fn with_figures(compiled: &Compiled) -> Self {
        let site = &compiled.site;
        let names = Names::of(site, &compiled.wiring);
        let mut record = Self::of(&names);
        record.parts.retain(|part| part.count > 0);
        record.cable_types.retain(|kind| kind.count > 0);
        for (zone, (id, _)) in record.zones.iter_mut().zip(site.zones.entries()) {
            if let Some(wired) = &mut zone.wired {
                wired.states = states::states(&names, compiled.loops.get(&id));
            }
        }
        for (bus, (id, of)) in record.buses.iter_mut().zip(site.buses.entries()) {
            bus.figures = buses::figures(&names, compiled, id, of);
        }
        record.events = events::events(&names, compiled);
        record.event_handling = events::handled(compiled);
        record.power = power::power(&names, compiled);
        record.growth = growth::growth(&names, compiled);
        record.findings = findings::findings(&compiled.findings);
        record
    }
}

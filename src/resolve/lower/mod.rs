//! Readings → model, topic by topic, in an order in which every reference finds its table filled.

mod areas;
mod boards;
mod chains;
mod communication;
mod house_style;
mod parts;
mod places;
mod readings;
mod switching;
mod two_wire;
mod zones;

pub(crate) use chains::{MOST_RUNS, MOST_THINGS};

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Arena, Id, Span, Spanned};
use crate::diag::Sink;
use crate::model::index::Index;
use crate::model::{
    Accept, Area, Board, Building, CableType, Device, HopRef, HouseStyle, LabelSheet, Opening, Part, Price, Prices,
    Revision, Room, Run, Site, Upkeep,
};
use crate::quantity::print::LengthUnit;
use crate::quantity::{Metres, Seconds};
use crate::schema::{Names as NameKind, Reading};
use crate::terms::{Framing, LabelGrid, LengthWord, PaperSize, Profile};

use super::load::FileSource;
use super::names::{Names, Table};
use super::{FileReadings, not_included, rules, unknown};

/// A top-level reading and whether it stands in the shared parts folder.
type Top<'r> = (&'r Reading, bool);

/// The state of lowering: the site as it grows, the tables of names, the diagnostics.
pub(super) struct Lower<'s> {
    site: Site,
    names: Names,
    rooms: Table<Room>,
    openings: Table<Opening>,
    parts: Table<Part>,
    cables: Table<CableType>,
    boards: Table<Board>,
    /// Every board by the place of its name: of two with one name each has its own.
    board_at: BTreeMap<Span, Id<Board>>,
    areas: Table<Area>,
    devices: Table<Device>,
    runs: Table<Run>,
    /// Powered devices on the ways to the monitoring service, by their names.
    hops: BTreeMap<String, HopRef>,
    /// Runs with `along=`, to be joined once all runs are known.
    shared_cables: Vec<(Id<Run>, Spanned<String>)>,
    /// Boards of which it was told that they have no outputs: once is enough.
    told_without_outputs: BTreeSet<Id<Board>>,
    sink: &'s mut Sink,
}

/// Lowers all readings of a site; `None` where it has no `site` node.
pub(crate) fn lower(
    files: &[FileReadings],
    names: Names,
    source: &dyn FileSource,
    included: &BTreeSet<String>,
    sink: &mut Sink,
) -> Option<Site> {
    let tops = files.iter().flat_map(|file| file.readings.iter().map(|reading| (reading, file.shared)));
    let tops: Vec<Top<'_>> = tops.filter(|(reading, shared)| !(*shared && names.replaced(reading))).collect();
    for node in ["site", "monitoring", "upkeep", "label-sheet", "house-style", "prices"] {
        let mut found = tops.iter().filter(|(reading, _)| reading.spec.name == node);
        if let (Some((first, _)), Some((second, _))) = (found.next(), found.next()) {
            sink.push(rules::top_level_repeated(node, first.name_span, second.name_span));
        }
    }
    let Some(head) = once(&tops, "site") else {
        if !names.doubtful("site") {
            sink.push(rules::site_missing());
        }
        return None;
    };
    let mut lower = Lower {
        site: head_of(head),
        names,
        rooms: Table::new(NameKind::Room),
        openings: Table::new(NameKind::Opening),
        parts: Table::new(NameKind::Part),
        cables: Table::new(NameKind::Cable),
        boards: Table::new(NameKind::Board),
        board_at: BTreeMap::new(),
        areas: Table::new(NameKind::Area),
        devices: Table::new(NameKind::Device),
        runs: Table::new(NameKind::Run),
        hops: BTreeMap::new(),
        shared_cables: Vec::new(),
        told_without_outputs: BTreeSet::new(),
        sink,
    };
    lower.places(&tops);
    lower.part_sheets(&tops);
    lower.cable_types(&tops);
    lower.board_list(&tops);
    lower.area_list(&tops);
    lower.zone_list(&tops);
    lower.bus_list(&tops);
    lower.communicator_list(&tops);
    lower.circuit_list(&tops);
    lower.spare_list(&tops);
    lower.communicator_runs(&tops);
    lower.transformer_list(&tops);
    lower.join_shared_cables();
    lower.conduit_list(&tops);
    lower.upkeep(&tops);
    lower.label_sheet(&tops);
    lower.house_style(&tops, source);
    lower.prices(&tops);
    lower.measured_list(&tops);
    lower.accept_list(&tops);
    let behind_site = head.span.behind();
    unknown::report(&lower.names, source, included, behind_site, lower.sink);
    lower.site.complete = lower.names.complete();
    lower.site.sound = lower.site.complete && !lower.sink.has_errors();
    if lower.site.sound {
        for path in not_included::left_out(source, included) {
            lower.sink.push(rules::file_left_out(&path, head.span, behind_site));
        }
        for kind in [NameKind::Part, NameKind::Cable, NameKind::Area] {
            for (name, span) in lower.names.unused(kind) {
                lower.sink.push(rules::unused_name(kind, name, span));
            }
        }
        let boxes = || lower.site.boards.iter().filter(|board| board.kind.joined().is_some());
        for (name, span) in lower.names.unused(NameKind::Board) {
            if boxes().any(|one| one.name.value == name) {
                lower.sink.push(rules::unused_box(name, span));
            }
        }
    }
    lower.site.index = Index::of(&lower.site);
    Some(lower.site)
}

/// The reading of a node that stands once; of several, which are told, the first.
fn once<'r>(tops: &[Top<'r>], node: &str) -> Option<&'r Reading> {
    tops.iter().map(|(reading, _)| *reading).find(|reading| reading.spec.name == node)
}

/// The readings of one node name in canonical order of `field`, or of the source where that is absent.
fn sorted<'r>(tops: &[Top<'r>], node: &str, field: &str) -> Vec<Top<'r>> {
    let mut found: Vec<Top<'r>> = tops.iter().filter(|(reading, _)| reading.spec.name == node).copied().collect();
    found.sort_by_cached_key(|(reading, _)| (name_of(reading, field), reading.span));
    found
}

fn name_of(reading: &Reading, field: &str) -> String {
    reading.text(field).map(|name| name.value).unwrap_or_default()
}

/// The title, or the name where no title is given.
fn title_of(reading: &Reading, name: &str) -> String {
    reading.text("title").map_or_else(|| name.to_owned(), |title| title.value)
}

fn head_of(reading: &Reading) -> Site {
    let name = reading.text("name").unwrap_or_else(|| Spanned::new("site".into(), reading.name_span));
    let lengths = reading.word("lengths", LengthWord::from_word).map(|word| word.value);
    Site {
        title: title_of(reading, &name.value),
        name,
        label_prefix: reading.text("label-prefix").map(|prefix| prefix.value),
        lengths: match lengths {
            Some(LengthWord::Metres) => LengthUnit::Metres,
            Some(LengthWord::Feet) | None => LengthUnit::Feet,
        },
        revision: reading.one("revision").map(|revision| Revision {
            mark: revision.text("mark").map(|mark| mark.value).unwrap_or_default(),
            date: revision.date("date"),
            note: revision.text("note").map(|note| note.value),
        }),
        profile: reading.one("profile").and_then(|p| p.word("name", Profile::from_word)).map(|p| p.value),
        edition: reading.one("profile").and_then(|p| p.count("edition")).map(|year| year.value),
        building: reading.one("building").map_or_else(Building::default, |building| Building {
            built: building.integer("built").map(|year| year.value),
            framing: building.word("framing", Framing::from_word).map(|framing| framing.value),
        }),
        levels: Arena::default(),
        rooms: Arena::default(),
        openings: Arena::default(),
        parts: Arena::default(),
        cables: Arena::default(),
        boards: Arena::default(),
        areas: Arena::default(),
        zones: Arena::default(),
        buses: Arena::default(),
        circuits: Arena::default(),
        spares: Arena::default(),
        communicators: Arena::default(),
        devices: Arena::default(),
        runs: Arena::default(),
        conduits: Vec::new(),
        monitoring: None,
        upkeep: Upkeep::default(),
        label_sheet: None,
        house_style: HouseStyle::default(),
        prices: Prices::default(),
        measured: Vec::new(),
        accepts: Vec::new(),
        complete: true,
        sound: true,
        index: Index::default(),
    }
}

impl Lower<'_> {
    fn upkeep(&mut self, tops: &[Top<'_>]) {
        let Some(reading) = once(tops, "upkeep") else { return };
        let every = |field| reading.quantity::<Seconds>(field).map(|time| time.value);
        self.site.upkeep = Upkeep {
            test_every: every("test-every"),
            clean_every: every("clean-every"),
            permit_ends: reading.date("permit-ends"),
        };
    }

    fn label_sheet(&mut self, tops: &[Top<'_>]) {
        let Some(reading) = once(tops, "label-sheet") else { return };
        let length = |field| reading.quantity::<Metres>(field).map(|length| length.value);
        let count = |field| reading.count(field).map(|count| count.value);
        let sheet = LabelSheet {
            grid: reading.word("grid", LabelGrid::from_word).map(|word| word.value),
            paper: reading.word("paper", PaperSize::from_word).map(|word| word.value),
            columns: count("columns"),
            rows: count("rows"),
            width: length("width"),
            height: length("height"),
            left: length("left"),
            top: length("top"),
            across: length("across"),
            down: length("down"),
            printed: length("printed"),
            used: count("used").unwrap_or(0),
            code: reading.flag("code"),
        };
        self.site.label_sheet = Some(Spanned::new(sheet, reading.name_span));
    }

    fn prices(&mut self, tops: &[Top<'_>]) {
        let Some(reading) = once(tops, "prices") else { return };
        let price = |reading: &Reading| Some(Price { what: reading.text("what")?, each: reading.money("each")?.value });
        let of: Vec<Price> = reading.all("price").filter_map(price).collect();
        for (at, second) in of.iter().enumerate() {
            if let Some(first) = of.iter().take(at).find(|first| first.what.value == second.what.value) {
                self.sink.push(rules::priced_twice(&second.what, first.what.span));
            }
        }
        self.site.prices = Prices { currency: reading.text("currency").map(|currency| currency.value), of };
    }

    fn accept_list(&mut self, tops: &[Top<'_>]) {
        for (reading, _) in tops.iter().filter(|(reading, _)| reading.spec.name == "accept") {
            let Some(rule) = reading.text("rule") else { continue };
            self.site.accepts.push(Accept {
                rule,
                zone: reading.integer("zone").map(|zone| zone.map(|number| number.to_string())),
                name: reading.text("name"),
                because: reading.text("because").map(|text| text.value).unwrap_or_default(),
            });
        }
    }
}

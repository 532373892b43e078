//! Text → register: conflict marks, version, entries, and what no two entries may have in common.

use std::collections::BTreeMap;

use crate::base::{FileId, Span, Spanned};
use crate::diag::Sink;
use crate::model::{BoardKind, Site};
use crate::register::{CableEntry, InputEntry, Known, Landing, Mounting, OwnerName, Register, State, Wire};
use crate::schema::{Reading, read_register};
use crate::syntax::{self, Document, Value};
use crate::terms::WireUse;

use super::{VERSION, rules};

/// Parses and reads a register; where an error was reported the result is not to be used.
pub(crate) fn parse(file: FileId, text: &str, sink: &mut Sink) -> Register {
    let mut parsed = Sink::default();
    let document = syntax::parse(file, text, &mut parsed);
    read((file, text), &document, parsed, sink)
}

/// As [`parse`], with the tree of the text and what the parser found.
pub(crate) fn read((file, text): (FileId, &str), document: &Document, parsed: Sink, sink: &mut Sink) -> Register {
    if let Some(sides) = syntax::merge_marks(file, text) {
        sink.push(rules::conflict(sides));
        return Register::default();
    }
    let mut found = parsed;
    // A newer form may have nodes that are not known here: only that it is newer is said then.
    if let Some((version, span)) = written_version(document).filter(|(version, _)| *version > VERSION) {
        sink.push(rules::newer(version, span));
        return Register::default();
    }
    let readings = read_register(document, &mut found);
    let mut heads = readings.iter().filter(|reading| reading.spec.name == "register");
    match (heads.next(), heads.next()) {
        (None, _) if document.broken.is_empty() => found.push(rules::headless(Span::new(file, 0, 0))),
        (Some(one), Some(two)) => found.push(rules::two_heads(one.name_span, two.name_span)),
        _ => {}
    }
    let mut register = Register::default();
    for reading in readings.iter().filter(|reading| reading.all_whole()) {
        match reading.spec.name {
            "input" => register.inputs.extend(input(reading)),
            "label" => register.cables.extend(cable(reading, &mut found)),
            "spent" => register.spent.extend(reading.text("text")),
            _ => {}
        }
    }
    used_twice(&register, &mut found);
    register.sort();
    sink.extend(found.found().iter().cloned());
    register
}

fn written_version(document: &Document) -> Option<(i64, Span)> {
    let head = document.nodes.iter().find(|node| node.name.value == "register")?;
    let version = head.properties.iter().find(|property| property.name.value == "version")?;
    match version.value.value {
        Value::Number { integer: Some(number), .. } => Some((number, version.span)),
        Value::Text(_) | Value::Number { .. } | Value::Flag(_) | Value::Null => None,
    }
}

fn input(reading: &Reading) -> Option<InputEntry> {
    Some(InputEntry {
        board: reading.text("board")?.value,
        number: reading.count("number")?.value,
        zone: reading.count("zone")?.value,
        place: Spanned::new((), reading.span),
    })
}

fn cable(reading: &Reading, sink: &mut Sink) -> Option<CableEntry> {
    let label = reading.text("text")?;
    let of = reading.text("of").and_then(|of| owner(&of, sink));
    let because = reading.text("dead").map(|because| because.value);
    let state = match because {
        _ if reading.flag("out") => State::Out,
        Some(because) => State::Dead { because, off: reading.flag("off") },
        // Whoever takes it off before a compile has seen its run go. Where the run is there, that is told.
        None if reading.flag("off") => State::Dead { because: "off its terminals".to_owned(), off: true },
        None => State::InUse,
    };
    Some(CableEntry {
        of: of?,
        kind: reading.text("cable")?.value,
        room: reading.text("room").map(|room| room.value),
        from: reading.text("from").map(|room| room.value),
        run: reading.text("run").map(|run| run.value),
        state,
        mounted: reading.all("mounted").filter_map(|child| mounting(child, sink)).collect(),
        wires: reading.all("wire").filter_map(|child| wire(child, sink)).collect(),
        place: Spanned::new((), label.span),
        label: label.value,
    })
}

/// "zone 7", "bus data", "circuit sounders", "line phone".
fn owner(written: &Spanned<String>, sink: &mut Sink) -> Option<OwnerName> {
    let owner = written.value.parse().ok();
    if owner.is_none() {
        sink.push(rules::owner_unclear(written));
    }
    owner
}

fn mounting(reading: &Reading, sink: &mut Sink) -> Option<Mounting> {
    let text = |key| reading.text(key).map(|text| text.value);
    let mut given = [
        text("opening").map(Known::Opening),
        text("device").map(Known::Device),
        text("board").map(Known::Board),
        text("title").map(Known::Title),
    ]
    .into_iter()
    .flatten();
    match (given.next(), given.next()) {
        (Some(known), None) => Some(Mounting { known, part: text("part") }),
        _ => {
            sink.push(rules::mounted_unclear(reading.name_span));
            None
        }
    }
}

fn wire(reading: &Reading, sink: &mut Sink) -> Option<Wire> {
    let under = reading.count("under").map_or(1, |under| under.value);
    let near = reading.text("near").and_then(|near| landing(near, under, sink));
    let far = reading.text("far").and_then(|far| landing(far, 1, sink));
    Some(Wire {
        position: reading.count("position")?.value,
        does: reading.word("use", WireUse::from_word)?.value,
        colour: reading.colour("colour").map(|colour| colour.value),
        output: reading.text("output").map(|output| output.value),
        kept_for: reading.text("for").map(|what| what.value),
        pin: reading.count("pin").and_then(|pin| u8::try_from(pin.value).ok()),
        of: reading.text("of").and_then(|of| owner(&of, sink)),
        near,
        far,
        place: Spanned::new((), reading.span),
    })
}

/// "main I5": a board's name has no blank in it, a terminal's mark may.
fn landing(written: Spanned<String>, under: u32, sink: &mut Sink) -> Option<Landing> {
    match written.value.split_once(' ') {
        Some((board, mark)) if !board.is_empty() && !mark.is_empty() => {
            Some(Landing { board: board.to_owned(), mark: mark.to_owned(), under })
        }
        _ => {
            sink.push(rules::terminal_unclear(&written));
            None
        }
    }
}

/// Reports what two entries claim: each on its own branch was right, and a merge has put both into one file.
fn used_twice(register: &Register, sink: &mut Sink) {
    let mut labels: BTreeMap<&str, Span> = BTreeMap::new();
    let cables = register.cables.iter().map(|cable| (cable.label.as_str(), cable.place.span));
    for (label, span) in cables.chain(register.spent.iter().map(|spent| (spent.value.as_str(), spent.span))) {
        if let Some(first) = labels.insert(label, span) {
            sink.push(rules::label_twice(label, first, span));
        }
    }
    let mut inputs: BTreeMap<(&str, u32), &InputEntry> = BTreeMap::new();
    let mut zones: BTreeMap<u32, &InputEntry> = BTreeMap::new();
    for entry in &register.inputs {
        let input = inputs.insert((entry.board.as_str(), entry.number), entry);
        let zone = zones.insert(entry.zone, entry);
        if let Some(first) = input {
            sink.push(rules::input_twice(first, entry));
        } else if let Some(first) = zone {
            sink.push(rules::zone_twice(first, entry));
        }
    }
    for cable in &register.cables {
        let mut positions: BTreeMap<u32, Span> = BTreeMap::new();
        for wire in &cable.wires {
            if let Some(first) = positions.insert(wire.position, wire.place.span) {
                sink.push(rules::conductor_twice(&cable.label, wire.position, first, wire.place.span));
            }
        }
    }
}

/// Reports two conductors at one place of a strip of the site: elsewhere a terminal may take several.
pub(crate) fn ways_twice(register: &Register, site: &Site, sink: &mut Sink) {
    let is_strip = |board: &str| {
        let found = site.board_named(board);
        found.is_some_and(|(_, board)| matches!(board.kind, BoardKind::Strip { .. }))
    };
    let mut ways: BTreeMap<&Landing, (&str, Span)> = BTreeMap::new();
    for cable in register.cables.iter().filter(|cable| cable.landed()) {
        let supplies = |wire: &&Wire| matches!(wire.does, WireUse::SupplyPositive | WireUse::SupplyNegative);
        for wire in cable.wires.iter().filter(supplies) {
            let Some(near) = wire.near.as_ref().filter(|near| is_strip(&near.board)) else { continue };
            if let Some((label, first)) = ways.insert(near, (&cable.label, wire.place.span)) {
                sink.push(rules::way_twice(near, label, first, &cable.label, wire.place.span));
            }
        }
    }
}

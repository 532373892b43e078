//! Where the names of a site are written: each place that defines one, and each that refers to it.
//!
//! Most of it follows from the table of the language: what is a name there, and what refers to one. Some texts refer to a
//! name without a kind of their own in the table, as the zone of a reading; these are listed here, as are the places of the
//! register. Out of scope: what a name means for the model (`names`, `lower`).

use std::collections::{BTreeMap, BTreeSet};

use super::FileReadings;
use crate::base::Span;
use crate::schema::{Datum, Kind, Names as NameKind, Reading};

/// What is named.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Named {
    /// A thing by its kind and name.
    Thing(NameKind, String),
    /// A zone by its number.
    Zone(i64),
    /// An output, relay or transistor, by the name of its part and its own.
    OfPart(String, String),
}

/// A place at which something is named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Mention {
    /// What.
    pub(crate) named: Named,
    /// The value that names it.
    pub(crate) span: Span,
    /// True where it is defined.
    pub(crate) defines: bool,
    /// What stands in the value before and behind the name.
    pub(crate) around: (String, String),
}

use NameKind::{Area, Board, Bus, Cable, Circuit, Communicator, Device, Level, Opening, Part, Room, Run, Spare};

/// Texts that refer to whatever has that name, by node and field, with the kinds in the order in which they are looked up.
const LOOSE: &[(&str, &str, &[NameKind])] = &[
    ("loop", "of", &[Opening, Device]),
    ("device", "name", &[Device, Board]),
    ("battery", "board", &[Board]),
    (
        "accept",
        "name",
        &[Opening, Room, Board, Device, Part, Cable, Circuit, Bus, Area, Run, Spare, Communicator, Level],
    ),
    ("price", "what", &[Part, Cable]),
    ("input", "board", &[Board]),
    ("label", "cable", &[Cable]),
    ("label", "room", &[Room]),
    ("label", "run", &[Run]),
    ("mounted", "opening", &[Opening]),
    ("mounted", "device", &[Device]),
    ("mounted", "board", &[Board]),
    ("mounted", "part", &[Part]),
];

/// Texts of the register that begin with a name, with what stands behind it.
const BEFORE_BLANK: &[(&str, &str, NameKind)] = &[("wire", "near", Board), ("wire", "far", Board)];

/// Words of the register that stand before a name: "circuit sounders".
const AFTER_WORD: &[(&str, NameKind)] =
    &[("circuit", Circuit), ("bus", Bus), ("line", Communicator), ("spare", Spare), ("transformer", Board)];

/// Numbers of zones, by node and field.
const ZONES: &[(&str, &str)] =
    &[("zone", "number"), ("loop", "zone"), ("accept", "zone"), ("cross-zones", "zones"), ("input", "zone")];

/// What a part has that others refer to by name.
const OF_PART: &[&str] = &["output", "relay", "transistor"];

/// The properties that refer to it, on the board that is named in the node or the one around it.
const TO_PART: &[&str] = &["supply", "output", "switch"];

/// All places of a site at which something is named.
#[derive(Debug, Default)]
pub(crate) struct Mentions {
    /// Those of the spec, in the order of its files.
    pub(crate) of_site: Vec<Mention>,
    /// Those of the register.
    pub(crate) of_register: Vec<Mention>,
}

impl Mentions {
    /// Collects them.
    pub(crate) fn of(files: &[FileReadings], register: &[Reading]) -> Self {
        let mut parts = BTreeMap::new();
        files.iter().flat_map(|file| &file.readings).for_each(|reading| parts_of_boards(reading, &mut parts));
        let mut collector = Collector { parts, ..Collector::default() };
        for reading in files.iter().flat_map(|file| &file.readings) {
            collector.read(reading, None, None);
        }
        let defined: BTreeSet<Named> =
            collector.found.iter().filter(|mention| mention.defines).map(|mention| mention.named.clone()).collect();
        let mut of_register = Collector::default();
        for reading in register {
            of_register.read(reading, None, None);
        }
        Self { of_site: collector.settled(&defined), of_register: of_register.settled(&defined) }
    }

    /// The place of the spec at which a byte is.
    pub(crate) fn at(&self, span: Span) -> Option<&Mention> {
        let holds = |mention: &&Mention| {
            mention.span.file == span.file && mention.span.start <= span.start && span.end <= mention.span.end
        };
        self.of_site.iter().find(holds)
    }

    /// Where something is defined: by the site itself, before the shared parts.
    pub(crate) fn definition(&self, named: &Named) -> Option<&Mention> {
        self.of_site.iter().find(|mention| mention.defines && mention.named == *named)
    }

    /// The names of a kind that are defined, each with its place.
    pub(crate) fn defined(&self, kind: NameKind) -> impl Iterator<Item = (&str, Span)> {
        self.of_site.iter().filter(|mention| mention.defines).filter_map(move |mention| match &mention.named {
            Named::Thing(of, name) if *of == kind => Some((name.as_str(), mention.span)),
            Named::Thing(..) | Named::Zone(_) | Named::OfPart(..) => None,
        })
    }
}

/// The part of every board, by the board's name.
fn parts_of_boards(reading: &Reading, parts: &mut BTreeMap<String, String>) {
    let is_board = reading.spec.arguments.iter().any(|row| matches!(row.kind, Kind::Name(Board)));
    if is_board && reading.spec.properties.iter().any(|row| row.name == "part") {
        parts.extend(reading.text("name").zip(reading.text("part")).map(|(name, part)| (name.value, part.value)));
    }
    reading.children.iter().for_each(|child| parts_of_boards(child, parts));
}

/// A place whose name has no kind in the table.
struct Loose {
    kinds: &'static [NameKind],
    name: String,
    span: Span,
    around: (String, String),
}

impl Loose {
    fn settled(self, defined: &BTreeSet<Named>) -> Option<Mention> {
        let mut things = self.kinds.iter().map(|kind| Named::Thing(*kind, self.name.clone()));
        let named = things.find(|named| defined.contains(named))?;
        Some(Mention { named, span: self.span, defines: false, around: self.around })
    }
}

#[derive(Default)]
struct Collector {
    parts: BTreeMap<String, String>,
    found: Vec<Mention>,
    loose: Vec<Loose>,
}

impl Collector {
    /// Reads a node; with the part in which it stands, and the board that is named around it.
    fn read(&mut self, reading: &Reading, part: Option<&str>, board: Option<&str>) {
        let node = reading.spec.name;
        let text = |wanted: &str| {
            let mut own = reading.fields().iter().filter(|(name, _)| *name == wanted);
            own.find_map(|(_, datum)| if let Datum::Text(text) = &datum.value { Some(text.clone()) } else { None })
        };
        let own = text("board");
        let board = own.as_deref().or(board);
        for (field, datum) in reading.fields() {
            let span = datum.span;
            match &datum.value {
                Datum::Integer(number) if ZONES.contains(&(node, field)) => {
                    self.push(Named::Zone(*number), span, (node, *field) == ("zone", "number"));
                }
                Datum::Text(text) => self.text(reading, field, text, span, part, board),
                Datum::Integer(_)
                | Datum::Word(_)
                | Datum::Quantity(_)
                | Datum::Resistance(_)
                | Datum::Flag(_)
                | Datum::Money(_)
                | Datum::Date(_)
                | Datum::Colour(_) => {}
            }
        }
        let of = if node == "part" { text("name") } else { None };
        let part = of.as_deref().or(part);
        reading.children.iter().for_each(|child| self.read(child, part, board));
    }

    fn text(
        &mut self,
        reading: &Reading,
        field: &str,
        text: &str,
        span: Span,
        part: Option<&str>,
        board: Option<&str>,
    ) {
        let node = reading.spec.name;
        let kind = reading.spec.arguments.iter().find(|row| row.name == field).map(|row| row.kind);
        let kind = kind.or_else(|| reading.spec.properties.iter().find(|row| row.name == field).map(|row| row.kind));
        match kind {
            Some(Kind::Name(kind)) => self.push(Named::Thing(kind, text.to_owned()), span, true),
            Some(Kind::Reference(kind)) => self.push(Named::Thing(kind, text.to_owned()), span, false),
            _ => {}
        }
        if let Some(part) = part.filter(|_| field == "name" && OF_PART.contains(&node)) {
            self.push(Named::OfPart(part.to_owned(), text.to_owned()), span, true);
        }
        if TO_PART.contains(&field)
            && node != "wire"
            && let Some(part) = board.and_then(|board| self.parts.get(board))
        {
            self.push(Named::OfPart(part.clone(), text.to_owned()), span, false);
        }
        let mut loose = |kinds, name: &str, before: &str, behind: &str| {
            let around = (before.to_owned(), behind.to_owned());
            self.loose.push(Loose { kinds, name: name.to_owned(), span, around });
        };
        if !matches!(kind, Some(Kind::Name(_) | Kind::Reference(_))) {
            LOOSE.iter().filter(|row| (row.0, row.1) == (node, field)).for_each(|row| loose(row.2, text, "", ""));
        }
        for (_, _, kind) in BEFORE_BLANK.iter().filter(|row| (row.0, row.1) == (node, field)) {
            if let Some((name, rest)) = text.split_once(' ') {
                loose(std::slice::from_ref(kind), name, "", &format!(" {rest}"));
            }
        }
        if field == "of"
            && let Some((word, name)) = text.split_once(' ')
            && let Some((_, kind)) = AFTER_WORD.iter().find(|row| row.0 == word)
        {
            loose(std::slice::from_ref(kind), name, &format!("{word} "), "");
        }
    }

    fn push(&mut self, named: Named, span: Span, defines: bool) {
        self.found.push(Mention { named, span, defines, around: (String::new(), String::new()) });
    }

    /// What was found, with the places whose kind follows from what is defined.
    fn settled(self, defined: &BTreeSet<Named>) -> Vec<Mention> {
        let mut found = self.found;
        found.extend(self.loose.into_iter().filter_map(|loose| loose.settled(defined)));
        found
    }
}

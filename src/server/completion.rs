//! What may be written at the cursor: nodes, properties, words, names, units, free inputs and addresses.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::ops::Range;

use lsp_types::{
    CompletionItem, CompletionItemKind, CompletionTextEdit, Documentation, MarkupContent, MarkupKind, TextEdit,
};

use super::place::{Item, Place};
use super::sites::{FileOf, Sites};
use super::text::Lines;
use crate::base::wording::count;
use crate::compiled::Compiled;
use crate::quantity::colour::Hue;
use crate::quantity::unit;
use crate::register_file;
use crate::schema::reference;
use crate::schema::spec::{Kind, NodeSpec, PropertySpec};
use crate::session;

/// The greatest number that a zone may have.
const MOST_ZONE: u32 = 999;

/// How many free addresses are offered.
const FREE: usize = 20;

/// Something that may be written.
struct Offer {
    text: String,
    kind: CompletionItemKind,
    /// A few words beside it.
    detail: String,
    /// More, as Markdown.
    about: Option<String>,
}

impl Offer {
    fn new(text: impl Into<String>, kind: CompletionItemKind, detail: impl Into<String>) -> Self {
        Self { text: text.into(), kind, detail: detail.into(), about: None }
    }

    /// A text in quotes.
    fn quoted(text: &str, kind: CompletionItemKind, detail: impl Into<String>) -> Self {
        Self::new(format!("\"{text}\""), kind, detail)
    }
}

/// What may be written at a byte of a file.
pub(crate) fn at(sites: &Sites, of: FileOf<'_>, offset: usize) -> Vec<CompletionItem> {
    let text = &of.file.text;
    let place = Place::of(text, offset);
    let is_register = of.file.in_site == register_file::FILE;
    let offers = offers(of, &place, is_register);
    let lines = Lines::new(text, sites.encoding);
    // The unit's parentheses belong to it.
    let mut replaced: Range<usize> = place.token.clone();
    if matches!(place.item, Item::UnitOf(_) | Item::UnitOfArgument(_)) {
        let before = text.get(..replaced.start).unwrap_or_default();
        replaced.start -= usize::from(before.ends_with('('));
        replaced.end += usize::from(text.get(replaced.end..).is_some_and(|rest| rest.starts_with(')')));
    }
    let range = lines.range(replaced.start, replaced.end);
    let item = |(rank, offer): (usize, Offer)| CompletionItem {
        label: offer.text.trim_matches('"').to_owned(),
        kind: Some(offer.kind),
        detail: Some(offer.detail).filter(|detail| !detail.is_empty()),
        documentation: offer
            .about
            .map(|value| Documentation::MarkupContent(MarkupContent { kind: MarkupKind::Markdown, value })),
        filter_text: Some(offer.text.clone()),
        sort_text: Some(format!("{rank:05}")),
        text_edit: Some(CompletionTextEdit::Edit(TextEdit { range, new_text: offer.text })),
        ..CompletionItem::default()
    };
    offers.into_iter().enumerate().map(item).collect()
}

fn offers(of: FileOf<'_>, place: &Place, is_register: bool) -> Vec<Offer> {
    if place.item == Item::Nothing {
        return Vec::new();
    }
    if place.item == Item::Node {
        let nodes = place.may_stand(is_register).into_iter().map(|spec| Offer {
            about: Some(reference::of_node(spec)),
            ..Offer::new(spec.name, CompletionItemKind::KEYWORD, "")
        });
        return nodes.collect();
    }
    let Some(spec) = place.spec(is_register) else { return Vec::new() };
    let mut offers = Vec::new();
    if let Some((_, kind)) = place.field(spec).filter(|_| !matches!(place.item, Item::Key(_))) {
        offers.extend(values(of, place, spec, kind));
    }
    if matches!(place.item, Item::Argument(_) | Item::Key(_)) {
        let written = |name: &str| place.head.property(name).is_some();
        let rows = spec.properties.iter().filter(|row| !written(row.name));
        // What is needed comes first.
        let (needed, others): (Vec<&PropertySpec>, Vec<&PropertySpec>) = rows.partition(|row| row.required);
        offers.extend(needed.into_iter().chain(others).map(|row| Offer {
            about: reference::of_field(spec, row.name),
            ..Offer::new(
                format!("{}=", row.name),
                CompletionItemKind::PROPERTY,
                if row.required { "needed" } else { "" },
            )
        }));
    }
    offers
}

/// The values that a row of the table may have here.
fn values(of: FileOf<'_>, place: &Place, spec: &'static NodeSpec, kind: Kind) -> Vec<Offer> {
    let in_unit = matches!(place.item, Item::UnitOf(_) | Item::UnitOfArgument(_));
    let value = |text: &str, detail: &str| Offer::new(text, CompletionItemKind::VALUE, detail);
    let name = place.field(spec).map_or("", |(name, _)| name);
    match kind {
        Kind::Quantity(dimensions, _) => {
            let units =
                dimensions.iter().flat_map(|dimension| unit::of(*dimension).map(move |unit| (unit, dimension.noun())));
            units.map(|(unit, noun)| Offer::new(format!("({})", unit.name), CompletionItemKind::UNIT, noun)).collect()
        }
        Kind::Resistance if in_unit => {
            ["ohm", "kohm"].map(|unit| Offer::new(format!("({unit})"), CompletionItemKind::UNIT, "")).into()
        }
        _ if in_unit => Vec::new(),
        Kind::Reference(kind) => names(of, kind),
        Kind::Word(words) => {
            words.iter().map(|word| Offer::quoted(word.word, CompletionItemKind::ENUM_MEMBER, word.doc)).collect()
        }
        Kind::Flag => vec![value("#true", ""), value("#false", "")],
        Kind::Colour => {
            Hue::ALL.iter().map(|hue| Offer::quoted(hue.code(), CompletionItemKind::COLOR, hue.name())).collect()
        }
        Kind::Slug => session::rules()
            .iter()
            .map(|rule| Offer::quoted(rule.slug, CompletionItemKind::ENUM_MEMBER, rule.summary))
            .collect(),
        Kind::Resistance => resistors(of),
        Kind::Integer(..) | Kind::Text(_) => {
            of.study.compiled.as_ref().map(|compiled| free(compiled, place, name)).unwrap_or_default()
        }
        Kind::Name(_) | Kind::Label(_) | Kind::Money | Kind::Date | Kind::Terminal | Kind::Path => Vec::new(),
    }
}

/// The names of a kind, each with the line that defines it.
fn names(of: FileOf<'_>, kind: crate::schema::Names) -> Vec<Offer> {
    let mentions = of.study.mentions();
    let mut offers: Vec<Offer> = mentions
        .defined(kind)
        .map(|(name, span)| {
            let file = of.study.sources().get(span.file);
            let line = file.map(|file| {
                file.slice(file.line_start(file.line_of(span.start)), file.line_start(file.line_of(span.start) + 1))
            });
            Offer::quoted(
                name,
                CompletionItemKind::REFERENCE,
                line.unwrap_or_default().trim().trim_end_matches('{').trim_end(),
            )
        })
        .collect();
    offers.sort_by(|one, other| one.text.cmp(&other.text));
    offers.dedup_by(|one, other| one.text == other.text);
    offers
}

/// The values of the resistors that the site has already, those most used first.
fn resistors(of: FileOf<'_>) -> Vec<Offer> {
    let Some(compiled) = &of.study.compiled else { return Vec::new() };
    let site = &compiled.site;
    let mut counted: BTreeMap<String, usize> = BTreeMap::new();
    let mounted = site.runs.iter().flat_map(|run| &run.mounted).filter_map(|mounted| mounted.resistor());
    let all = mounted.chain(site.devices.iter().filter_map(|device| device.shunt.as_ref()));
    for code in all.filter_map(|value| value.value.marking()) {
        *counted.entry(code).or_default() += 1;
    }
    let mut counted: Vec<(String, usize)> = counted.into_iter().collect();
    counted.sort_by_key(|(_, times)| Reverse(*times));
    counted
        .iter()
        .map(|(code, times)| {
            Offer::quoted(code, CompletionItemKind::VALUE, format!("used {} here", count(*times, "time", None)))
        })
        .collect()
}

/// What of a board or bus is free, and the outputs that it has.
fn free(compiled: &Compiled, place: &Place, name: &str) -> Vec<Offer> {
    let site = &compiled.site;
    let board = || site.board_named(place.board()?).map(|(id, _)| id);
    let number = |value: u32, detail: &str| Offer::new(value.to_string(), CompletionItemKind::VALUE, detail);
    match (place.head.node.as_str(), name) {
        ("loop", "input") => {
            let Some(board) = board() else { return Vec::new() };
            let used = compiled.wiring.used_inputs(site, board);
            let inputs = site.part_of(board).into_iter().flat_map(|part| &part.inputs).map(|input| input.number.value);
            inputs.filter(|input| !used.contains(input)).map(|input| number(input, "free")).collect()
        }
        ("zone", "number") => {
            let next = (1..=MOST_ZONE).find(|next| site.zone_numbered(*next).is_none());
            next.map(|next| number(next, "the first that is free")).into_iter().collect()
        }
        (_, "address") => {
            let head = place.around.iter().find(|head| head.node == "bus");
            let bus = head
                .and_then(|head| head.arguments.first())
                .and_then(|name| site.buses.entries().find(|(_, bus)| bus.name.value == *name));
            let free = bus.map(|(id, _)| session::free_addresses(site, id, FREE)).unwrap_or_default();
            free.into_iter().map(|address| number(address, "free")).collect()
        }
        (_, "supply" | "output") => {
            let outputs = board().into_iter().flat_map(|board| site.outputs(board));
            outputs.map(|(_, output)| Offer::quoted(&output.name.value, CompletionItemKind::VALUE, "output")).collect()
        }
        (_, "switch") => {
            let part = board().and_then(|board| site.part_of(board));
            let switches = part.into_iter().flat_map(|part| part.switches.iter());
            switches.map(|switch| Offer::quoted(&switch.name.value, CompletionItemKind::VALUE, "")).collect()
        }
        _ => Vec::new(),
    }
}

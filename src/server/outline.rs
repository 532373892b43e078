//! The outline of a file: its zones, boards, rooms and what else has a name; and the pieces that can be folded away.

use lsp_types::{DocumentSymbol, FoldingRange, FoldingRangeKind, SymbolKind};

use super::sites::FileOf;
use super::text::{Encoding, Lines};
use crate::schema::{Datum, Kind, Names, Reading};
use crate::syntax::token::{self, Kind as Mark, Token};

/// The named things of a file, each with those inside it.
pub(crate) fn symbols(of: FileOf<'_>, encoding: Encoding) -> Vec<DocumentSymbol> {
    let lines = Lines::new(&of.file.text, encoding);
    let readings =
        of.study.readings.iter().flat_map(|file| &file.readings).filter(|reading| reading.span.file == of.id);
    readings.flat_map(|reading| symbol(reading, &lines)).collect()
}

/// The symbol of a node; of one without a name those inside it.
fn symbol(reading: &Reading, lines: &Lines<'_>) -> Vec<DocumentSymbol> {
    let children: Vec<DocumentSymbol> = reading.children.iter().flat_map(|child| symbol(child, lines)).collect();
    let Some((kind, name, detail)) = named(reading) else { return children };
    let range = lines.range(reading.span.start, reading.span.end);
    #[allow(deprecated, reason = "the protocol's struct has the field")]
    let symbol = DocumentSymbol {
        name,
        detail: Some(detail),
        kind,
        tags: None,
        deprecated: None,
        range,
        selection_range: lines.range(reading.name_span.start, reading.name_span.end),
        children: Some(children).filter(|children| !children.is_empty()),
    };
    vec![symbol]
}

/// What a node is called in an outline.
fn named(reading: &Reading) -> Option<(SymbolKind, String, String)> {
    let node = reading.spec.name;
    if node == "zone" {
        let description = reading.text("description").map(|text| text.value).unwrap_or_default();
        return Some((
            SymbolKind::EVENT,
            format!("zone {} {description}", reading.count("number")?.value),
            String::new(),
        ));
    }
    let rows = reading.spec.arguments.iter().map(|row| (row.name, row.kind));
    let mut rows = rows.chain(reading.spec.properties.iter().map(|row| (row.name, row.kind)));
    let (field, kind) =
        rows.find_map(|(name, kind)| if let Kind::Name(kind) = kind { Some((name, kind)) } else { None })?;
    let text = |wanted: &str| {
        reading.fields().iter().find_map(|(name, datum)| match &datum.value {
            Datum::Text(text) if *name == wanted => Some(text.clone()),
            _ => None,
        })
    };
    let symbol = match kind {
        Names::Site | Names::Area => SymbolKind::NAMESPACE,
        Names::Level => SymbolKind::PACKAGE,
        Names::Room => SymbolKind::CLASS,
        Names::Opening => SymbolKind::FIELD,
        Names::Part | Names::Cable => SymbolKind::STRUCT,
        Names::Board => SymbolKind::MODULE,
        Names::Device => SymbolKind::OBJECT,
        Names::Bus | Names::Circuit | Names::Spare | Names::Communicator => SymbolKind::INTERFACE,
        Names::Run => SymbolKind::VARIABLE,
    };
    Some((symbol, format!("{node} {}", text(field)?), text("title").unwrap_or_default()))
}

/// Nodes and comments of several lines.
pub(crate) fn folds(text: &str, encoding: Encoding) -> Vec<FoldingRange> {
    let lines = Lines::new(text, encoding);
    let tokens = token::tokens(text);
    let mut folds = Vec::new();
    let mut fold = |first: usize, last: usize, kind: Option<FoldingRangeKind>| {
        if let (Ok(start_line), Ok(end_line)) = (u32::try_from(first), u32::try_from(last))
            && start_line < end_line
        {
            folds.push(FoldingRange { start_line, end_line, kind, ..FoldingRange::default() });
        }
    };
    let mut open: Vec<usize> = Vec::new();
    // First and last line of the comments that follow each other.
    let mut comments: Option<(usize, usize)> = None;
    let line = |token: &Token| (lines.line_of(token.start), lines.line_of(token.end.saturating_sub(1)));
    for token in &tokens {
        match token.kind {
            Mark::OpenBrace => open.push(line(token).0),
            // The line of the closing brace stays in sight.
            Mark::CloseBrace => {
                if let Some(first) = open.pop() {
                    fold(first, line(token).0.saturating_sub(1), None);
                }
            }
            Mark::LineComment | Mark::BlockComment => {
                let (first, last) = line(token);
                let follows = comments.filter(|(_, before)| before + 1 >= first);
                if let (None, Some((first, last))) = (follows, comments) {
                    fold(first, last, Some(FoldingRangeKind::Comment));
                }
                comments = Some((follows.map_or(first, |(first, _)| first), last));
            }
            _ => {}
        }
    }
    if let Some((first, last)) = comments {
        fold(first, last, Some(FoldingRangeKind::Comment));
    }
    folds
}

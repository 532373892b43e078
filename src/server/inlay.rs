//! Figures beside the lines on which runs and devices are written: ohms, labels, volts, hours.

use std::collections::BTreeMap;

use lsp_types::{InlayHint, InlayHintLabel, Range};

use super::sites::{FileOf, Sites};
use super::text::Lines;
use crate::views::beside::{self, Thing};

/// The figures of the lines in a range of a file.
pub(crate) fn at(sites: &Sites, of: FileOf<'_>, range: Range) -> Vec<InlayHint> {
    let Some(compiled) = &of.study.compiled else { return Vec::new() };
    let lines = Lines::new(&of.file.text, sites.encoding);
    let asked = range.start.line as usize..=range.end.line as usize;
    let mut by_line: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    for (span, thing) in beside::things(compiled) {
        let line = lines.line_of(span.start);
        // A zone's figure stands beside its loop.
        let elsewhere = matches!(thing, Thing::Zone(zone) if compiled.site.zones[zone].number.span == span);
        if span.file != of.id || elsewhere || !asked.contains(&line) {
            continue;
        }
        by_line.entry(line).or_default().extend(beside::short(compiled, thing));
    }
    let hint = |(line, figures): (usize, Vec<String>)| InlayHint {
        position: lines.position(lines.extent(line).1),
        label: InlayHintLabel::String(figures.join("; ")),
        kind: None,
        text_edits: None,
        tooltip: None,
        padding_left: Some(true),
        padding_right: None,
        data: None,
    };
    by_line.into_iter().filter(|(_, figures)| !figures.is_empty()).map(hint).collect()
}

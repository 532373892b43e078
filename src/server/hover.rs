//! What is told of the place under the cursor: what it means in the language, and what is known of it in this house.

use lsp_types::{Hover, HoverContents, MarkupContent, MarkupKind};

use super::place::{Item, Place};
use super::sites::{FileOf, Sites};
use super::text::Lines;
use crate::base::Span;
use crate::register_file;
use crate::schema::reference;
use crate::schema::spec::{Kind, NodeSpec};
use crate::views::beside;

/// What is told of a byte of a file; `None` where there is nothing to tell.
pub(crate) fn at(sites: &Sites, of: FileOf<'_>, offset: usize) -> Option<Hover> {
    let text = &of.file.text;
    let place = Place::of(text, offset);
    if place.item == Item::Nothing || place.token.is_empty() {
        return None;
    }
    let spec = place.spec(of.file.in_site == register_file::FILE)?;
    let meaning = meaning(spec, &place, text)?;
    let mut parts = vec![meaning];
    let known = known(of, &place, offset);
    if !known.is_empty() {
        // In a fence nothing is markup; what would end it is taken out.
        parts.insert(0, format!("```text\n{}\n```", known.join("\n").replace("```", "")));
    }
    let range = Lines::new(text, sites.encoding).range(place.token.start, place.token.end);
    let contents = MarkupContent { kind: MarkupKind::Markdown, value: parts.join("\n\n---\n\n") };
    Some(Hover { contents: HoverContents::Markup(contents), range: Some(range) })
}

/// What the language says of the place.
fn meaning(spec: &'static NodeSpec, place: &Place, text: &str) -> Option<String> {
    if place.item == Item::Node {
        return Some(format!("**`{}`**: {}", spec.name, reference::of_node(spec)));
    }
    let (name, kind) = place.field(spec)?;
    let field = reference::of_field(spec, name)?;
    let written = super::place::inside(text.get(place.token.clone()).unwrap_or_default());
    let word = match kind {
        Kind::Word(words) => words.iter().find(|word| word.word == written),
        _ => None,
    };
    Some(word.map_or_else(|| field.clone(), |word| format!("`{}`: {}\n\n{field}", word.word, word.doc)))
}

/// What is known in this house of the node at the cursor, and of what is named there.
fn known(of: FileOf<'_>, place: &Place, offset: usize) -> Vec<String> {
    let Some(compiled) = &of.study.compiled else { return Vec::new() };
    let mentions = of.study.mentions();
    let here = mentions.at(Span::new(of.id, offset, offset));
    let named = here.filter(|mention| !mention.defines).and_then(|mention| mentions.definition(&mention.named));
    let holds = |span: Span| match named {
        Some(definition) => span == definition.span,
        None => span.file == of.id && place.extent.contains(&span.start),
    };
    let things = beside::things(compiled).into_iter().filter(|(span, _)| holds(*span));
    let mut lines: Vec<String> = Vec::new();
    // Where it is defined, as it stands there.
    if let Some(definition) = named
        && let Some(file) = of.study.sources().get(definition.span.file)
    {
        let line = file.line_of(definition.span.start);
        let written = file.slice(file.line_start(line), file.line_start(line + 1)).trim();
        lines.push(format!("{}:{}: {written}", file.in_site, line + 1));
    }
    for (_, thing) in things {
        lines.extend(beside::lines(compiled, thing));
    }
    lines
}

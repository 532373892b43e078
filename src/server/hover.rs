//! What is told of the place under the cursor: what it means in the language, and what is known of it in this house.

use lsp_types::{Hover, HoverContents, MarkupContent, MarkupKind};

use super::place::{Item, Place};
use super::sites::{FileOf, Sites};
use super::text::Lines;
use crate::base::Span;
use crate::compiled::Compiled;
use crate::model::Source;
use crate::register_file;
use crate::resolve::mentions::Named;
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
    let known = known(of, &place, offset, place.field(spec).map(|(_, kind)| kind));
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

/// What is known in this house of the node at the cursor, or of what is named there.
fn known(of: FileOf<'_>, place: &Place, offset: usize, kind: Option<Kind>) -> Vec<String> {
    let Some(compiled) = &of.study.compiled else { return Vec::new() };
    let mentions = of.study.mentions();
    let here = mentions.at(Span::new(of.id, offset, offset)).filter(|mention| !mention.defines);
    let Some(mention) = here else {
        // At a word, a length or a text the figures of the whole node would hide what it means.
        let tells = place.item == Item::Node || matches!(kind, Some(Kind::Name(_) | Kind::Integer(..)));
        let here = |span: Span| tells && span.file == of.id && place.extent.contains(&span.start);
        return figures(compiled, here);
    };
    let Some(definition) = mentions.definition(&mention.named).map(|definition| definition.span) else {
        return Vec::new();
    };
    // As it stands where it is defined.
    let line = of.study.sources().get(definition.file).map(|file| {
        let line = file.line_of(definition.start);
        let written = file.slice(file.line_start(line), file.line_start(line + 1)).trim();
        format!("{}:{}: {written}", file.in_site, line + 1)
    });
    let mut lines: Vec<String> = line.into_iter().collect();
    if let Named::OfPart(_, name) = &mention.named {
        let source = place.board().and_then(|board| compiled.site.board_named(board));
        let source = source.and_then(|(board, _)| compiled.site.output_named(board, name));
        let source = source.map(|output| beside::Thing::Source(Source::Output(output)));
        lines.extend(source.into_iter().flat_map(|source| beside::lines(compiled, source)));
    }
    lines.extend(figures(compiled, |span| span == definition));
    lines
}

fn figures(compiled: &Compiled, here: impl Fn(Span) -> bool) -> Vec<String> {
    let things = beside::things(compiled).into_iter().filter(|(span, _)| here(*span));
    things.flat_map(|(_, thing)| beside::lines(compiled, thing)).collect()
}

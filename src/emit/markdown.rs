//! Views → Markdown by handlebars.
//!
//! Templates hold layout only. Everything in `{{ }}` is escaped for Markdown, so that a user's text is always text.
//! Strict mode reports an unknown name, but not in `{{#if …}}`: the test `packet::template_check` walks every template for that.

use std::sync::OnceLock;

use handlebars::template::Template;
use handlebars::{Context, Handlebars, RenderError, TemplateError};
use rayon::prelude::*;
use serde_json::Value;

use super::escape;
use crate::views::{self, Document};

/// Pieces that templates share, by the name they are included with.
pub static PARTIALS: &[(&str, &str)] = &[
    ("head", include_str!("../../templates/head.md.hbs")),
    ("work-order-steps", include_str!("../../templates/work-order-steps.md.hbs")),
];

/// Why a document could not be made from its template; a fault of this program.
#[derive(Debug, thiserror::Error)]
pub enum TemplateFault {
    /// The template cannot be read.
    #[error("{0}")]
    Template(#[from] Box<TemplateError>),
    /// The template and the view do not fit.
    #[error("{0}")]
    Render(#[from] Box<RenderError>),
}

/// The templates of all documents.
#[derive(Debug)]
pub struct Templates {
    registry: Handlebars<'static>,
}

impl Templates {
    /// The templates of all documents of a packet, read once for all sites of a run.
    pub(super) fn of_packet() -> Result<&'static Self, String> {
        static READ: OnceLock<Templates> = OnceLock::new();
        if let Some(read) = READ.get() {
            return Ok(read);
        }
        // Not within the lock: who waits there for the other threads may be given one that asks for the lock.
        let read = Self::new(views::DOCUMENTS).map_err(|fault| fault.to_string())?;
        Ok(READ.get_or_init(|| read))
    }

    /// Reads the built-in templates of some documents.
    pub fn new(documents: &[&Document]) -> Result<Self, TemplateFault> {
        let mut registry = Handlebars::new();
        registry.set_strict_mode(true);
        registry.register_escape_fn(escape::markdown::enclose);
        let pieces = documents.iter().flat_map(|document| {
            pieces(document.template)
                .into_iter()
                .enumerate()
                .map(|(place, text)| (piece_name(document.name, place), text))
        });
        let all: Vec<(String, &str)> =
            PARTIALS.iter().map(|(name, text)| ((*name).to_owned(), *text)).chain(pieces).collect();
        let read = all.par_iter().map(|(name, text)| Template::compile_with_name(text, name.clone()));
        let read = read.collect::<Result<Vec<Template>, TemplateError>>().map_err(Box::new)?;
        for ((name, _), template) in all.iter().zip(read) {
            registry.register_template(name, template);
        }
        Ok(Self { registry })
    }

    /// The Markdown of one template over its view.
    pub fn render(&self, name: &str, view: &Value) -> Result<String, TemplateFault> {
        let context = Context::wraps(view).map_err(Box::new)?;
        let names = (0..).map(|place| piece_name(name, place)).take_while(|name| self.registry.has_template(name));
        let text = names.map(|name| self.registry.render_with_context(&name, &context));
        Ok(escape::markdown::page(&text.collect::<Result<String, RenderError>>().map_err(Box::new)?))
    }
}

/// The name of a template's piece; the first has the template's own.
fn piece_name(template: &str, place: usize) -> String {
    if place == 0 { template.to_owned() } else { format!("{template} {place}") }
}

/// A template in pieces, each to a blank line outside of all blocks. The library finds the line of every mark by counting
/// from the text's start, so that reading a text as a whole takes time with the square of its length.
fn pieces(text: &str) -> Vec<&str> {
    const LENGTH: usize = 500;
    let (mut pieces, mut start, mut end, mut open) = (Vec::new(), 0, 0, 0_usize);
    for part in text.split_inclusive("\n\n") {
        end += part.len();
        open = (open + part.matches("{{#").count()).saturating_sub(part.matches("{{/").count());
        if end == text.len() || (open == 0 && end - start >= LENGTH) {
            pieces.extend(text.get(start..end));
            start = end;
        }
    }
    pieces
}

//! Views → Markdown by handlebars.
//!
//! Templates hold layout only. Everything in `{{ }}` is escaped for Markdown, so that a user's text is always text.
//! Strict mode reports an unknown name, but not in `{{#if …}}`: the test `packet::template_check` walks every template for that.

use handlebars::template::Template;
use handlebars::{Handlebars, RenderError, TemplateError};
use rayon::prelude::*;
use serde_json::Value;

use super::escape;
use crate::views::Document;

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
    /// Reads the built-in templates.
    pub fn new(documents: &[&Document]) -> Result<Self, TemplateFault> {
        let mut registry = Handlebars::new();
        registry.set_strict_mode(true);
        registry.register_escape_fn(escape::markdown::enclose);
        let templates = documents.iter().map(|document| (document.name, document.template));
        let all: Vec<(&'static str, &'static str)> = PARTIALS.iter().copied().chain(templates).collect();
        let read = |(name, text): &(&'static str, &'static str)| {
            Ok((*name, Template::compile_with_name(text, (*name).to_owned())?))
        };
        let read =
            all.par_iter().map(read).collect::<Result<Vec<(&str, Template)>, TemplateError>>().map_err(Box::new)?;
        for (name, template) in read {
            registry.register_template(name, template);
        }
        Ok(Self { registry })
    }

    /// The Markdown of one template over its view.
    pub fn render(&self, name: &str, view: &Value) -> Result<String, TemplateFault> {
        Ok(escape::markdown::page(&self.registry.render(name, view).map_err(Box::new)?))
    }
}

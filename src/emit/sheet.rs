//! A document on its way into a page: its Markdown and drawings, then its HTML, and what can be found in it.

use pulldown_cmark::HeadingLevel;
use serde_json::Value;

use super::escape;
use super::html::{self, Place};
use super::markdown::{TemplateFault, Templates};
use super::page::{self, Found};
use super::picture::Picture;
use crate::views::{self, Document, Head};

/// A document as it is printed.
pub(super) struct Printed {
    pub(super) document: &'static Document,
    /// Its Markdown.
    pub(super) text: String,
    pub(super) pictures: Vec<Picture>,
}

impl Printed {
    /// Its part of a page of its own, with what can be found in it; `place` is where it stands in the packet, in words.
    pub(super) fn sheet(&self, place: &str) -> (page::Sheet<'static>, Vec<Found<'static>>) {
        let Self { document, text, pictures } = self;
        let body = html::body(text, pictures);
        let body = match document.sections() {
            Some(level) => body.in_sections(level),
            None => body,
        };
        let foot = if place.is_empty() { document.title.to_owned() } else { format!("{} · {place}", document.title) };
        let found = found(&body.places, document);
        (page::Sheet { foot, html: body.html.into(), ..self.bare() }, found)
    }

    /// A sheet of a page, without its text and its foot.
    pub(super) fn bare(&self) -> page::Sheet<'static> {
        let Self { document, pictures, .. } = self;
        page::Sheet {
            name: document.name,
            orientation: document.orientation,
            drawn: !pictures.is_empty(),
            size: pictures.first().map(|picture| picture.size),
            ..page::Sheet::default()
        }
    }
}

/// A sheet with its page.
pub(super) struct Made {
    pub(super) printed: Printed,
    pub(super) page: String,
}

impl Made {
    /// The sheet as it stands in its page, without its foot.
    pub(super) fn sheet(&self) -> page::Sheet<'_> {
        page::Sheet { html: page::text_in(&self.page).into(), ..self.printed.bare() }
    }
}

/// The page of a document and its title.
pub(super) fn file_and_title(document: &Document) -> (String, &'static str) {
    (format!("{}.html", document.name), document.title)
}

/// The places of a sheet that can be found: none of the long one that explains figures.
fn found(places: &[Place], document: &Document) -> Vec<Found<'static>> {
    if document.name == views::loop_figures::DOCUMENT.name {
        return Vec::new();
    }
    let (file, title) = file_and_title(document);
    let text = |place: &Place| match place.id.strip_prefix("zone-") {
        // The heading of a zone begins with its number alone.
        Some(number) if place.level.is_some() && place.words.starts_with(number) => format!("Zone {}", place.words),
        _ => place.words.clone(),
    };
    let found = |place: &Place| Found { text: text(place), sheet: title, to: format!("{file}#{}", place.id) };
    // A sheet's own title is found by its file.
    places.iter().filter(|place| place.level != Some(HeadingLevel::H1)).map(found).collect()
}

/// The Markdown of a document: the head that all share, then its own template.
pub(super) fn text_of(
    templates: &Templates,
    document: &Document,
    view: &Value,
    head: &Head,
) -> Result<String, TemplateFault> {
    let head = templates.render("head", &views::value(head))?;
    let body = templates.render(document.name, view)?;
    Ok(format!("{}\n\n{}\n", head.trim(), body.trim()))
}

/// The same; where it could not be made, what stands in its place.
pub(super) fn written(
    templates: &Result<&Templates, String>,
    document: &Document,
    view: &Value,
    head: &Head,
) -> String {
    let made = templates.as_ref().map_err(Clone::clone);
    let made = made.and_then(|templates| text_of(templates, document, view, head).map_err(|fault| fault.to_string()));
    made.unwrap_or_else(|fault| apology(document, &fault))
}

/// What stands on a sheet that could not be made: a fault of ours must not look like an empty house.
fn apology(document: &Document, fault: &str) -> String {
    let (title, fault) = (escape::markdown::enclose(document.title), escape::markdown::enclose(fault));
    escape::markdown::page(&format!(
        "# {title}\n\n**This sheet could not be made. That is a fault of the program; please report it:** {fault}\n"
    ))
}

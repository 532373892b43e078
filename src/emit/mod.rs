//! Views → files: Markdown by handlebars, HTML by pulldown-cmark, drawings, CSV, JSON, all in a bundle in memory.
//!
//! Which documents there are stands in [`views::DOCUMENTS`]; nothing here knows any of them. handlebars and
//! pulldown-cmark are used nowhere else.

#![allow(clippy::wildcard_enum_match_arm, reason = "events of pulldown-cmark, and places in its text")]

pub(crate) mod bundle;
pub(crate) mod calendar;
pub mod escape;
pub(crate) mod html;
pub mod markdown;
pub(crate) mod marks;
pub(crate) mod table;

pub use bundle::Bundle;

use serde_json::Value;

use crate::compiled::Compiled;
use crate::draw::svg;
use crate::views::work_order::{self, WorkOrder};
use crate::views::{self, Document, Drawing, Head, Sheet};

use html::Frame;
use markdown::{TemplateFault, Templates};

/// Makes the packet of a site.
pub fn packet(compiled: &Compiled) -> Bundle {
    make(compiled, None)
}

/// Makes the packet of a site with marks beside what differs from an earlier revision, and with the work order that
/// leads from there to here. `since` is how the earlier revision is called on the sheets.
pub(crate) fn packet_since(compiled: &Compiled, old: &Compiled, since: &str, order: &WorkOrder) -> Bundle {
    let mut bundle = make(compiled, Some((old, since)));
    let sheet = views::packet(true).last().map(|(sheet, _)| *sheet);
    let (markdown, html) = work_order_on(order, sheet);
    bundle.put("work-order.md", markdown);
    bundle.put("work-order.html", html);
    bundle.put("work-order.json", order.json());
    bundle.put("work-order.schema.json", WorkOrder::schema());
    bundle
}

/// A work order that stands alone, as Markdown and as a page.
pub fn work_order(order: &WorkOrder) -> (String, String) {
    work_order_on(order, None)
}

fn work_order_on(order: &WorkOrder, sheet: Option<Sheet>) -> (String, String) {
    let document = &work_order::DOCUMENT;
    let head = Head::plain(&order.title, document).on(sheet);
    let made = Templates::new(&[document]).map_err(|fault| fault.to_string()).and_then(|templates| {
        let head = templates.render("head", &views::value(&head));
        let body = templates.render(document.name, &views::value(order));
        let both = head.and_then(|head| body.map(|body| format!("{}\n\n{}\n", head.trim(), tidy(body.trim()))));
        both.map_err(|fault| fault.to_string())
    });
    let text = made.unwrap_or_else(|fault| apology(document, &fault));
    let line = format!("{} · revision {} → {}", order.title, order.old, order.new);
    let page = html::page(&text, frame(document, &line, sheet), &[]);
    (text, page)
}

fn frame<'f>(document: &'f Document, site: &'f str, sheet: Option<Sheet>) -> Frame<'f> {
    Frame { name: document.name, title: document.title, site, sheet, orientation: document.orientation }
}

/// No more than one empty line at a time: parts of a template that print nothing leave some.
fn tidy(text: &str) -> String {
    let mut tidy = String::with_capacity(text.len());
    let mut empty = false;
    for line in text.lines() {
        if !(empty && line.is_empty()) {
            tidy.push_str(line);
            tidy.push('\n');
        }
        empty = line.is_empty();
    }
    tidy.trim_end().to_owned()
}

fn make(compiled: &Compiled, since: Option<(&Compiled, &str)>) -> Bundle {
    let templates = Templates::new(views::DOCUMENTS);
    let mut bundle = Bundle::default();
    for (sheet, document) in views::packet(since.is_some()).into_iter().take(views::DOCUMENTS.len()) {
        let sheet = Some(sheet);
        let (view, drawings) = document.made(compiled);
        let made = templates.as_ref().map_err(ToString::to_string).and_then(|templates| {
            let head = Head::of(&compiled.site, document).on(sheet).since(since.map_or("", |(_, named)| named));
            let text = text_of(templates, document, &view, &head).map_err(|fault| fault.to_string())?;
            Ok(match since {
                Some((old, _)) => marks::of(templates, document, &text, old) + pointer(document),
                None => text,
            })
        });
        let text = made.unwrap_or_else(|fault| apology(document, &fault));
        let line = Head::of(&compiled.site, document).line();
        for drawing in &drawings {
            bundle.put(drawing.file(), drawn(drawing));
        }
        bundle.put(format!("{}.html", document.name), html::page(&text, frame(document, &line, sheet), &drawings));
        bundle.put(format!("{}.md", document.name), text);
        if let Some(make) = document.table {
            bundle.put(format!("{}.csv", document.name), table::csv(&make(compiled)));
        }
    }
    if let Some(found) = views::upkeep::calendar(compiled) {
        bundle.put("maintenance.ics", calendar::ics(&found));
    }
    bundle.put("site.json", views::site_data::json(compiled));
    bundle.put("site.schema.json", views::site_data::schema());
    bundle
}

/// A drawing as SVG.
fn drawn(drawing: &Drawing) -> String {
    svg::print(&drawing.scene, &drawing.title, &drawing.words)
}

/// What the cover says of the sheet that is in the packet of a comparison only.
fn pointer(document: &Document) -> &'static str {
    if document.name == views::cover::DOCUMENT.name {
        "\n## What changed\n\n[Work order](work-order.md): the steps that lead here from the revision before.\n"
    } else {
        ""
    }
}

/// The Markdown of a document: the head that all share, then its own template.
fn text_of(templates: &Templates, document: &Document, view: &Value, head: &Head) -> Result<String, TemplateFault> {
    let head = templates.render("head", &views::value(head))?;
    let body = templates.render(document.name, view)?;
    Ok(format!("{}\n\n{}\n", head.trim(), body.trim()))
}

/// What stands on a sheet that could not be made: a fault of ours must not look like an empty house.
fn apology(document: &Document, fault: &str) -> String {
    let (title, fault) = (escape::markdown::enclose(document.title), escape::markdown::enclose(fault));
    escape::markdown::page(&format!(
        "# {title}\n\n**This sheet could not be made. That is a fault of the program; please report it:** {fault}\n"
    ))
}

//! Views → files: Markdown by handlebars, HTML by pulldown-cmark, drawings, CSV, JSON, all in a bundle in memory.
//!
//! Which documents there are stands in [`views::DOCUMENTS`]; nothing here knows any of them. handlebars and
//! pulldown-cmark are used nowhere else.

#![allow(clippy::wildcard_enum_match_arm, reason = "events of pulldown-cmark, and places in its text")]

pub(crate) mod bundle;
pub(crate) mod calendar;
mod chapter;
pub mod escape;
pub(crate) mod html;
mod links;
mod live;
pub mod markdown;
pub(crate) mod marks;
mod page;
mod picture;
mod rule_pages;
mod summary;
pub(crate) mod table;
mod unbroken;

pub use bundle::Bundle;
pub(crate) use chapter::chapter;
pub(crate) use live::{live, without_packet};
pub(crate) use summary::summary;

use std::fmt::Write;

use pulldown_cmark::HeadingLevel;
use rayon::prelude::*;
use serde_json::Value;

use crate::compiled::Compiled;
use crate::model::Site;
use crate::views::readers::{Reader, SHARES, Share};
use crate::views::work_order::{self, WorkOrder};
use crate::views::{self, Document, Head, Sheet};

use html::Place;
use markdown::{TemplateFault, Templates};
use page::{Found, Page, Tool};
use picture::Picture;

/// Makes the packet of a site: every sheet, and the joined file of each of `readers`.
pub fn packet(compiled: &Compiled, readers: &[Reader]) -> Bundle {
    make(compiled, readers, None)
}

/// Makes the packet of a site with marks beside what differs from an earlier revision, and with the work order that
/// leads from there to here. `since` is how the earlier revision is called on the sheets.
pub(crate) fn packet_since(
    compiled: &Compiled,
    readers: &[Reader],
    old: &Compiled,
    since: &str,
    order: &WorkOrder,
) -> Bundle {
    let mut bundle = make(compiled, readers, Some((old, since)));
    for (sheet, document) in views::packet(true).into_iter().skip(views::DOCUMENTS.len()) {
        let (markdown, html) = work_order_on(document, order, Some(sheet));
        bundle.put(format!("{}.md", document.name), markdown);
        bundle.put(format!("{}.html", document.name), html);
    }
    bundle.put("work-order.json", order.json());
    bundle.put("work-order.schema.json", WorkOrder::schema());
    bundle
}

/// A work order that stands alone, as Markdown and as a page.
pub fn work_order(order: &WorkOrder) -> (String, String) {
    work_order_on(&work_order::DOCUMENT, order, None)
}

/// The same for whoever does no more than the wiring.
pub fn work_order_of_wiring(order: &WorkOrder) -> (String, String) {
    work_order_on(&work_order::WIRING, order, None)
}

fn work_order_on(document: &'static Document, order: &WorkOrder, sheet: Option<Sheet>) -> (String, String) {
    let head = Head::plain(&order.title, document);
    let made = Templates::new(&[document]).map_err(|fault| fault.to_string()).and_then(|templates| {
        let head = templates.render("head", &views::value(&head));
        let body = templates.render(document.name, &views::value(order));
        let both = head.and_then(|head| body.map(|body| format!("{}\n\n{}\n", head.trim(), tidy(body.trim()))));
        both.map_err(|fault| fault.to_string())
    });
    let text = made.unwrap_or_else(|fault| apology(document, &fault));
    let line = format!("{} · revision {} → {}", order.title, order.old, order.new);
    let printed = Printed { document, text, pictures: Vec::new() };
    let place = sheet.map(|sheet| sheet.to_string()).unwrap_or_default();
    let others = sheet.map(|_| vec![file_and_title(&views::cover::DOCUMENT)]).unwrap_or_default();
    let (sheet, _) = printed.sheet(&place);
    let title = format!("{} – {line}", document.title);
    let page = Page { title: &title, line: &line, others, sheets: vec![sheet], ..Page::default() }.html();
    (printed.text, page)
}

/// A document as it is printed.
struct Printed {
    document: &'static Document,
    /// Its Markdown.
    text: String,
    pictures: Vec<Picture>,
}

impl Printed {
    /// Its part of a page of its own, with what can be found in it; `place` is where it stands in the packet, in words.
    fn sheet(&self, place: &str) -> (page::Sheet<'static>, Vec<Found<'static>>) {
        let Self { document, text, pictures } = self;
        let body = html::body(text, pictures);
        let body = if document.keeps_sections() { body.in_sections() } else { body };
        let foot = if place.is_empty() { document.title.to_owned() } else { format!("{} · {place}", document.title) };
        let found = found(&body.places, document);
        (page::Sheet { foot, html: body.html.into(), ..self.bare() }, found)
    }

    /// A sheet of a page, without its text and its foot.
    fn bare(&self) -> page::Sheet<'static> {
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
struct Made {
    printed: Printed,
    page: String,
}

impl Made {
    /// The sheet as it stands in its page, without its foot.
    fn sheet(&self) -> page::Sheet<'_> {
        page::Sheet { html: page::text_in(&self.page).into(), ..self.printed.bare() }
    }
}

/// The page of a document and its title.
fn file_and_title(document: &Document) -> (String, &'static str) {
    (format!("{}.html", document.name), document.title)
}

/// The places of a sheet that can be found: none of the long one that explains figures.
fn found(places: &[Place], document: &Document) -> Vec<Found<'static>> {
    if document.name == views::loop_figures::DOCUMENT.name {
        return Vec::new();
    }
    let (file, title) = file_and_title(document);
    let found = |place: &Place| Found { text: place.words.clone(), sheet: title, to: format!("{file}#{}", place.id) };
    // A sheet's own title is found by its file.
    places.iter().filter(|place| place.level != Some(HeadingLevel::H1)).map(found).collect()
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

fn make(compiled: &Compiled, readers: &[Reader], since: Option<(&Compiled, &str)>) -> Bundle {
    let templates = Templates::new(views::DOCUMENTS).map_err(|fault| fault.to_string());
    let data = views::site_data::json(compiled);
    let line = Head::line(&compiled.site, &data);
    let print = |document: &'static Document| {
        let (view, drawings) = document.made(compiled);
        let pictures = drawings.iter().map(Picture::of).collect();
        let head = Head::of(&compiled.site, document).since(since.map_or("", |(_, named)| named));
        let text = written(&templates, document, &view, &head);
        let mut text = match (since, &templates) {
            (Some((old, _)), Ok(templates)) => marks::of(templates, document, &text, old),
            (Some(_), Err(_)) | (None, _) => text,
        };
        if document.name == views::findings::DOCUMENT.name {
            text.push_str(&rule_pages::text(&views::findings::rules(compiled)));
        } else if document.name == views::cover::DOCUMENT.name {
            text.push_str(&pointers(readers, since.is_some()));
        }
        Printed { document, text, pictures }
    };
    let packet = views::packet(since.is_some());
    let own = packet.get(..views::DOCUMENTS.len()).unwrap_or_default();
    let page = |at: usize, sheet: page::Sheet, tool: Tool| {
        let beside = [(at > 1).then(|| at - 1), Some(at + 1)].into_iter().flatten();
        let others = beside.filter_map(|at| own.get(at)).map(|(_, other)| file_and_title(other));
        let cover = (at > 0).then(|| file_and_title(&views::cover::DOCUMENT));
        let title = own.get(at).map(|(_, document)| format!("{} – {line}", document.title)).unwrap_or_default();
        // The first is the cover, from which everything is found.
        let others = if at == 0 { Vec::new() } else { cover.into_iter().chain(others).collect() };
        let house = Some(&compiled.site.house_style);
        let lengths = compiled.site.lengths;
        Page { title: &title, line: &line, others, sheets: vec![sheet], tool, house, style: "", lengths }.html()
    };
    // A page is made at once: of a large house neither drawings nor texts of all sheets stand beside their pages.
    let behind_cover = own.par_iter().enumerate().skip(1).map(|(at, (sheet, document))| {
        let printed = print(document);
        let (sheet, found) = printed.sheet(&sheet.to_string());
        let takes = document.name == views::commissioning_sheet::DOCUMENT.name;
        let take = || Tool::Take(&compiled.site.title, views::fresh_readings::groups(compiled));
        let page = page(at, sheet, if takes { take() } else { Tool::None });
        (Made { printed, page }, found)
    });
    let (mut made, places): (Vec<Made>, Vec<Vec<Found>>) = behind_cover.unzip();
    if let Some((sheet, document)) = own.first() {
        let printed = print(document);
        let (sheet, found) = printed.sheet(&sheet.to_string());
        let page = page(0, sheet, Tool::Find(found.into_iter().chain(places.into_iter().flatten()).collect()));
        made.insert(0, Made { printed, page });
    }
    let mut bundle = Bundle::default();
    // One after the other, for each is as long as all its sheets.
    for share in SHARES.iter().filter(|share| readers.contains(&share.reader)) {
        let of_share = |document: &&Document| made.iter().find(|made| made.printed.document.name == document.name);
        let sheets: Vec<&Made> = share.sheets.iter().filter_map(of_share).collect();
        bundle.put(format!("{}.html", share.file), joined(&templates, &compiled.site, share, &sheets, &line));
    }
    for Made { printed: Printed { document, text, pictures }, page } in made {
        for Picture { file, svg, .. } in pictures {
            bundle.put(file, svg);
        }
        bundle.put(format!("{}.html", document.name), page);
        bundle.put(format!("{}.md", document.name), text);
        if let Some(make) = document.table {
            bundle.put(format!("{}.csv", document.name), table::csv(&make(compiled)));
        }
    }
    if let Some(found) = views::upkeep::calendar(compiled) {
        bundle.put("maintenance.ics", calendar::ics(&found));
    }
    bundle.put("site.json", data);
    bundle.put("site.schema.json", views::site_data::schema());
    bundle
}

/// One reader's sheets in one page, behind a cover of their own.
fn joined(templates: &Result<Templates, String>, site: &Site, share: &Share, sheets: &[&Made], line: &str) -> String {
    let document = &views::cover::DOCUMENT;
    let text = written(templates, document, &views::cover::of_share(site, share), &Head::of_share(site, share));
    let (cover, _) = Printed { document, text, pictures: Vec::new() }.sheet("");
    let all = std::iter::once(cover).chain(sheets.iter().map(|made| made.sheet()));
    let documents: Vec<&'static Document> =
        std::iter::once(document).chain(sheets.iter().map(|made| made.printed.document)).collect();
    let (of, reader) = (documents.len(), share.reader.word());
    let mut places = Vec::new();
    for together in on_one_paper(&documents) {
        let number = places.len() + 1;
        let foot = Document::foot_of(together.iter().copied(), Sheet { number, of });
        let first = together.first().map(|document| document.name);
        let place = |nth: usize| (format!("{foot}, for the {reader}"), first.filter(|_| nth > 0));
        places.extend((0..together.len()).map(place));
    }
    let placed = |(sheet, (foot, on_paper_of))| page::Sheet { foot, on_paper_of, ..sheet };
    let title = format!("{} – {line}", share.title);
    let sheets = all.zip(places).map(placed).collect();
    let house = Some(&site.house_style);
    Page { title: &title, line, sheets, house, lengths: site.lengths, ..Page::default() }.html()
}

/// The most sheets of a joined file that go on one behind the other on the same paper: their foot names all of them.
const TOGETHER: usize = 5;

/// Sheets in a row that lie alike go on one behind the other, so that none ends on a page that is nearly empty. What is
/// hung up or sent away by itself has its own pages.
fn on_one_paper<'p>(documents: &'p [&'static Document]) -> Vec<&'p [&'static Document]> {
    let joins =
        |one: &&Document, next: &&Document| one.orientation == next.orientation && !one.is_apart() && !next.is_apart();
    documents.chunk_by(joins).flat_map(|run| run.chunks(TOGETHER)).collect()
}

/// What the cover says of files that are in some packets only.
fn pointers(readers: &[Reader], of_comparison: bool) -> String {
    let mut text = String::new();
    if !readers.is_empty() {
        text.push_str(
            "\n## One file for each reader\n\nTo hand over and to print: all sheets of one reader in one file.\n\n",
        );
        for share in SHARES.iter().filter(|share| readers.contains(&share.reader)) {
            // Writing to a string cannot fail.
            let _ = writeln!(text, "- [{}]({}.html)", share.title, share.file);
        }
    }
    if of_comparison {
        text.push_str(
            "\n## What changed\n\n[Work order](work-order.md): the steps that lead here from the revision before; [the wiring of it](work-order-wiring.md), for whoever does no more than that.\n",
        );
    }
    text
}

/// The Markdown of a document: the head that all share, then its own template.
fn text_of(templates: &Templates, document: &Document, view: &Value, head: &Head) -> Result<String, TemplateFault> {
    let head = templates.render("head", &views::value(head))?;
    let body = templates.render(document.name, view)?;
    Ok(format!("{}\n\n{}\n", head.trim(), body.trim()))
}

/// The same; where it could not be made, what stands in its place.
fn written(templates: &Result<Templates, String>, document: &Document, view: &Value, head: &Head) -> String {
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

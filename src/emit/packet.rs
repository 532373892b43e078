//! The packet of a site: every sheet with its page, table and drawings, the joined file of each reader, data and calendar.

use std::fmt::Write;

use rayon::prelude::*;

use super::joined::joined;
use super::markdown::Templates;
use super::page::{self, Found, Page, Tool};
use super::picture::Picture;
use super::sheet::{Made, Printed, file_and_title, written};
use super::work_order::work_order_on;
use super::{Bundle, calendar, marks, rule_pages, table};
use crate::compiled::Compiled;
use crate::views::readers::{Reader, SHARES};
use crate::views::work_order::WorkOrder;
use crate::views::{self, Document, Head, Sheet};

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

fn make(compiled: &Compiled, readers: &[Reader], since: Option<(&Compiled, &str)>) -> Bundle {
    let data = views::site_data::json(compiled);
    let packet = Packet {
        compiled,
        readers,
        since,
        templates: Templates::of_packet(),
        sheets: views::packet(since.is_some()).into_iter().take(views::DOCUMENTS.len()).collect(),
        line: Head::line(&compiled.site, &data),
    };
    let made = packet.made();
    let mut bundle = Bundle::default();
    // One after the other, for each is as long as all its sheets.
    for share in SHARES.iter().filter(|share| readers.contains(&share.reader)) {
        let of_share = |document: &&Document| made.iter().find(|made| made.printed.document.name == document.name);
        let sheets: Vec<&Made> = share.sheets.iter().filter_map(of_share).collect();
        let page = joined(&packet.templates, &compiled.site, share, &sheets, &packet.line, since.is_some());
        bundle.put(format!("{}.html", share.file), page);
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

/// What the sheets of a packet are made of.
struct Packet<'a> {
    compiled: &'a Compiled,
    /// Who gets a joined file.
    readers: &'a [Reader],
    /// An earlier revision that changes are marked against, and how it is called on the sheets.
    since: Option<(&'a Compiled, &'a str)>,
    templates: Result<&'static Templates, String>,
    /// The documents of every packet, the cover first.
    sheets: Vec<(Sheet, &'static Document)>,
    /// What stands at the left of each page's foot.
    line: String,
}

impl Packet<'_> {
    /// All sheets with their pages. A page is made at once: of a large house neither drawings nor texts of all sheets stand
    /// beside their pages.
    fn made(&self) -> Vec<Made> {
        let compiled = self.compiled;
        let behind_cover = self.sheets.par_iter().enumerate().skip(1).map(|(at, (sheet, document))| {
            let printed = self.printed(document);
            let (sheet, found) = printed.sheet(&sheet.to_string());
            let takes = document.name == views::commissioning_sheet::DOCUMENT.name;
            let site = [compiled.site.name.value.as_str(), compiled.site.title.as_str()];
            let take = || Tool::Take(site, views::fresh_readings::groups(compiled));
            let page = self.page(at, sheet, if takes { take() } else { Tool::None });
            (Made { printed, page }, found)
        });
        let (mut made, places): (Vec<Made>, Vec<Vec<Found>>) = behind_cover.unzip();
        // From the cover everything is found.
        if let Some((sheet, document)) = self.sheets.first() {
            let printed = self.printed(document);
            let (sheet, found) = printed.sheet(&sheet.to_string());
            let page = self.page(0, sheet, Tool::Find(found.into_iter().chain(places.into_iter().flatten()).collect()));
            made.insert(0, Made { printed, page });
        }
        made
    }

    /// A document with its drawings.
    fn printed(&self, document: &'static Document) -> Printed {
        let (view, drawings) = document.made(self.compiled);
        let pictures = drawings.iter().map(Picture::of).collect();
        let head = Head::of(&self.compiled.site, document).since(self.since.map_or("", |(_, named)| named));
        let text = written(&self.templates, document, &view, &head);
        let mut text = match (self.since, &self.templates) {
            (Some((old, _)), Ok(templates)) => marks::of(templates, document, &text, old),
            (Some(_), Err(_)) | (None, _) => text,
        };
        if document.name == views::findings::DOCUMENT.name {
            text.push_str(&rule_pages::text(&views::findings::rules(self.compiled)));
        } else if document.name == views::cover::DOCUMENT.name {
            text.push_str(&pointers(self.readers, self.since.is_some()));
        }
        Printed { document, text, pictures }
    }

    /// The page of a sheet, with links to the cover and to the sheets beside it.
    fn page(&self, at: usize, sheet: page::Sheet, tool: Tool) -> String {
        let Self { compiled, sheets, line, .. } = self;
        let beside = match at {
            0 => Vec::new(),
            1 => vec![0, 2],
            _ => vec![0, at - 1, at + 1],
        };
        let others = beside.into_iter().filter_map(|at| sheets.get(at)).map(|(_, other)| file_and_title(other));
        let others = others.collect();
        let title = sheets.get(at).map(|(_, document)| format!("{} – {line}", document.title)).unwrap_or_default();
        let house = Some(&compiled.site.house_style);
        let lengths = compiled.site.lengths;
        Page { title: &title, line, others, sheets: vec![sheet], tool, house, style: "", lengths }.html()
    }
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

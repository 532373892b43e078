//! A work order → Markdown and a page, alone or in the packet of the revision that it leads to.

use super::markdown::Templates;
use super::page::Page;
use super::sheet::{Printed, file_and_title, written};
use crate::views::work_order::{self, WorkOrder};
use crate::views::{self, Document, Head, Sheet};

/// A work order that stands alone, as Markdown and as a page.
pub fn work_order(order: &WorkOrder) -> (String, String) {
    work_order_on(&work_order::DOCUMENT, order, None)
}

/// The same for whoever does no more than the wiring.
pub fn work_order_of_wiring(order: &WorkOrder) -> (String, String) {
    work_order_on(&work_order::WIRING, order, None)
}

pub(super) fn work_order_on(document: &'static Document, order: &WorkOrder, sheet: Option<Sheet>) -> (String, String) {
    let templates = Templates::new(&[document]).map_err(|fault| fault.to_string());
    let head = Head::plain(&order.title, &order.house, document);
    let text = tidy(&written(&templates.as_ref().map_err(Clone::clone), document, &views::value(order), &head));
    let line = format!("{} · revision {} → {}", order.title, order.old, order.new);
    let printed = Printed { document, text, pictures: Vec::new() };
    let place = sheet.map(|sheet| sheet.to_string()).unwrap_or_default();
    let others = sheet.map(|_| vec![file_and_title(&views::cover::DOCUMENT)]).unwrap_or_default();
    let (sheet, _) = printed.sheet(&place);
    let title = format!("{} – {line}", document.title);
    let page = Page {
        title: &title,
        line: &line,
        others,
        house: Some(&order.house),
        sheets: vec![sheet],
        lengths: order.lengths,
        ..Page::default()
    }
    .html();
    (printed.text, page)
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
    tidy
}

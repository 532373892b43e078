//! A work order → Markdown and a page, alone or in the packet of the revision that it leads to.

use super::markdown::Templates;
use super::page::Page;
use super::sheet::{Printed, apology, file_and_title};
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

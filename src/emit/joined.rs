//! The sheets of one reader → one page, behind a cover of their own.

use super::markdown::Templates;
use super::page::{self, Page};
use super::sheet::{Made, Printed, written};
use crate::model::Site;
use crate::views::readers::Share;
use crate::views::{self, Document, Head, Sheet};

/// One reader's sheets in one page, behind a cover of their own.
pub(super) fn joined(
    templates: &Result<&Templates, String>,
    site: &Site,
    share: &Share,
    sheets: &[&Made],
    line: &str,
    of_comparison: bool,
) -> String {
    let document = &views::cover::DOCUMENT;
    let text =
        written(templates, document, &views::cover::of_share(site, share, of_comparison), &Head::of_share(site, share));
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

/// Sheets in a row that lie alike go on one behind the other, so that none ends on a page that is nearly empty. What is
/// hung up or sent away by itself has its own pages.
fn on_one_paper<'p>(documents: &'p [&'static Document]) -> Vec<&'p [&'static Document]> {
    let joins =
        |one: &&Document, next: &&Document| one.orientation == next.orientation && !one.is_apart() && !next.is_apart();
    documents.chunk_by(joins).collect()
}

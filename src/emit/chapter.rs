//! A long text that belongs to no site, as one page that stands alone: its contents, then the text.

use std::fmt::Write;

use super::escape;
use super::html::{self, Body, Place};
use super::page::{Page, Sheet};
use crate::views::Orientation;

/// The page of a text in Markdown; `line` is printed at its foot.
pub(crate) fn chapter(title: &str, line: &str, markdown: &str) -> String {
    stand_alone(("chapter", Orientation::default(), ""), title, line, markdown)
}

/// The same for a kind of text, with how its paper lies and what it adds to the style.
pub(super) fn stand_alone(
    (name, orientation, style): (&str, Orientation, &str),
    title: &str,
    line: &str,
    markdown: &str,
) -> String {
    let Body { html, places } = html::body(markdown, &[]);
    let html = format!("{}{html}", contents(&places)).into();
    let sheet = Sheet { name, foot: title.to_owned(), orientation, html, ..Sheet::default() };
    Page { title, line, style, sheets: vec![sheet], ..Page::default() }.html()
}

/// Links to all headings: a list for each title, and the smaller ones behind that which they stand under.
fn contents(places: &[Place]) -> String {
    let mut out = "<section class=\"contents\">\n".to_owned();
    let mut open = false;
    for place in places {
        let Some(level) = place.level else { continue };
        let (id, words) = (escape::html(&place.id), escape::html(&place.words));
        // Writing to a string cannot fail.
        let _ = match level as u8 {
            1 => {
                let end = if std::mem::take(&mut open) { "</ul>\n" } else { "" };
                writeln!(out, "{end}<p><a href=\"#{id}\"><b>{words}</b></a></p>")
            }
            depth => {
                let start = if std::mem::replace(&mut open, true) { "" } else { "<ul>\n" };
                writeln!(out, "{start}<li class=\"depth-{depth}\"><a href=\"#{id}\">{words}</a></li>")
            }
        };
    }
    let end = if open { "</ul>\n" } else { "" };
    out + end + "</section>\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_heading_is_in_the_contents_and_every_link_leads_somewhere() {
        let page = chapter("T", "l", "# A <b>\n\n## `x`\n\n### `y` in `x`\n\n# B\n\n| a |\n| --- |\n| b |\n\n## `x`\n");
        let contents = "<section class=\"contents\">\n<p><a href=\"#a-b\"><b>A &lt;b&gt;</b></a></p>\n<ul>\n\
             <li class=\"depth-2\"><a href=\"#x\">x</a></li>\n<li class=\"depth-3\"><a href=\"#y-in-x\">y in x</a></li>\n\
             </ul>\n<p><a href=\"#b\"><b>B</b></a></p>\n<ul>\n<li class=\"depth-2\"><a href=\"#x-2\">x</a></li>\n</ul>\n</section>\n";
        assert!(page.contains(contents), "{page}");
        for link in page.split("href=\"#").skip(1).map(|rest| rest.split('"').next().unwrap()) {
            assert_eq!(page.matches(&format!("id=\"{link}\"")).count(), 1, "{link}");
        }
        assert!(!page.contains("<script") && !page.contains("://"));
    }
}

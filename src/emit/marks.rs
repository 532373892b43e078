//! Changed marks: a bar beside every row of a document that differs from the same document of an earlier revision.
//!
//! Rows are compared as text, within the section they stand in: a table row or a list item that the old document has
//! not, under a heading of the same words, is marked. Where its links lead does not count: a row keeps its words where a
//! new row above it gives it another number. What the marker is, the HTML filter knows as well. Out of scope: rows that
//! are gone; the work order lists them.

use std::collections::BTreeMap;

use super::markdown::Templates;
use super::sheet::text_of;
use crate::compiled::Compiled;
use crate::views::{self, Head};

/// The mark, as it stands in the Markdown before the first cell's text. No text of the user's can look so: its
/// asterisks are escaped.
pub(crate) const MARK: &str = "**▌** ";

/// The new Markdown with a mark in every row that the old one has not.
pub(crate) fn marked(old: &str, new: &str) -> String {
    let mut known: BTreeMap<(String, String), usize> = BTreeMap::new();
    for (section, line) in rows(old) {
        *known.entry((section, said(line))).or_insert(0) += 1;
    }
    let mut marked = String::with_capacity(new.len() + 64);
    let mut section = String::new();
    let mut lines = new.lines().peekable();
    while let Some(line) = lines.next() {
        follow(&mut section, line);
        let is_head = lines.peek().is_some_and(|next| next.starts_with("| ---"));
        let text = match start(line).filter(|_| !is_head) {
            Some(start) if !take(&mut known, &section, line) => {
                let (before, after) = line.split_at(start);
                format!("{before}{MARK}{after}")
            }
            _ => line.to_owned(),
        };
        marked.push_str(&text);
        marked.push('\n');
    }
    marked
}

fn take(known: &mut BTreeMap<(String, String), usize>, section: &str, line: &str) -> bool {
    match known.get_mut(&(section.to_owned(), said(line))) {
        Some(left) if *left > 0 => {
            *left -= 1;
            true
        }
        _ => false,
    }
}

/// A text without the places that its links lead to. Brackets of the user's are escaped.
fn said(text: &str) -> String {
    let mut pieces = text.split("](");
    let first = pieces.next().unwrap_or_default().to_owned();
    pieces.fold(first, |said, piece| match piece.split_once(')') {
        Some((_, rest)) if !said.ends_with('\\') => said + "]" + rest,
        Some(_) | None => said + "](" + piece,
    })
}

/// Rows and list items with their section.
fn rows(text: &str) -> Vec<(String, &str)> {
    let mut section = String::new();
    let mut found = Vec::new();
    for line in text.lines() {
        follow(&mut section, line);
        if start(line).is_some() {
            found.push((section.clone(), line));
        }
    }
    found
}

/// Keeps the heading that a line stands under.
fn follow(section: &mut String, line: &str) {
    if line.starts_with('#') {
        line.clone_into(section);
    }
}

/// Where the text of a row or a list item starts; `None` for other lines and for the rule under a table's head.
fn start(line: &str) -> Option<usize> {
    if line.starts_with("| ---") {
        return None;
    }
    // The box of a task comes first in its item, or it is no box.
    ["| ", "- [ ] ", "- ", "> "].iter().find(|start| line.starts_with(**start)).map(|start| start.len())
}

/// Titles of the documents whose text or drawings differ between two revisions, beyond their heads.
pub(crate) fn sheets_that_differ(old: &Compiled, new: &Compiled) -> Vec<String> {
    let Ok(templates) = Templates::of_packet() else { return Vec::new() };
    let body = |document: &views::Document, compiled: &Compiled| {
        let (view, drawings) = document.made(compiled);
        let text = templates.render(document.name, &view).unwrap_or_default();
        let drawings = drawings.into_iter();
        (said(&text), drawings.map(|drawing| (drawing.words, drawing.scene.without_title_block())).collect::<Vec<_>>())
    };
    let differs = |document: &&&views::Document| body(document, old) != body(document, new);
    views::DOCUMENTS.iter().filter(differs).map(|document| document.title.to_owned()).collect()
}

/// A document's Markdown with the rows marked that differ from another revision's.
pub(crate) fn of(templates: &Templates, document: &views::Document, text: &str, old: &Compiled) -> String {
    text_of(templates, document, &document.view(old), &Head::of(&old.site, document))
        .map_or_else(|_| text.to_owned(), |before| marked(&before, text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_that_are_new_in_their_section_are_marked() {
        let old = "# T\n\n**S** A\n\n## One\n\n| a | b |\n| --- | --- |\n| 1 | x |\n| 1 | x |\n\n## Two\n\n- p\n";
        let new = "# T\n\n**S** B\n\n## One\n\n| a | b |\n| --- | --- |\n| 1 | x |\n| 2 | x |\n\n## Two\n\n| 1 | x |\n- p\n- q\n";
        let wanted = "# T\n\n**S** B\n\n## One\n\n| a | b |\n| --- | --- |\n| 1 | x |\n| **▌** 2 | x |\n\n## Two\n\n| **▌** 1 | x |\n- p\n- **▌** q\n";
        assert_eq!(marked(old, new), wanted);
        assert_eq!(marked(new, new), new);
    }

    #[test]
    fn where_a_link_leads_makes_no_change() {
        let old = "| [I1](#board-1-7) | [Z1](enclosures.md#board-1-7) | x |\n";
        let new = "| [I1](#board-1-8) | [Z1](enclosures.md#board-1-8) | x |\n";
        assert_eq!(marked(old, new), new);
        let other = new.replace("Z1", "Z2");
        assert_eq!(marked(old, &other), other.replace("| [I1]", "| **▌** [I1]"));
    }

    #[test]
    fn words_of_the_users_in_brackets_are_no_link() {
        assert_eq!(marked("- a\\](x) b\n", "- a\\](y) b\n"), "- **▌** a\\](y) b\n");
    }

    #[test]
    fn a_changed_task_keeps_its_box() {
        assert_eq!(marked("- [ ] a\n", "- [ ] a\n- [ ] b\n"), "- [ ] a\n- [ ] **▌** b\n");
    }

    #[test]
    fn a_row_more_than_before_is_marked_once() {
        assert_eq!(marked("- a\n", "- a\n- a\n"), "- a\n- **▌** a\n");
    }
}

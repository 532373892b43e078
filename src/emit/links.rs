//! A sheet's HTML in a joined file: links that lead to other files lead to places of the same file.
//!
//! Every place has the name of its sheet in front, since two sheets may have places of one name. A link to what is not in
//! the file is its words alone. Only tags are looked at: the HTML is ours, so that in a text no `<` stands for itself, and in
//! a tag no `>`; only headings and links are places, and an `a` never stands in another.

use std::borrow::Cow;

/// A sheet in a joined file.
#[derive(Clone, Copy, Debug)]
pub(super) struct Joined<'p> {
    /// Its name.
    pub(super) sheet: &'p str,
    /// The names of all sheets of the file.
    pub(super) sheets: &'p [&'p str],
}

impl Joined<'_> {
    /// Adds the sheet's HTML, as it stands in a page of its own, to the page of the file.
    pub(super) fn add(&self, html: &str, page: &mut String) {
        let mut dropped = false;
        let mut pieces = html.split('<');
        page.push_str(pieces.next().unwrap_or_default());
        for piece in pieces {
            // Most tags are none of a heading, a link or its end.
            if !piece.starts_with(['a', 'h', '/']) {
                page.push('<');
                page.push_str(piece);
                continue;
            }
            let (tag, text) = piece.split_once('>').unwrap_or((piece, ""));
            let kept = if tag == "/a" {
                (!std::mem::take(&mut dropped)).then_some(Cow::Borrowed(tag))
            } else if tag.starts_with("a ") {
                let kept = self.led(self.named(tag));
                dropped = kept.is_none();
                kept
            } else {
                Some(self.named(tag))
            };
            if let Some(tag) = kept {
                for part in ["<", &tag, ">"] {
                    page.push_str(part);
                }
            }
            page.push_str(text);
        }
    }

    /// A tag with the place that it is.
    fn named<'t>(&self, tag: &'t str) -> Cow<'t, str> {
        let Some((before, place, after)) = attribute(tag, " id=\"") else { return tag.into() };
        format!("{before} id=\"{}--{place}\"{after}", self.sheet).into()
    }

    /// The start of a link with where it leads; `None` where nothing is left of it.
    fn led<'t>(&self, tag: Cow<'t, str>) -> Option<Cow<'t, str>> {
        let Some((before, link, after)) = attribute(&tag, " href=\"") else { return Some(tag) };
        match self.to(link) {
            Some(to) => Some(format!("{before} href=\"{to}\"{after}").into()),
            None => (before != "a").then(|| format!("{before}{after}").into()),
        }
    }

    /// Where a link leads from the file; `None` where its sheet or table is not in it.
    fn to(&self, link: &str) -> Option<String> {
        let (file, place) = link.split_once('#').unwrap_or((link, ""));
        if file.contains(':') {
            return Some(link.to_owned());
        }
        let sheet = if file.is_empty() { self.sheet } else { file.strip_suffix(".html")? };
        let there = self.sheets.contains(&sheet);
        there.then(|| if place.is_empty() { format!("#{sheet}") } else { format!("#{sheet}--{place}") })
    }
}

/// What stands before an attribute, its value, and what stands behind it.
fn attribute<'t>(tag: &'t str, start: &str) -> Option<(&'t str, &'t str, &'t str)> {
    let (before, rest) = tag.split_once(start)?;
    let (value, after) = rest.split_once('"')?;
    Some((before, value, after))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn links_lead_to_places_of_the_file_or_nowhere() {
        let joined = Joined { sheet: "riser", sheets: &["riser", "wire-labels"] };
        let cases = [
            ("#cable-1", Some("#riser--cable-1")),
            ("wire-labels.html", Some("#wire-labels")),
            ("wire-labels.html#cable-1", Some("#wire-labels--cable-1")),
            ("loop-sheet.html#zone-7", None),
            ("wire-labels.csv", None),
            ("https://example.org/a", Some("https://example.org/a")),
        ];
        for (link, wanted) in cases {
            assert_eq!(joined.to(link).as_deref(), wanted, "{link}");
        }
    }

    #[test]
    fn places_have_the_name_of_their_sheet_and_texts_stay() {
        let joined = Joined { sheet: "s", sheets: &["s", "c"] };
        let cases = [
            ("<h1 id=\"a\">A id=\"a\"</h1>\n", "<h1 id=\"s--a\">A id=\"a\"</h1>\n"),
            ("x<a id=\"b\" href=\"#b\">b</a>", "x<a id=\"s--b\" href=\"#s--b\">b</a>"),
            ("<a href=\"c.html#d\" title=\"t\">c</a>", "<a href=\"#c--d\" title=\"t\">c</a>"),
            ("<a href=\"e.html\"><em>e</em></a> <a href=\"#\">f</a>", "<em>e</em> <a href=\"#s\">f</a>"),
            ("<svg><a id=\"b\" href=\"e.html\"><path/></a></svg>", "<svg><a id=\"s--b\"><path/></a></svg>"),
            ("<svg><a id=\"b\"><path/></a></svg>", "<svg><a id=\"s--b\"><path/></a></svg>"),
        ];
        for (html, wanted) in cases {
            let mut page = String::new();
            joined.add(html, &mut page);
            assert_eq!(page, wanted);
        }
    }
}

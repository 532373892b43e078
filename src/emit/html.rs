//! Markdown → the HTML of a sheet. The page around it: `page`.
//!
//! The Markdown is ours with the user's text escaped in it; the filter here is the second fence: raw HTML becomes
//! text, links lead only to known schemes, pictures are left out. The one kind of picture is a drawing that the
//! document has itself: found by the name of its file among those, it stands in its place as SVG, once. Nothing is read.
//!
//! Places to link to: a heading has an id made of its words. Where the words are the user's, or the place is a row of a
//! table, the Markdown marks it by a link to itself, `[at rest](#zone-7-s1)`: a link to a place that its own page does not
//! have yet is that place.

use std::collections::{BTreeMap, BTreeSet};

use pulldown_cmark::{CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, TextMergeStream};

use super::escape;
use super::picture::Picture;
use super::unbroken;

/// A narrow screen moves what is wide sideways in a frame, also by the keys.
const FRAME_OF_PICTURE: &str = "<span class=\"wide\" tabindex=\"0\">";
/// The same for one that paper leaves out where the sheet is one of several.
const FRAME_OF_LISTS: &str = "<span class=\"wide lists\" tabindex=\"0\">";
const FRAME_OF_TABLE: &str = "<div class=\"wide\" tabindex=\"0\">";

/// From this many rows on a table may go over a page's end; a shorter one is kept on one page by the style.
const LONG: usize = 8;

/// The text of a document as HTML.
#[derive(Clone, Debug, Default)]
pub(crate) struct Body {
    /// The HTML.
    pub(crate) html: String,
    /// Its places, each with the words that stand there.
    pub(crate) places: Vec<Place>,
}

impl Body {
    /// The same with each heading of a level in a section with what stands under it.
    pub(crate) fn in_sections(self, level: u8) -> Self {
        let start = format!("<h{level} ");
        let mut pieces = self.html.split(start.as_str());
        let mut html = pieces.next().unwrap_or_default().to_owned();
        for piece in pieces {
            // A heading above it ends what stands under it.
            let ends = piece
                .match_indices("<h")
                .map(|(at, _)| at)
                .find(|at| piece.get(*at..).is_some_and(|rest| rest.starts_with("<h1 ") || rest.starts_with("<h2 ")));
            let (under, after) = piece.split_at(ends.unwrap_or(piece.len()));
            html.extend(["<section>\n", &start, under, "</section>\n", after]);
        }
        Self { html, ..self }
    }
}

/// A place that links lead to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Place {
    /// Its id in the page.
    pub(crate) id: String,
    /// The level of a heading; `None` for a row.
    pub(crate) level: Option<HeadingLevel>,
    /// A heading; or a row of a table with its cells in a line, behind the heading that it stands under.
    pub(crate) words: String,
}

/// The text of a document as HTML, with the drawings that are its own.
pub(crate) fn body(markdown: &str, pictures: &[Picture]) -> Body {
    let (events, places) = filtered(markdown, pictures);
    let mut html = String::new();
    pulldown_cmark::html::push_html(&mut html, unbroken::short_cells(unbroken::labels(framed(events))));
    Body { html, places }
}

/// Escapes cut the text into pieces, so these are joined first.
fn filtered<'m>(markdown: &'m str, pictures: &'m [Picture]) -> (Vec<Event<'m>>, Vec<Place>) {
    let options = Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS;
    let found = TextMergeStream::new(Parser::new_ext(markdown, options));
    let mut events = with_pictures(found, pictures);
    let drawn = pictures.iter().flat_map(|picture| picture.places.iter().cloned()).collect();
    let taken = number_headings(&mut events, drawn);
    make_places(&mut events, taken);
    draw_bars(&mut events);
    unbroken::tie_units(&mut events);
    let places = places(&events);
    (events, places)
}

/// What is harmless of some events, the document's drawings in the places of their pictures. What stands inside such a
/// picture is its title, which the drawing has.
fn with_pictures<'m>(found: impl Iterator<Item = Event<'m>>, pictures: &'m [Picture]) -> Vec<Event<'m>> {
    let mut left: BTreeMap<&str, &Picture> = pictures.iter().map(|picture| (picture.file.as_str(), picture)).collect();
    let mut events = Vec::new();
    // How many pictures are open, the outermost of them a drawing.
    let mut inside = 0_usize;
    for event in found {
        match &event {
            Event::Start(Tag::Image { .. }) if inside > 0 => inside += 1,
            Event::End(TagEnd::Image) if inside > 0 => inside -= 1,
            _ if inside > 0 => {}
            Event::Start(Tag::Image { dest_url, .. }) => {
                if let Some(picture) = left.remove(&**dest_url) {
                    let frame = if picture.lists_rooms { FRAME_OF_LISTS } else { FRAME_OF_PICTURE };
                    events.push(Event::InlineHtml(frame.into()));
                    events.push(Event::InlineHtml(picture.svg.as_str().into()));
                    events.push(Event::InlineHtml("</span>".into()));
                    inside = 1;
                }
            }
            _ => events.extend(harmless(event)),
        }
    }
    events
}

/// The event, or what stands in its place.
fn harmless(event: Event<'_>) -> Option<Event<'_>> {
    match event {
        Event::Html(text) | Event::InlineHtml(text) => Some(Event::Text(text)),
        Event::Start(Tag::HtmlBlock) => Some(Event::Start(Tag::Paragraph)),
        Event::End(TagEnd::HtmlBlock) => Some(Event::End(TagEnd::Paragraph)),
        Event::End(TagEnd::Image) => None,
        Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
            Some(Event::Start(Tag::Link { link_type, dest_url: target(dest_url), title, id }))
        }
        // A box to tick by hand, not one of a form.
        Event::TaskListMarker(_) => Some(Event::InlineHtml("<span class=\"tick\">☐</span> ".into())),
        other => Some(other),
    }
}

/// Where a link leads: another sheet in its HTML form, or a known scheme; else nowhere.
fn target(destination: CowStr<'_>) -> CowStr<'_> {
    let scheme = destination.split(['/', '?', '#']).next().unwrap_or("").split_once(':').map(|(scheme, _)| scheme);
    match scheme.map(str::to_ascii_lowercase).as_deref() {
        None if destination.starts_with("//") => "#".into(),
        None => {
            let (path, place) = destination.split_at(destination.find('#').unwrap_or(destination.len()));
            match path.strip_suffix(".md") {
                Some(stem) => format!("{stem}.html{place}").into(),
                None => destination,
            }
        }
        Some("https" | "http" | "mailto") => destination,
        Some(_) => "#".into(),
    }
}

/// Gives every heading an id made of its words, and tells which ids those are.
fn number_headings(events: &mut [Event<'_>], mut taken: BTreeSet<String>) -> BTreeSet<String> {
    let mut rest = events;
    while let Some((first, after)) = rest.split_first_mut() {
        if let Event::Start(Tag::Heading { id, .. }) = first {
            let inside = after.iter().take_while(|event| !matches!(event, Event::End(TagEnd::Heading(_))));
            let words: String = inside
                .filter_map(|e| if let Event::Text(t) | Event::Code(t) = e { Some(&**t) } else { None })
                .collect();
            *id = Some(free_id(&words, &mut taken).into());
        }
        rest = after;
    }
    taken
}

/// Makes a place of the first link to each place of this page that no heading is.
fn make_places(events: &mut [Event<'_>], mut taken: BTreeSet<String>) {
    for event in events {
        if let Event::Start(Tag::Link { dest_url, .. }) = event
            && let Some(place) = dest_url.strip_prefix('#').filter(|place| !place.is_empty())
            && taken.insert(place.to_owned())
        {
            let place = escape::html(place);
            *event = Event::InlineHtml(format!("<a id=\"{place}\" href=\"#{place}\">").into());
        }
    }
}

/// The places of a sheet: its headings, and the rows of its tables that have a mark to link to.
fn places(events: &[Event<'_>]) -> Vec<Place> {
    let mut places = Vec::new();
    let mut under: Option<String> = None;
    let mut rest = events;
    while let Some((first, after)) = rest.split_first() {
        rest = after;
        let (end, level) = match first {
            Event::Start(Tag::Heading { level, .. }) => (TagEnd::Heading(*level), Some(*level)),
            Event::Start(Tag::TableRow) => (TagEnd::TableRow, None),
            _ => continue,
        };
        let inside: Vec<&Event> = after.iter().take_while(|event| **event != Event::End(end)).collect();
        let heading = if let Event::Start(Tag::Heading { id, .. }) = first { id.as_deref() } else { None };
        let own =
            inside.iter().find_map(|event| if let Event::InlineHtml(html) = event { own_mark(html) } else { None });
        let said = words(&inside);
        if level.is_some() {
            // The sheet's own title is told of each place by itself.
            under = (level != Some(HeadingLevel::H1)).then(|| said.clone());
        }
        if let Some(id) = own.or(heading) {
            let words = under.iter().filter(|_| level.is_none()).chain([&said]).map(String::as_str).collect::<Vec<_>>();
            places.push(Place { id: id.to_owned(), level, words: words.join(" · ") });
        }
    }
    places
}

/// The id in a place that [`make_places`] made.
fn own_mark(html: &str) -> Option<&str> {
    html.strip_prefix("<a id=\"")?.split('"').next()
}

/// The words of some events, cells one after the other.
fn words(inside: &[&Event<'_>]) -> String {
    let mut cells = vec![String::new()];
    for event in inside {
        match event {
            Event::Text(text) | Event::Code(text) => cells.last_mut().into_iter().for_each(|cell| cell.push_str(text)),
            Event::End(TagEnd::TableCell) => cells.push(String::new()),
            _ => {}
        }
    }
    let cells: Vec<&str> = cells.iter().map(|cell| cell.trim()).filter(|cell| !cell.is_empty()).collect();
    cells.join(" · ")
}

/// Tables in a frame, a long one with the headings that it stands under as the last row of its head, which paper repeats
/// and a screen hides. (Not as the first row: the style's widths of columns count in a first row.)
fn framed(events: Vec<Event<'_>>) -> impl Iterator<Item = Event<'_>> {
    let mut running = running_titles(&events).into_iter();
    let mut title = None;
    events
        .into_iter()
        .flat_map(move |event| match event {
            Event::Start(Tag::Table(columns)) => {
                title = running.next().flatten().map(|title| (columns.len(), title));
                [Some(Event::InlineHtml(FRAME_OF_TABLE.into())), Some(Event::Start(Tag::Table(columns)))]
            }
            Event::End(TagEnd::TableHead) => {
                let row = title.take().map(|(columns, title)| {
                    // The head's own row is closed here, and this one by the end of the head.
                    let title = escape::html(&title);
                    let row = "<tr class=\"running\" aria-hidden=\"true\">";
                    Event::InlineHtml(format!("</tr>\n{row}<td colspan=\"{columns}\">{title}</td>").into())
                });
                [row, Some(event)]
            }
            Event::End(TagEnd::Table) => [Some(event), Some(Event::InlineHtml("</div>\n".into()))],
            other => [Some(other), None],
        })
        .flatten()
}

/// For each table, the headings that it stands under where it is long: the sheet's title first, for several sheets share
/// paper, and not that of a further part of the sheet, which would only make it long.
fn running_titles(events: &[Event<'_>]) -> Vec<Option<String>> {
    let mut titles = Vec::new();
    let mut sheet: Option<String> = None;
    let mut under: Vec<(HeadingLevel, String)> = Vec::new();
    let mut rest = events;
    while let Some((first, after)) = rest.split_first() {
        match first {
            Event::Start(Tag::Heading { level, .. }) => {
                under.retain(|(above, _)| above < level);
                let inside = after.iter().take_while(|event| !matches!(event, Event::End(TagEnd::Heading(_))));
                let title = words(&inside.collect::<Vec<_>>());
                if *level == HeadingLevel::H1 {
                    under.push((*level, sheet.get_or_insert(title).clone()));
                } else {
                    under.push((*level, title));
                }
            }
            Event::Start(Tag::Table(_)) => {
                let inside = after.iter().take_while(|event| !matches!(event, Event::End(TagEnd::Table)));
                let rows = inside.filter(|event| matches!(event, Event::Start(Tag::TableRow))).count();
                let title: Vec<&str> = under.iter().map(|(_, words)| words.as_str()).collect();
                titles.push((rows >= LONG && !title.is_empty()).then(|| title.join(" · ")));
            }
            _ => {}
        }
        rest = after;
    }
    titles
}

fn free_id(words: &str, taken: &mut BTreeSet<String>) -> String {
    let plain: String = words.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let stem = plain.split_whitespace().collect::<Vec<_>>().join("-");
    let stem = if stem.is_empty() { "section".to_owned() } else { stem };
    let id = std::iter::once(stem.clone())
        .chain((2..taken.len() + 3).map(|number| format!("{stem}-{number}")))
        .find(|id| !taken.contains(id))
        .unwrap_or(stem);
    taken.insert(id.clone());
    id
}

/// Marks of changed rows: bold bars become spans, from which the style draws a bar beside the row.
fn draw_bars(events: &mut [Event<'_>]) {
    let mut rest = events;
    while let Some((first, after)) = rest.split_first_mut() {
        if let (Event::Start(Tag::Strong), [Event::Text(text), end @ Event::End(TagEnd::Strong), ..]) =
            (&*first, &mut *after)
            && &**text == "▌"
        {
            *first = Event::InlineHtml("<span class=\"changed\">".into());
            *end = Event::InlineHtml("</span>".into());
        }
        rest = after;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::Scene;
    use crate::views::Drawing;

    fn body(markdown: &str) -> String {
        super::body(markdown, &[]).html
    }

    #[test]
    fn html_in_markdown_is_text() {
        assert_eq!(
            body("a <b>c</b>\n\n<script>x</script>\n"),
            "<p>a &lt;b&gt;c&lt;/b&gt;</p>\n<p>&lt;script&gt;x&lt;/script&gt;\n</p>\n"
        );
    }

    #[test]
    fn links_lead_to_pages_and_known_schemes_only() {
        let cases = [
            ("wire-labels.md", "wire-labels.html"),
            ("wire-labels.md#z7", "wire-labels.html#z7"),
            ("x.csv", "x.csv"),
            ("https://example.org/a.md", "https://example.org/a.md"),
            ("javascript:alert(1)", "#"),
            ("JAVAscript:alert(1)", "#"),
            ("data:text/html,x", "#"),
            ("file:///x", "#"),
            ("//example.org/x", "#"),
        ];
        for (written, printed) in cases {
            assert_eq!(body(&format!("[a]({written})\n")), format!("<p><a href=\"{printed}\">a</a></p>\n"));
        }
        assert_eq!(body("![a](https://example.org/x.png)\n"), "<p>a</p>\n");
    }

    #[test]
    fn a_drawing_of_ours_stands_in_its_place_once_and_no_other_picture() {
        let ours = ["bus-1", "bus-2"].map(|name| {
            Picture::of(&Drawing { name: name.into(), title: "T".into(), words: "W".into(), scene: Scene::default() })
        });
        let svg = ours[0].svg.as_str();
        let body = |markdown: &str| super::body(markdown, &ours).html;
        assert_eq!(
            body("a\n\n![Title *b*](bus-1.svg)\n\nc\n"),
            format!("<p>a</p>\n<p><span class=\"wide\" tabindex=\"0\">{svg}</span></p>\n<p>c</p>\n")
        );
        assert_eq!(
            body("![a](bus-1.svg) ![b](bus-1.svg)\n"),
            format!("<p><span class=\"wide\" tabindex=\"0\">{svg}</span> b</p>\n")
        );
        assert_eq!(
            body("![a ![b](c.svg) d](bus-1.svg) e\n"),
            format!("<p><span class=\"wide\" tabindex=\"0\">{svg}</span> e</p>\n")
        );
        for other in ["bus-3.svg", "./bus-1.svg", "bus-1", "https://example.org/bus-1.svg", "BUS-1.svg", "bus-1.svg#x"]
        {
            assert_eq!(body(&format!("![a]({other})\n")), "<p>a</p>\n", "{other}");
        }
        assert_eq!(
            body("a <svg><path d=\"M0 0\"/></svg>\n"),
            "<p>a &lt;svg&gt;&lt;path d=\"M0 0\"/&gt;&lt;/svg&gt;</p>\n"
        );
    }

    #[test]
    fn a_long_table_repeats_the_headings_it_stands_under() {
        let table = |rows: usize| format!("| a | b |\n| --- | --- |\n{}", "| 1 | 2 |\n".repeat(rows));
        let long = body(&format!("# T\n\n## A <b>\n\n### C\n\n{}", table(LONG)));
        let row =
            "</tr>\n<tr class=\"running\" aria-hidden=\"true\"><td colspan=\"2\">T · A &lt;b&gt; · C</td></tr></thead>";
        assert_eq!(long.matches(row).count(), 1, "{long}");
        assert!(!body(&format!("# T\n\n## A\n\n{}", table(LONG - 1))).contains("running"));
        assert!(body(&format!("# T\n\n## A\n\n# U\n\n## B\n\n{}", table(LONG))).contains(">T · B</td>"));
        assert!(!body(&table(LONG)).contains("running"));
    }

    #[test]
    fn every_heading_has_its_own_id() {
        let page = body("# A b\n\n## A *b*\n\n## \\*\n");
        assert_eq!(page, "<h1 id=\"a-b\">A b</h1>\n<h2 id=\"a-b-2\">A <em>b</em></h2>\n<h2 id=\"section\">*</h2>\n");
    }

    #[test]
    fn a_link_to_a_place_that_is_not_there_is_the_place() {
        let page = body("# A\n\n[a](#a) [b](#b\\-1) [c](#b-1) [d](#\"x)\n");
        assert_eq!(
            page,
            "<h1 id=\"a\">A</h1>\n<p><a href=\"#a\">a</a> <a id=\"b-1\" href=\"#b-1\">b</a> <a href=\"#b-1\">c</a> \
             <a id=\"&quot;x\" href=\"#&quot;x\">d</a></p>\n"
        );
    }

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(body("2\\.2 kΩ ±5 \\% of 3 cables\n"), "<p>2.2\u{a0}kΩ ±5\u{a0}% of 3 cables</p>\n");
    }
}

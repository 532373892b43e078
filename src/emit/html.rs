//! Markdown → a page of HTML that stands alone, with the style for paper in it.
//!
//! The Markdown is ours with the user's text escaped in it; the filter here is the second fence: raw HTML becomes
//! text, links lead only to known schemes, pictures are left out. The one kind of picture is a drawing that the
//! document has itself: found by the name of its file among those, it stands in its place as SVG, once. Nothing is read.
//!
//! Places to link to: a heading has an id made of its words. Where the words are the user's, or the place is a row of a
//! table, the Markdown marks it by a link to itself, `[at rest](#zone-7-s1)`: a link to a place that its own page does not
//! have yet is that place.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use base64::Engine;
use pulldown_cmark::{CowStr, Event, Options, Parser, Tag, TagEnd, TextMergeStream};

use super::{drawn, escape};
use crate::draw::{Size, face, svg};
use crate::views::{Drawing, Orientation, Sheet};

/// The style of every page.
static STYLE: &str = include_str!("../../templates/print.css");

/// The face of the drawings as a rule of the style: a page that is sent alone has it, too.
static FACE: LazyLock<String> = LazyLock::new(|| {
    let data = base64::engine::general_purpose::STANDARD.encode(face::FILE);
    format!("{}\n", svg::face_rule(&format!("data:font/ttf;base64,{data}")))
});

/// A table cell of at most this many characters is never broken across lines: marks, labels and codes.
const UNBROKEN: usize = 18;

/// Unit symbols as `quantity` prints them.
const UNITS: [&str; 20] = [
    "Ω", "kΩ", "MΩ", "V", "A", "mA", "W", "mW", "%", "ft", "m", "s", "ms", "min", "h", "Ah", "VA", "°C", "bit/s", "AWG",
];

/// What the page says outside its text.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Frame<'a> {
    /// The document's name; also the class of the body, for the style.
    pub(crate) name: &'a str,
    /// The document's title.
    pub(crate) title: &'a str,
    /// Site and revision, at the foot of every printed page.
    pub(crate) site: &'a str,
    /// Its place in the packet, where it has one.
    pub(crate) sheet: Option<Sheet>,
    /// How its pages lie.
    pub(crate) orientation: Orientation,
}

/// The page of a document, with the drawings that are its own.
pub(crate) fn page(markdown: &str, frame: Frame<'_>, drawings: &[Drawing]) -> String {
    let mut body = String::new();
    pulldown_cmark::html::push_html(&mut body, filtered(markdown, drawings).into_iter());
    let title = escape::html(&format!("{} – {}", frame.title, frame.site));
    let name = escape::html(frame.name);
    let margins = margins(frame, drawings);
    let face = if drawings.is_empty() { "" } else { FACE.as_str() };
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{title}</title>\n\
         <style>\n{STYLE}{margins}{face}</style>\n</head>\n<body class=\"{name}\">\n<main>\n{body}</main>\n</body>\n</html>\n"
    )
}

/// The printed page: how it lies; at its foot site and revision, sheet, page number. Where each drawing is a page, nothing
/// but the size of that.
fn margins(frame: Frame<'_>, drawings: &[Drawing]) -> String {
    let size = match frame.orientation {
        Orientation::Portrait => "portrait",
        Orientation::Landscape => "landscape",
        Orientation::Exact => {
            let Some(Size { width, height }) = drawings.first().map(|drawing| drawing.scene.size) else {
                return String::new();
            };
            return format!("@page {{ size: {width}mm {height}mm; margin: 0; }}\n");
        }
    };
    let sheet = frame.sheet.map_or_else(|| frame.title.to_owned(), |sheet| format!("{} · {sheet}", frame.title));
    format!(
        "@page {{\n  size: {size};\n  @bottom-left {{ content: {}; }}\n  @bottom-center {{ content: {}; }}\n  \
         @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); }}\n}}\n",
        escape::css_string(frame.site),
        escape::css_string(&sheet),
    )
}

/// Escapes cut the text into pieces, so these are joined first.
fn filtered<'m>(markdown: &'m str, drawings: &[Drawing]) -> Vec<Event<'m>> {
    let options = Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS;
    let found = TextMergeStream::new(Parser::new_ext(markdown, options));
    let mut events = with_drawings(found, drawings);
    let taken = number_headings(&mut events, places_in(drawings));
    make_places(&mut events, taken);
    draw_bars(&mut events);
    tie_units(&mut events);
    hold_short_cells(events)
}

/// What is harmless of some events, the document's drawings in the places of their pictures. What stands inside such a
/// picture is its title, which the drawing has.
fn with_drawings<'m>(found: impl Iterator<Item = Event<'m>>, drawings: &[Drawing]) -> Vec<Event<'m>> {
    let mut left: BTreeMap<String, &Drawing> = drawings.iter().map(|drawing| (drawing.file(), drawing)).collect();
    let mut events = Vec::new();
    // How many pictures are open, the outermost of them a drawing.
    let mut inside = 0_usize;
    for event in found {
        match &event {
            Event::Start(Tag::Image { .. }) if inside > 0 => inside += 1,
            Event::End(TagEnd::Image) if inside > 0 => inside -= 1,
            _ if inside > 0 => {}
            Event::Start(Tag::Image { dest_url, .. }) => {
                if let Some(drawing) = left.remove(&**dest_url) {
                    events.push(Event::InlineHtml(drawn(drawing).into()));
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

/// The places that others lead to in some drawings.
fn places_in(drawings: &[Drawing]) -> BTreeSet<String> {
    let marks = drawings.iter().flat_map(|drawing| &drawing.scene.marks);
    marks.filter_map(|mark| mark.link.as_ref()).map(|link| link.id.clone()).filter(|id| !id.is_empty()).collect()
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

/// Keeps a number and its unit on one line: the blank between them becomes one that does not break.
fn tie_units(events: &mut [Event<'_>]) {
    for event in events {
        if let Event::Text(text) = event
            && text.contains(' ')
        {
            let mut tied = String::with_capacity(text.len());
            for word in text.split_inclusive(' ') {
                let after_number = tied.trim_end_matches(' ').ends_with(|c: char| c.is_ascii_digit());
                let unit = word.trim_matches([' ', ',', ';', '.', ')']);
                if after_number && UNITS.contains(&unit) && tied.ends_with(' ') {
                    tied.pop();
                    tied.push('\u{a0}');
                }
                tied.push_str(word);
            }
            *text = tied.into();
        }
    }
}

/// Marks the text of short table cells so that the style keeps it on one line.
fn hold_short_cells(events: Vec<Event<'_>>) -> Vec<Event<'_>> {
    let mut held = Vec::with_capacity(events.len());
    let mut cell: Option<Vec<Event<'_>>> = None;
    for event in events {
        match (&mut cell, event) {
            (None, event @ Event::Start(Tag::TableCell)) => {
                held.push(event);
                cell = Some(Vec::new());
            }
            (Some(inside), event @ Event::End(TagEnd::TableCell)) => {
                let length: usize =
                    inside.iter().map(|e| if let Event::Text(text) = e { text.chars().count() } else { 0 }).sum();
                if (1..=UNBROKEN).contains(&length) {
                    held.push(Event::InlineHtml("<span class=\"whole\">".into()));
                    held.append(inside);
                    held.push(Event::InlineHtml("</span>".into()));
                } else {
                    held.append(inside);
                }
                held.push(event);
                cell = None;
            }
            (Some(inside), event) => inside.push(event),
            (None, event) => held.push(event),
        }
    }
    held
}

#[cfg(test)]
mod tests {
    use super::*;

    fn body(markdown: &str) -> String {
        let page = page(markdown, Frame { name: "x", title: "T", site: "S", ..Frame::default() }, &[]);
        let (_, rest) = page.split_once("<main>\n").unwrap();
        rest.split_once("</main>").unwrap().0.to_owned()
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
        let drawing = |name: &str| Drawing {
            name: name.into(),
            title: "Title".into(),
            words: "Words".into(),
            scene: crate::draw::Scene::default(),
        };
        let ours = [drawing("bus-1"), drawing("bus-2")];
        let svg = drawn(&ours[0]);
        let body = |markdown: &str| {
            let page = page(markdown, Frame { name: "x", title: "T", site: "S", ..Frame::default() }, &ours);
            page.split_once("<main>\n").unwrap().1.split_once("</main>").unwrap().0.to_owned()
        };
        assert_eq!(body("a\n\n![Title *b*](bus-1.svg)\n\nc\n"), format!("<p>a</p>\n<p>{svg}</p>\n<p>c</p>\n"));
        assert_eq!(body("![a](bus-1.svg) ![b](bus-1.svg)\n"), format!("<p>{svg} b</p>\n"));
        assert_eq!(body("![a ![b](c.svg) d](bus-1.svg) e\n"), format!("<p>{svg} e</p>\n"));
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
    fn a_page_has_room_for_its_drawings_on_a4_and_letter() {
        // The margins that the style sets: 14 mm above, 12 mm at the sides, 16 mm below, and 1 pt inside.
        assert!(STYLE.contains("@page { margin: 14mm 12mm 16mm; }") && STYLE.contains("padding: 0 1pt;"));
        for (short, long) in [(210.0, 297.0), (215.9, 279.4)] {
            for (orientation, width, height) in
                [(Orientation::Portrait, short, long), (Orientation::Landscape, long, short)]
            {
                let room = orientation.room();
                assert!(room.width <= width - 24.0 - 0.71 && room.height <= height - 30.0, "{orientation:?}");
            }
        }
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

    #[test]
    fn the_site_cannot_leave_title_or_style() {
        let page = page(
            "x\n",
            Frame { name: "x", title: "T", site: "</style></title><script>\" ; } x", ..Frame::default() },
            &[],
        );
        assert!(!page.contains("<script"));
        assert_eq!(page.matches("</style>").count(), 1);
    }
}

//! Markdown → a page of HTML that stands alone, with the style for paper in it.
//!
//! The Markdown is ours with the user's text escaped in it; the filter here is the second fence: raw HTML becomes
//! text, links lead only to known schemes, pictures are left out.
//!
//! Places to link to: a heading has an id made of its words. Where the words are the user's, or the place is a row of a
//! table, the Markdown marks it by a link to itself, `[at rest](#zone-7-s1)`: a link to a place that its own page does not
//! have yet is that place.

use std::collections::BTreeSet;

use pulldown_cmark::{CowStr, Event, Options, Parser, Tag, TagEnd, TextMergeStream};

use super::escape;

/// The style of every page.
static STYLE: &str = include_str!("../../templates/print.css");

/// A table cell of at most this many characters is never broken across lines: marks, labels and codes.
const UNBROKEN: usize = 18;

/// Unit symbols as `quantity` prints them.
const UNITS: [&str; 20] = [
    "Ω", "kΩ", "MΩ", "V", "A", "mA", "W", "mW", "%", "ft", "m", "s", "ms", "min", "h", "Ah", "VA", "°C", "bit/s", "AWG",
];

/// What the page says outside its text.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame<'a> {
    /// The document's name; also the class of the body, for the style.
    pub(crate) name: &'a str,
    /// The document's title.
    pub(crate) title: &'a str,
    /// Site and revision, at the foot of every printed page.
    pub(crate) site: &'a str,
}

/// The page of a document.
pub(crate) fn page(markdown: &str, frame: Frame<'_>) -> String {
    let mut body = String::new();
    pulldown_cmark::html::push_html(&mut body, filtered(markdown).into_iter());
    let title = escape::html(&format!("{} – {}", frame.title, frame.site));
    let name = escape::html(frame.name);
    let margins = margins(frame);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{title}</title>\n\
         <style>\n{STYLE}{margins}</style>\n</head>\n<body class=\"{name}\">\n<main>\n{body}</main>\n</body>\n</html>\n"
    )
}

/// Foot of the printed page: site and revision, sheet, page number.
fn margins(frame: Frame<'_>) -> String {
    format!(
        "@page {{\n  @bottom-left {{ content: {}; }}\n  @bottom-center {{ content: {}; }}\n  \
         @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); }}\n}}\n",
        escape::css_string(frame.site),
        escape::css_string(frame.title),
    )
}

/// Escapes cut the text into pieces, so these are joined first.
fn filtered(markdown: &str) -> Vec<Event<'_>> {
    let mut events: Vec<Event<'_>> =
        TextMergeStream::new(Parser::new_ext(markdown, Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS))
            .filter_map(harmless)
            .collect();
    let taken = number_headings(&mut events);
    make_places(&mut events, taken);
    draw_bars(&mut events);
    tie_units(&mut events);
    hold_short_cells(events)
}

/// The event, or what stands in its place.
fn harmless(event: Event<'_>) -> Option<Event<'_>> {
    match event {
        Event::Html(text) | Event::InlineHtml(text) => Some(Event::Text(text)),
        Event::Start(Tag::HtmlBlock) => Some(Event::Start(Tag::Paragraph)),
        Event::End(TagEnd::HtmlBlock) => Some(Event::End(TagEnd::Paragraph)),
        Event::Start(Tag::Image { .. }) | Event::End(TagEnd::Image) => None,
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
fn number_headings(events: &mut [Event<'_>]) -> BTreeSet<String> {
    let mut taken = BTreeSet::new();
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
        let page = page(markdown, Frame { name: "x", title: "T", site: "S" });
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
        let page = page("x\n", Frame { name: "x", title: "T", site: "</style></title><script>\" ; } x" });
        assert!(!page.contains("<script"));
        assert_eq!(page.matches("</style>").count(), 1);
    }
}

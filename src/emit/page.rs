//! Sheets → a page of HTML that stands alone, with the style for screen and paper in it: one sheet, or all of a reader's.
//!
//! Each sheet is an `article` with its own kind of printed page, whose foot says what a stray page belongs to.

use std::borrow::Cow;
use std::fmt::Write;
use std::sync::LazyLock;

use base64::Engine;
use serde::Serialize;

use super::escape;
use super::links::Joined;
use crate::draw::{Size, face, svg};
use crate::model::{HouseStyle, Logo};
use crate::quantity::LengthUnit;
use crate::views::Orientation;
use crate::views::fresh_readings::Group;

/// The style of every page.
static STYLE: &str = include_str!("../../templates/print.css");

/// The face of the drawings as a rule of the style: a page that is sent alone has it, too.
static FACE: LazyLock<String> = LazyLock::new(|| {
    let data = base64::engine::general_purpose::STANDARD.encode(face::FILE);
    format!("{}\n", svg::face_rule(&format!("data:font/ttf;base64,{data}")))
});

/// What the pages let in: nothing from outside, and no script but those of ours, named by their digests.
pub(super) const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; font-src data:; base-uri 'none'; form-action 'none'";

/// A script of ours.
#[derive(Debug)]
pub(crate) struct Script {
    /// Its text.
    pub(super) text: &'static str,
    /// SHA-256 of it, in base64, as a page's policy names it.
    pub(super) digest: &'static str,
}

/// Find as you type.
static FIND: Script =
    Script { text: include_str!("../../templates/find.js"), digest: "yNhyq6s7zmmWtwiP7mkfa7dPu1zKPyV7wMglQn4amJo=" };

/// Readings taken on the spot.
static TAKE: Script = Script {
    text: include_str!("../../templates/readings.js"),
    digest: "qLp/N28JN0+Os4OhHua1PqlYZmTS3a5CkEMGi4m4n88=",
};

/// What a page does beside being read, each by one script of ours and by data that stands in the page.
#[derive(Clone, Debug, Default)]
pub(crate) enum Tool<'a> {
    /// Nothing.
    #[default]
    None,
    /// It finds places of the packet.
    Find(Vec<Found<'a>>),
    /// It takes readings of a site, by its name and title: both, for either may be another's too.
    Take([&'a str; 2], Vec<Group>),
}

impl Tool<'_> {
    fn script(&self) -> Option<&'static Script> {
        match self {
            Self::None => None,
            Self::Find(_) => Some(&FIND),
            Self::Take(..) => Some(&TAKE),
        }
    }

    /// What is shown once the script runs, the data, and the script.
    fn html(&self) -> String {
        let Some(Script { text, .. }) = self.script() else { return String::new() };
        // Plain structures of text and numbers, whose serialising cannot fail.
        let (fields, id, data) = match self {
            Self::None => return String::new(),
            Self::Find(found) => (FINDER, "places", serde_json::to_string(found)),
            Self::Take(site, groups) => {
                (TAKER, "expected", serde_json::to_string(&serde_json::json!({ "site": site, "groups": groups })))
            }
        };
        // These stand in strings of JSON only: marks of HTML, and two that no page may hold.
        let escaped = |c: char| match c {
            '<' | '>' | '&' | '\u{fffe}' | '\u{ffff}' => format!("\\u{:04x}", u32::from(c)),
            other => other.to_string(),
        };
        let data: String = data.unwrap_or_default().chars().map(escaped).collect();
        format!("{fields}<script type=\"application/json\" id=\"{id}\">{data}</script>\n<script>{text}</script>\n")
    }
}

/// The box to find places by.
const FINDER: &str = "<div id=\"finder\" class=\"tool\" hidden=\"hidden\">\n\
    <p><label for=\"find\">Find a label, zone, terminal or room</label> \
    <input id=\"find\" type=\"search\" autocomplete=\"off\"/> <span id=\"told\" role=\"status\"></span></p>\n\
    <ul id=\"found\"></ul>\n</div>\n";

/// The fields to take readings by.
const TAKER: &str = "<div id=\"taker\" class=\"tool\" hidden=\"hidden\">\n<h2 id=\"take\">Take readings here</h2>\n\
    <p>What is typed here is held against the figures of this page at once, stays in this browser, and goes nowhere. \
    The procedures are those below: ohms with both leads off and the board off, volts with everything connected. \
    OL or open where the meter shows no connection.</p>\n\
    <p><label for=\"date\">Day</label> <input id=\"date\" type=\"date\"/> \
    <label for=\"meter\">Meter, and what its leads read when they touch</label> <input id=\"meter\" type=\"text\" autocomplete=\"off\"/></p>\n\
    <details><summary>The readings, zone by zone</summary>\n<div id=\"readings\"></div>\n</details>\n\
    <p><label for=\"text\">For the file of readings, which the spec includes</label></p>\n\
    <p><textarea id=\"text\" rows=\"8\" readonly=\"readonly\"></textarea></p>\n\
    <p><button id=\"copy\" type=\"button\">Copy</button> <button id=\"clear\" type=\"button\">Forget all</button></p>\n</div>\n";

/// A page.
#[derive(Clone, Debug, Default)]
pub(crate) struct Page<'a> {
    /// What it is called.
    pub(crate) title: &'a str,
    /// What is printed at the left of each foot: site, revision and digest of the spec.
    pub(crate) line: &'a str,
    /// Other pages that it leads to: file and title.
    pub(crate) others: Vec<(String, &'a str)>,
    /// Its sheets, in order.
    pub(crate) sheets: Vec<Sheet<'a>>,
    /// What it does beside being read.
    pub(crate) tool: Tool<'a>,
    /// What a firm adds to it.
    pub(crate) house: Option<&'a HouseStyle>,
    /// What it adds to the style of all pages.
    pub(crate) style: &'a str,
    /// The unit of its lengths: where they are in metres it is printed on A4, else on the printer's own paper.
    pub(crate) lengths: LengthUnit,
}

/// A sheet of a page.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sheet<'a> {
    /// Its name, also its class, for the style.
    pub(crate) name: &'a str,
    /// What is printed in the middle of each foot.
    pub(crate) foot: String,
    /// How its pages lie.
    pub(crate) orientation: Orientation,
    /// The sheet before it with which it lies on the same paper; both have the same foot, and nothing breaks between them.
    pub(crate) on_paper_of: Option<&'a str>,
    /// Its text, as it stands in a page of its own.
    pub(crate) html: Cow<'a, str>,
    /// Whether it has drawings.
    pub(crate) drawn: bool,
    /// The size of its first drawing, which is that of its paper where it lies exactly.
    pub(crate) size: Option<Size>,
}

/// A place of the packet that can be found.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Found<'a> {
    /// What stands there.
    pub(crate) text: String,
    /// The title of its sheet.
    pub(crate) sheet: &'a str,
    /// Where it is: file and id.
    pub(crate) to: String,
}

/// The end of every sheet.
const ARTICLE_END: &str = "</article>\n";

/// The end of every page.
const FOOT: &str = "</main>\n</body>\n</html>\n";

impl Page<'_> {
    /// The page as HTML. Each sheet's text goes as soon as it stands in the page: one of a large house is long.
    pub(crate) fn html(self) -> String {
        let title = escape::html(self.title);
        let face = if self.sheets.iter().any(|sheet| sheet.drawn) { FACE.as_str() } else { "" };
        let allowed = self.tool.script().map(|script| format!("; script-src 'sha256-{}'", script.digest));
        let (mut allowed, tool) = (allowed.unwrap_or_default(), self.tool.html());
        let accent = self.house.and_then(|house| house.accent).map(accent).unwrap_or_default();
        let logo =
            self.house.and_then(|house| Some(logo(house.logo.as_ref()?, house.firm.as_deref()))).unwrap_or_default();
        if !logo.is_empty() {
            allowed.push_str("; img-src data:");
        }
        let papers: String = self.sheets.iter().map(|sheet| self.paper(sheet)).collect();
        let (others, style) = (self.others(), self.style);
        let head = format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}{allowed}\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{title}</title>\n\
             <style>\n{STYLE}{accent}{style}{papers}{face}</style>\n</head>\n<body>\n{others}<main>\n{logo}{tool}"
        );
        let names: Vec<&str> = self.sheets.iter().map(|sheet| sheet.name).collect();
        let is_joined = names.len() > 1;
        let texts = self.sheets.iter().map(|sheet| sheet.html.len() + 64).sum::<usize>();
        // The names before the places of a joined file are a tenth of it.
        let room = if is_joined { texts + texts / 8 } else { texts };
        let mut page = String::with_capacity(head.len() + FOOT.len() + room);
        page.push_str(&head);
        for Sheet { name, html, .. } in self.sheets {
            // Writing to a string cannot fail.
            if is_joined {
                let _ = writeln!(page, "<article class=\"{name}\" id=\"{name}\">");
                Joined { sheet: name, sheets: &names }.add(&html, &mut page);
            } else {
                let _ = writeln!(page, "<article class=\"{name}\">");
                page.push_str(&html);
            }
            page.push_str(ARTICLE_END);
        }
        page + FOOT
    }

    /// Links to the other pages; paper has none.
    fn others(&self) -> String {
        if self.others.is_empty() {
            return String::new();
        }
        let link =
            |(file, title): &(String, &str)| format!("<li><a href=\"{file}\">{}</a></li>\n", escape::html(title));
        let links: String = self.others.iter().map(link).collect();
        format!("<nav aria-label=\"Sheets\">\n<ul>\n{links}</ul>\n</nav>\n")
    }

    /// The paper of a sheet: how it lies; at its foot site, revision and digest, the sheet, and the page's number.
    fn paper(&self, sheet: &Sheet) -> String {
        if let Some(first) = sheet.on_paper_of {
            return format!("#{} {{ page: {first}; break-before: auto; }}\n", sheet.name);
        }
        let size = match (sheet.orientation, sheet.size) {
            (Orientation::Portrait, _) | (Orientation::Exact, None) => "portrait",
            (Orientation::Landscape, _) => "landscape",
            (Orientation::Exact, Some(Size { width, height })) => {
                return format!(
                    "@page {0} {{ size: {width}mm {height}mm; margin: 0; }}\n.{0} {{ page: {0}; }}\n",
                    sheet.name
                );
            }
        };
        let paper = match self.lengths {
            LengthUnit::Metres => "A4 ",
            LengthUnit::Feet => "",
        };
        let (name, line, foot) = (sheet.name, escape::css_string(self.line), escape::css_string(&sheet.foot));
        format!(
            "@page {name} {{\n  size: {paper}{size};\n  @bottom-left {{ content: {line}; }}\n  \
             @bottom-center {{ content: {foot}; }}\n  \
             @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); }}\n}}\n\
             .{name} {{ page: {name}; }}\n"
        )
    }
}

/// The text of the sheet that a page of one sheet has.
pub(crate) fn text_in(page: &str) -> &str {
    let start = page.find("<article ").and_then(|at| Some(at + page.get(at..)?.find('\n')? + 1));
    start.and_then(|start| page.get(start..page.rfind(ARTICLE_END)?)).unwrap_or_default()
}

/// The rule of the style that gives headings their colour, on light grounds only.
fn accent([red, green, blue]: [u8; 3]) -> String {
    let rule = format!(":root {{ --accent: #{red:02x}{green:02x}{blue:02x}; }}");
    format!("@media print {{ {rule} }}\n@media screen and (prefers-color-scheme: light) {{ {rule} }}\n")
}

/// A picture in the page itself, as data; its words are the firm's.
fn logo(logo: &Logo, firm: Option<&str>) -> String {
    let data = base64::engine::general_purpose::STANDARD.encode(&logo.bytes);
    let (media, words) = (logo.media, escape::html(firm.unwrap_or_default()));
    format!("<img class=\"logo\" src=\"data:{media};base64,{data}\" alt=\"{words}\"/>\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_has_room_for_its_drawings_on_a4_and_letter() {
        // The margins that the style sets: 9 mm above, 10 mm at the sides, 12 mm below, and 1 pt inside.
        assert!(STYLE.contains("@page { margin: 9mm 10mm 12mm; }") && STYLE.contains("padding: 0 1pt;"));
        for (short, long) in [(210.0, 297.0), (215.9, 279.4)] {
            for (orientation, width, height) in
                [(Orientation::Portrait, short, long), (Orientation::Landscape, long, short)]
            {
                let room = orientation.room();
                assert!(room.width <= width - 20.0 - 0.71 && room.height <= height - 21.0, "{orientation:?}");
            }
        }
    }

    #[test]
    fn the_site_cannot_leave_title_or_style() {
        let hostile = "</style></title><script>\" ; } x";
        let sheet = Sheet { name: "x", foot: hostile.to_owned(), ..Sheet::default() };
        let page = Page { title: hostile, line: hostile, sheets: vec![sheet], ..Page::default() }.html();
        assert!(!page.contains("<script"));
        assert_eq!(page.matches("</style>").count(), 1);
    }
}

//! What a document of the packet is: its names, how it lies on paper, and what it is made by. Who reads it: `readers`.

use serde::Serialize;
use serde_json::Value;

use crate::compiled::Compiled;
use crate::draw::{Scene, Size};

/// A document of the packet.
#[derive(Debug)]
pub struct Document {
    /// Name of its files and of its template.
    pub name: &'static str,
    /// Title on the sheet.
    pub(crate) title: &'static str,
    /// What it tells, for the list on the cover.
    pub(crate) about: &'static str,
    /// How its pages lie when it is printed.
    pub(crate) orientation: Orientation,
    /// Its template.
    pub template: &'static str,
    /// What makes its view.
    pub(crate) view: View,
    /// The table that is also given as a CSV file, where there is one.
    pub table: Option<fn(&Compiled) -> Table>,
}

/// What makes a document's view.
#[derive(Debug)]
pub(crate) enum View {
    /// The view alone.
    Plain(fn(&Compiled) -> Value),
    /// The view, which lays out each drawing where it shows it. The template has a place for each, see [`Shown`].
    Drawn(fn(&Compiled, &mut Drawings) -> Value),
}

impl Document {
    /// Its view of a site.
    pub fn view(&self, compiled: &Compiled) -> Value {
        self.made(compiled).0
    }

    /// Its view of a site, with the drawings that the view shows.
    pub(crate) fn made(&self, compiled: &Compiled) -> (Value, Vec<Drawing>) {
        let mut drawings = Drawings::default();
        let view = match self.view {
            View::Plain(view) => view(compiled),
            View::Drawn(view) => view(compiled, &mut drawings),
        };
        (view, drawings.0)
    }
}

impl Document {
    /// True where its pages are hung up or sent away, and so hold nothing else in a joined file either.
    pub(crate) fn is_apart(&self) -> bool {
        self.orientation == Orientation::Exact || self.name == super::owners_guide::DOCUMENT.name
    }

    /// The level of the headings that are one thing with what stands under them: a sketch with its table, which no page
    /// parts, or the steps of a place, whose name stands again where a page parts them.
    pub(crate) fn sections(&self) -> Option<u8> {
        let sections = [
            (super::device_sketches::DOCUMENT.name, 2),
            (super::loop_sheet::DOCUMENT.name, 2),
            (super::installation_order::DOCUMENT.name, 3),
        ];
        sections.into_iter().find(|(name, _)| *name == self.name).map(|(_, level)| level)
    }

    /// The foot of pages that some documents in a row have together, the first of them at some place: "Safety notes ·
    /// sheet 2 of 9", "Bundles and holes, Materials · sheets 8 and 9 of 9"; of more than three the first and the last.
    pub(crate) fn foot_of(documents: impl ExactSizeIterator<Item = &'static Self>, first: Sheet) -> String {
        let last = first.number + documents.len().saturating_sub(1);
        let titles: Vec<&str> = documents.map(|document| document.title).collect();
        let place = match last - first.number {
            0 => first.to_string(),
            1 => format!("sheets {} and {last} of {}", first.number, first.of),
            _ => format!("sheets {} to {last} of {}", first.number, first.of),
        };
        let titles = match titles.as_slice() {
            [first, _, _, .., last] => format!("{first} to {last}"),
            few => few.join(", "),
        };
        format!("{titles} · {place}")
    }
}

/// How a page lies, whatever the paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Orientation {
    /// Upright.
    #[default]
    Portrait,
    /// On its side.
    Landscape,
    /// Each drawing is a page, from edge to edge, and nothing else is printed.
    Exact,
}

impl Orientation {
    /// The room for a drawing on one page: what A4 and Letter both have inside the margins of the print style.
    pub(crate) fn room(self) -> Size {
        match self {
            Self::Portrait => Size { width: 189.0, height: 250.0 },
            Self::Landscape => Size { width: 258.0, height: 181.0 },
            // The paper itself, whichever it is.
            Self::Exact => Size { width: 215.9, height: 297.0 },
        }
    }
}

/// The place of a document in a packet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// From 1, which is the cover.
    pub(crate) number: usize,
    /// How many there are.
    pub(crate) of: usize,
}

impl std::fmt::Display for Sheet {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "sheet {} of {}", self.number, self.of)
    }
}

/// A drawing that a document shows; also a file beside it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawing {
    /// Name of its file, without `.svg`; of our own words and numbers, and the only one of that name in the packet.
    pub(crate) name: String,
    /// What it is called.
    pub(crate) title: String,
    /// What it shows, in words.
    pub(crate) words: String,
    /// Its marks.
    pub(crate) scene: Scene,
}

impl Drawing {
    /// Name of its file.
    pub(crate) fn file(&self) -> String {
        format!("{}.svg", self.name)
    }
}

/// The drawings of a document, in the order in which its view shows them.
#[derive(Debug, Default)]
pub(crate) struct Drawings(Vec<Drawing>);

impl Drawings {
    /// Takes drawings in; what a template needs to show them.
    pub(crate) fn show(&mut self, drawings: impl IntoIterator<Item = Drawing>) -> Vec<Shown> {
        let shown = |drawing: Drawing| {
            let shown = Shown { title: drawing.title.clone(), file: drawing.file() };
            self.0.push(drawing);
            shown
        };
        drawings.into_iter().map(shown).collect()
    }
}

/// A drawing in one part or more, each a file with its number behind the name.
pub(crate) fn parts(name: &str, title: &str, words: &str, scenes: Vec<Scene>) -> Vec<Drawing> {
    let of = scenes.len();
    let drawing = |(part, scene)| Drawing {
        name: if part == 1 { name.to_owned() } else { format!("{name}-{part}") },
        title: if of == 1 { title.to_owned() } else { format!("{title}, part {part} of {of}") },
        words: words.to_owned(),
        scene,
    };
    (1..).zip(scenes).map(drawing).collect()
}

/// A drawing in the view of its document, shown by `![{{title}}]({{file}})`.
#[derive(Debug, Serialize)]
pub(crate) struct Shown {
    title: String,
    file: String,
}

/// A table as rows of text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The heads of the columns.
    pub columns: Vec<&'static str>,
    /// The rows, each with a cell for every column.
    pub rows: Vec<Vec<String>>,
}

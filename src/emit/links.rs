//! Where the links of a sheet lead: a sheet alone leads to other files, one in a joined file to places of that file.

use super::svg;
use crate::views::Drawing;

/// The page that a sheet stands in.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Links<'p> {
    /// A page of its own.
    Alone,
    /// One page for several sheets: the name of the sheet, and those of all.
    Joined(&'p str, &'p [&'p str]),
}

impl Links<'_> {
    /// The name of a place of this sheet in the page.
    pub(crate) fn id(&self, place: &str) -> String {
        match self {
            Self::Alone => place.to_owned(),
            Self::Joined(sheet, _) => format!("{sheet}--{place}"),
        }
    }

    /// A link as it is in the page; `None` where that leads nowhere, for the sheet or table is not in the file.
    pub(crate) fn to(&self, link: &str) -> Option<String> {
        let Self::Joined(own, sheets) = self else { return Some(link.to_owned()) };
        let (file, place) = link.split_once('#').unwrap_or((link, ""));
        if file.contains(':') {
            return Some(link.to_owned());
        }
        let sheet = if file.is_empty() { own } else { file.strip_suffix(".html")? };
        let there = sheets.contains(&sheet);
        there.then(|| if place.is_empty() { format!("#{sheet}") } else { format!("#{sheet}--{place}") })
    }

    /// A drawing of this sheet as it is in the page.
    pub(crate) fn drawn(&self, drawing: &Drawing) -> String {
        let Self::Joined(..) = self else { return svg::print(&drawing.scene, &drawing.title, &drawing.words) };
        let mut scene = drawing.scene.clone();
        for link in scene.marks.iter_mut().filter_map(|mark| mark.link.as_mut()) {
            link.to = if link.to.is_empty() { String::new() } else { self.to(&link.to).unwrap_or_default() };
            link.id = if link.id.is_empty() { String::new() } else { self.id(&link.id) };
        }
        svg::print(&scene, &drawing.title, &drawing.words)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_a_joined_file_links_lead_to_its_places_or_nowhere() {
        let links = Links::Joined("riser", &["riser", "wire-labels"]);
        let cases = [
            ("#cable-1", Some("#riser--cable-1")),
            ("wire-labels.html", Some("#wire-labels")),
            ("wire-labels.html#cable-1", Some("#wire-labels--cable-1")),
            ("loop-sheet.html#zone-7", None),
            ("wire-labels.csv", None),
            ("https://example.org/a", Some("https://example.org/a")),
        ];
        for (link, wanted) in cases {
            assert_eq!(links.to(link).as_deref(), wanted, "{link}");
            assert_eq!(Links::Alone.to(link).as_deref(), Some(link));
        }
    }
}

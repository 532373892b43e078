//! What stands at the head and foot of every sheet.

use serde::Serialize;

use super::{Document, Sheet};
use crate::model::Site;

/// Title, site, revision, place in the packet and readers.
#[derive(Clone, Debug, Serialize)]
pub struct Head {
    title: &'static str,
    site: String,
    revision: String,
    date: String,
    note: String,
    since: String,
    sheet: String,
    readers: String,
}

impl Head {
    /// The head of a document of a site.
    pub fn of(site: &Site, document: &Document) -> Self {
        let revision = site.revision.as_ref();
        Self {
            title: document.title,
            site: site.title.clone(),
            revision: revision.map(|r| r.mark.clone()).unwrap_or_default(),
            date: revision.and_then(|r| r.date).map(|date| date.value.to_string()).unwrap_or_default(),
            note: revision.and_then(|r| r.note.clone()).unwrap_or_default(),
            since: String::new(),
            sheet: String::new(),
            readers: document.readers(),
        }
    }

    /// The same with the revision that the sheet's changed marks refer to.
    #[must_use]
    pub fn since(self, since: &str) -> Self {
        Self { since: since.to_owned(), ..self }
    }

    /// The same with the place in the packet; a sheet that stands alone has none.
    #[must_use]
    pub fn on(self, sheet: Option<Sheet>) -> Self {
        Self { sheet: sheet.map(|sheet| sheet.to_string()).unwrap_or_default(), ..self }
    }

    /// The head of a document that belongs to no single revision.
    pub(crate) fn plain(site: &str, document: &Document) -> Self {
        Self {
            title: document.title,
            site: site.to_owned(),
            revision: String::new(),
            date: String::new(),
            note: String::new(),
            since: String::new(),
            sheet: String::new(),
            readers: document.readers(),
        }
    }

    /// Site and revision in one line, for the foot of the page.
    pub(crate) fn line(&self) -> String {
        if self.revision.is_empty() {
            self.site.clone()
        } else {
            format!("{} · revision {}", self.site, self.revision)
        }
    }
}

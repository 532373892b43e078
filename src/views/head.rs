//! What stands at the head and foot of every sheet.

use serde::Serialize;

use super::readers::{self, Share};
use super::{Document, cover};
use crate::base::digest;
use crate::model::{HouseStyle, Site};

/// Title, site, revision and readers. Where the sheet stands in its packet, the foot of the page says.
#[derive(Clone, Debug, Serialize)]
pub struct Head {
    title: &'static str,
    site: String,
    revision: String,
    date: String,
    note: String,
    since: String,
    readers: String,
    firm: String,
    house_note: String,
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
            readers: readers::of(document),
            firm: site.house_style.firm.clone().unwrap_or_default(),
            house_note: site.house_style.note.clone().unwrap_or_default(),
        }
    }

    /// The same with the revision that the sheet's changed marks refer to.
    #[must_use]
    pub fn since(self, since: &str) -> Self {
        Self { since: since.to_owned(), ..self }
    }

    /// The head of a document that belongs to no single revision.
    pub(crate) fn plain(site: &str, house: &HouseStyle, document: &Document) -> Self {
        Self {
            title: document.title,
            site: site.to_owned(),
            revision: String::new(),
            date: String::new(),
            note: String::new(),
            since: String::new(),
            readers: readers::of(document),
            firm: house.firm.clone().unwrap_or_default(),
            house_note: house.note.clone().unwrap_or_default(),
        }
    }

    /// The head of a reader's packet.
    pub(crate) fn of_share(site: &Site, share: &Share) -> Self {
        Self { title: share.title, readers: share.reader.word().to_owned(), ..Self::of(site, &cover::DOCUMENT) }
    }

    /// What a page belongs to, in one line for its foot: site, revision, and eight digits that stand for all that the spec
    /// and its register say, `data` as one text: a stray page of another state is recognised, and one of the same state is
    /// not taken for a stray because a comment has changed.
    pub(crate) fn line(site: &Site, data: &str) -> String {
        let Site { title, revision, .. } = site;
        let revision = revision.as_ref().map(|revision| format!("revision {}", revision.mark));
        let spec = format!("spec {:.8}", digest(data.bytes()));
        [Some(title.clone()), revision, Some(spec)].into_iter().flatten().collect::<Vec<_>>().join(" · ")
    }
}

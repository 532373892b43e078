//! The texts of a site: what is secret in them masked, the rest parsed; and what was made of them before.
//!
//! From here on there is only the masked text: no stage, and no other revision, can quote what was in it.

use std::sync::Arc;

use super::load::SHARED;
use super::secrets::{self, Secret};
use crate::base::memo::Memo;
use crate::base::{FileId, SourceFile};
use crate::diag::Sink;
use crate::syntax::{self, Document, token};

/// See the module's head.
#[derive(Debug)]
pub(crate) struct Text {
    /// Its number among the files of the site.
    pub(crate) id: FileId,
    /// The masked text.
    pub(crate) source: Arc<SourceFile>,
    /// What was masked.
    pub(crate) secrets: Vec<Secret>,
    /// Its tree.
    pub(crate) document: Document,
    /// What the parser found.
    pub(crate) found: Sink,
}

/// What was made of the texts of a site before, for who reads them again and again: a text that has not changed is not read
/// again.
#[derive(Debug, Default)]
pub struct Remembered {
    /// True where only what lies outside of the site's folder is kept.
    of_shared: bool,
    pub(super) contents: Memo<(String, Vec<u8>), Content>,
    texts: Memo<(FileId, String, String, String), Text>,
}

impl Remembered {
    /// For many sites that have the same parts: only those are kept, and no more than some hundred files of them, however
    /// many sites there are.
    pub(crate) fn of_shared() -> Self {
        const MOST: usize = 400;
        Self { of_shared: true, contents: Memo::of_at_most(MOST), texts: Memo::of_at_most(MOST) }
    }

    /// True where what is made of a file is kept.
    pub(super) fn keeps(&self, path: &str) -> bool {
        !self.of_shared || path.starts_with(SHARED)
    }

    /// Begins another reading: what the last one had is kept until the next.
    pub(crate) fn turn(&mut self) {
        self.contents.turn();
        self.texts.turn();
    }
}

/// What is in a file.
#[derive(Debug)]
pub(super) enum Content {
    /// A text, and the targets of its `include` nodes.
    Text(String, Vec<String>),
    /// What is wrong with it, and as much of it as can be shown.
    NotText(syntax::DecodeFault, String),
}

impl Content {
    pub(super) fn of(bytes: Vec<u8>) -> Self {
        // The copy is for the snippet of a file that turns out to be no text.
        let shown = bytes.get(..bytes.len().min(syntax::LARGEST)).unwrap_or_default().to_vec();
        match syntax::decode(bytes) {
            Ok(text) => {
                let targets = syntax::include_targets(&text);
                Self::Text(text, targets)
            }
            Err(fault) => Self::NotText(fault, String::from_utf8_lossy(&shown).into_owned()),
        }
    }
}

impl Text {
    /// Masks and parses a text by its two paths, in the site and on the screen.
    pub(super) fn read(
        id: FileId,
        (in_site, shown): (&str, &str),
        text: &str,
        remembered: Option<&Remembered>,
    ) -> Arc<Self> {
        let make = || {
            let tokens = token::tokens(text);
            let secrets = secrets::find_among(text, &tokens);
            let source = Arc::new(SourceFile::of_site(in_site, shown, secrets::mask(text, &secrets)));
            let mut found = Sink::default();
            let document = if secrets.is_empty() {
                syntax::parse_tokens(id, &source.text, &tokens, &mut found)
            } else {
                syntax::parse(id, &source.text, &mut found)
            };
            Self { id, source, secrets, document, found }
        };
        let Some(known) = remembered.filter(|known| known.keeps(in_site)) else { return Arc::new(make()) };
        let key = (id, in_site.to_owned(), shown.to_owned(), text.to_owned());
        known.texts.get(key, |_| make())
    }
}

//! The title block of a document's drawings.

use super::{Document, readers};
use crate::compiled::Compiled;
use crate::draw::sheet::TitleBlock;

/// The block of one drawing of a document; which part it is, the drawing says.
pub(super) fn of(compiled: &Compiled, document: &Document, title: &str, scale: &str) -> TitleBlock {
    let revision = compiled.site.revision.as_ref().map(|revision| {
        let date = revision.date.as_ref().map(|date| format!(", {}", date.value)).unwrap_or_default();
        format!("revision {}{date}", revision.mark)
    });
    TitleBlock {
        title: title.to_owned(),
        site: compiled.site.title.clone(),
        revision: revision.unwrap_or_default(),
        readers: format!("for {}", readers::of(document)),
        scale: scale.to_owned(),
        part: (1, 1),
    }
}

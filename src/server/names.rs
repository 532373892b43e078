//! Names: where one is defined, and where it is used.

use lsp_types::{Location, Range};

use super::place::Place;
use super::sites::{FileOf, Sites};
use crate::base::Span;
use crate::resolve::path::normalise;

/// Where what is named at a byte is defined; of an include, the file.
pub(crate) fn definition(sites: &Sites, of: FileOf<'_>, offset: usize) -> Option<Location> {
    let mentions = of.study.mentions();
    if let Some(mention) = mentions.at(Span::new(of.id, offset, offset)) {
        return sites.location(of.folder, of.study, mentions.definition(&mention.named)?.span);
    }
    let place = Place::of(&of.file.text, offset);
    let target = place.head.arguments.first().filter(|_| place.head.node == "include")?;
    let path = normalise(target).ok()?;
    let (_, file) = of.study.sources().entries().find(|(_, file)| file.in_site == path)?;
    Some(Location { uri: sites.uri(&sites.path(of.folder, file))?, range: Range::default() })
}

/// Every place of the spec at which what is named at a byte is named.
pub(crate) fn references(sites: &Sites, of: FileOf<'_>, offset: usize, with_definition: bool) -> Vec<Location> {
    let mentions = of.study.mentions();
    let Some(named) = mentions.at(Span::new(of.id, offset, offset)).map(|mention| &mention.named) else {
        return Vec::new();
    };
    let same = mentions.of_site.iter().filter(|mention| mention.named == *named);
    let wanted = same.filter(|mention| with_definition || !mention.defines);
    wanted.filter_map(|mention| sites.location(of.folder, of.study, mention.span)).collect()
}

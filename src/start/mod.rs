//! A name, and perhaps a table of rooms → the files of a new site.
//!
//! The files that are the same for everybody stand in `templates/new` and `specs` and are part of the program. A *table* is
//! what people have in a spreadsheet: zone, room, opening, kind. From it come rooms, openings and zones with their runs;
//! what it does not know, above all lengths, is left out, so that the checks ask for it.
//!
//! Out: anything about the disk.

mod kind;
mod names;
mod spec;
mod table;

use std::collections::BTreeMap;

use crate::base::wording::{capital, kdl_text};

pub(crate) use names::plain_name;
pub(crate) use table::{Fault, Table, cells, read};

/// The shared parts, and where they stand beside a site.
const PARTS: [(&str, &str); 8] = [
    ("generic.kdl", include_str!("../../specs/parts/generic.kdl")),
    ("boards.kdl", include_str!("../../specs/parts/boards.kdl")),
    ("cables.kdl", include_str!("../../specs/parts/cables.kdl")),
    ("contacts.kdl", include_str!("../../specs/parts/contacts.kdl")),
    ("detectors.kdl", include_str!("../../specs/parts/detectors.kdl")),
    ("loads.kdl", include_str!("../../specs/parts/loads.kdl")),
    ("sounders.kdl", include_str!("../../specs/parts/sounders.kdl")),
    ("wireless.kdl", include_str!("../../specs/parts/wireless.kdl")),
];

/// What a repository of specs has at its top.
const TOP: [(&str, &str); 3] = [
    (".gitignore", include_str!("../../templates/new/gitignore")),
    (".gitattributes", include_str!("../../templates/new/gitattributes")),
    ("ci.sh", include_str!("../../specs/hooks/ci.sh")),
];

const SITE: &str = include_str!("../../templates/new/site.kdl");
const SITE_OF_TABLE: &str = include_str!("../../templates/new/site-of-table.kdl");

/// The files of a new site by their paths in its folder: `title` for people, `date` as 2027-03-14.
pub(crate) fn site(title: &str, date: &str, table: Option<&Table>) -> BTreeMap<String, String> {
    let name = plain_name(title);
    // A folder is mostly called in small letters; people read a title.
    let title = if title == name { capital(&name.replace('-', " ")) } else { title.to_owned() };
    let own = |template: &str| {
        template
            .replace("\"new-site\"", &kdl_text(&name))
            .replace("\"New site\"", &kdl_text(&title))
            .replace("2027-01-01", date)
    };
    let Some(table) = table else { return [("site.kdl".to_owned(), own(SITE))].into() };
    [
        ("site.kdl".to_owned(), own(SITE_OF_TABLE)),
        ("places.kdl".to_owned(), spec::places(table)),
        ("boards.kdl".to_owned(), spec::boards(table)),
        ("zones.kdl".to_owned(), spec::zones(table)),
    ]
    .into()
}

/// The same with what a site needs around it, by paths in a folder of their own: the shared parts, and what git is to know.
pub(crate) fn repository(title: &str, date: &str, table: Option<&Table>) -> BTreeMap<String, String> {
    let folder = plain_name(title);
    let site = site(title, date, table).into_iter().map(|(path, text)| (format!("specs/{folder}/{path}"), text));
    let parts = PARTS.iter().map(|(path, text)| (format!("specs/parts/{path}"), (*text).to_owned()));
    let top = TOP.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
    site.chain(parts).chain(top).collect()
}

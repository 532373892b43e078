//! The names in a message as titles, for paper.
//!
//! A message speaks to whoever has the spec open: names stand in backquotes, most behind their noun. On paper a board, an
//! opening, a device and a part go by their titles; every other name stands bare.

use crate::model::Site;
use crate::words::Paper;

/// Nouns of what has no title of its own, or has its name on paper too: such a name is never taken for a device's.
const OTHERS: [&str; 12] = [
    "bus",
    "port",
    "circuit",
    "communicator",
    "output",
    "cable",
    "conductor",
    "terminal",
    "labelled",
    "room",
    "level",
    "area",
];

/// True where a name without a noun may be that of a thing that goes by its name on paper too.
fn is_of_another(site: &Site, name: &str) -> bool {
    site.rooms.iter().any(|room| room.name.value == name)
        || site.levels.iter().any(|level| level.name.value == name)
        || site.areas.iter().any(|area| area.name.value == name)
        || site.communicators.iter().any(|way| way.name.value == name)
}

/// A message as it stands on paper.
pub(super) fn on_paper(site: &Site, message: &str) -> String {
    let mut said = String::new();
    for (place, piece) in message.split('`').enumerate() {
        if place % 2 == 0 {
            said.push_str(piece);
            continue;
        }
        let (noun, title) = title(site, &said, piece).unwrap_or(("", piece.to_owned()));
        let kept = said.trim_end_matches(' ').strip_suffix(noun).filter(|_| !noun.is_empty()).map(str::len);
        said.truncate(kept.unwrap_or(said.len()));
        // "bedroom `bedroom`": a name that is the noun before it says nothing more.
        if is_noun_before(&said, &title) {
            said.truncate(said.trim_end_matches(' ').len());
            continue;
        }
        said.push_str(&title);
    }
    said
}

/// Whether some words end in a word, whatever its case: as a word of its own and not as the end of another.
fn is_noun_before(said: &str, word: &str) -> bool {
    let before = said.strip_suffix(' ').and_then(|said| said.rsplit([' ', '(']).next());
    !word.is_empty() && before.is_some_and(|before| before.to_lowercase() == word.to_lowercase())
}

/// What a finding is about, as its message tells the kind of it.
pub(super) fn subject(site: &Site, message: &str, name: &str) -> String {
    let before = message.split_once(&format!("`{name}`")).map_or("", |(before, _)| before);
    title(site, before, name).map_or_else(|| name.to_owned(), |(_, title)| title)
}

/// The title of a name behind some words, and the noun among them that the title stands for.
fn title(site: &Site, before: &str, name: &str) -> Option<(&'static str, String)> {
    let behind = |noun: &str| before.strip_suffix(' ').is_some_and(|before| before.ends_with(noun));
    let boards = || site.boards.entries().filter(|(_, board)| board.name.value == name);
    let board = boards().find(|(_, board)| behind(board.kind.noun()));
    if let Some((id, board)) = board {
        return Some((board.kind.noun(), Paper.board(site, id)));
    }
    let mut openings = site.openings.entries().filter(|(_, opening)| opening.name.value == name);
    if let Some((id, opening)) = openings.find(|(_, opening)| behind(opening.kind.noun())) {
        return Some((opening.kind.noun(), Paper.opening(site, id)));
    }
    if behind("part") {
        return site.parts.iter().find(|part| part.name.value == name).map(|part| ("part", part.title.clone()));
    }
    let named = |found: &Option<crate::base::Spanned<String>>| found.as_ref().is_some_and(|found| found.value == name);
    let devices = || site.devices.entries().filter(|(_, device)| named(&device.name));
    // The noun says it, or that a message begins with it, as only those of devices and communicators do: a room of the same
    // name is another thing.
    let begins = before.is_empty() && !site.communicators.iter().any(|way| way.name.value == name);
    if let Some((id, _)) = devices().find(|(_, device)| begins || behind(device.kind.noun()) || behind("device")) {
        return Some(("", Paper.device(site, id)));
    }
    if OTHERS.iter().any(|noun| behind(noun)) || is_of_another(site, name) {
        return None;
    }
    let title = devices()
        .next()
        .map(|(id, _)| Paper.device(site, id))
        .or_else(|| boards().next().map(|(id, _)| Paper.board(site, id)));
    title.map(|title| ("", title))
}

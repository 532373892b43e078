//! What to program on the panel: the rows of the programming sheet that differ, and what no row of it tells: boards that are
//! blank, wireless detectors to enrol, the speed of a bus. Kept off the electrician's part.

use super::super::programming_sheet::lines::{self, OUTPUTS, TYPES};
use super::super::sheet_lines::{self, Difference};
use super::changes::{field_words, words_of};
use super::place::Step;
use super::{Sides, renamed};
use crate::diff::{Change, Kind, Subject, Thing, What};
use crate::model::{Board, BoardKind};
use crate::record::fact;

/// What the spec has to say to the installer about zones, where that is new.
pub(crate) fn remarks(sides: &Sides<'_>) -> Vec<Step> {
    let new = |change: &Change| {
        let number = &change.new.as_ref()?.0.key;
        let zone = sides.new.site.zone_printed(number)?.1;
        let told = change.what() == What::Added || change.field(fact::Zone::note).is_some();
        let note = zone.note.as_ref().filter(|_| told)?;
        Some(Step::new("check", format!("Zone {number}, remark: {note}")))
    };
    sides.changes(Kind::Zone).filter_map(new).collect()
}

/// The rows of the programming sheet that differ.
pub(super) fn differences(sides: &Sides<'_>) -> Vec<Difference> {
    let old = lines::lines(&renamed::site(sides), &sides.old.wiring);
    sheet_lines::differences(old, lines::lines(&sides.new.site, &sides.new.wiring), &sides.found.diff.renamed)
}

/// One step for each thing that is set otherwise now.
pub(crate) fn steps(sides: &Sides<'_>, rows: &[Difference]) -> Vec<Step> {
    let of = |kind: Kind| sides.changes(kind).filter_map(move |change| step(sides, kind, change));
    // A detector is enrolled for a zone that is there.
    let texts = of(Kind::Board).chain(of(Kind::Bus)).chain(rows.iter().filter_map(row)).chain(of(Kind::Device));
    texts.map(|text| Step::new("program", text)).collect()
}

/// A row of the sheet.
fn row(difference: &Difference) -> Option<String> {
    let Difference { old, new } = difference;
    let with = |said: String, cells: &[String]| {
        if cells.is_empty() { said } else { format!("{said}: {}", cells.join(", ")) }
    };
    match (old, new) {
        (_, Some(line)) if old.is_none() => {
            // Number and description stand in what it is called.
            let mut line = line.clone();
            line.cells.retain(|(head, _)| !matches!(*head, "number" | "description" | "name" | "kind"));
            let verb = if line.list == OUTPUTS { "Set" } else { "New" };
            Some(with(format!("{verb} {}", line.said), &line.words()))
        }
        // A type of which no zone is left has nothing to be taken back.
        (Some(line), None) if line.list == TYPES => None,
        (Some(line), None) if line.list == OUTPUTS => Some(format!("{}: nothing hangs there any more", line.said)),
        (Some(line), None) => Some(format!("Delete {}", line.said)),
        (_, Some(line)) => {
            let cells: Vec<String> = difference.columns().into_iter().map(altered).collect();
            Some(format!("{}: {}", line.said, cells.join("; ")))
        }
        (None, None) => None,
    }
}

/// "area 1 → 2", "set for end of line, none before".
pub(super) fn altered((head, old, new): (&str, &str, &str)) -> String {
    let said = match (old.is_empty(), new.is_empty()) {
        (true, _) => format!("{head} {new}, none before"),
        (_, true) => format!("{head} {old} before, none now"),
        _ => format!("{head} {old} → {new}"),
    };
    said.trim_start().to_owned()
}

/// What no row tells.
fn step(sides: &Sides<'_>, kind: Kind, change: &Change) -> Option<String> {
    let thing = change.thing()?;
    let said = &thing.said;
    let what = change.what();
    if kind == Kind::Board {
        let blank = blank(sides, change);
        let other = change.field(fact::Board::part).filter(|_| what != What::Added);
        let other = other.map(|part| format!("{}; ", field_words(sides, part))).unwrap_or_default();
        let new = if what == What::Added { "New " } else { "" };
        return (!blank.is_empty()).then(|| format!("{new}{said}: {other}{blank}"));
    }
    if kind == Kind::Device {
        return enrolled(change);
    }
    let rate = thing.fields.get(fact::Bus::bits_per_second);
    let rate = rate.map(|value| words_of(fact::Bus::bits_per_second, value, &sides.found.new));
    match (what, rate) {
        (What::Removed, _) => Some(format!("Delete {said}")),
        (What::Added, Some(rate)) => Some(format!("New {said}: {} {rate}", fact::Bus::bits_per_second)),
        (What::Added, None) => Some(format!("New {said}")),
        (What::Renamed | What::Moved | What::Changed, _) => {
            change.field(fact::Bus::bits_per_second).map(|field| format!("{said}: {}", field_words(sides, field)))
        }
    }
}

/// A wireless detector that is new, gone, another one, or heard by another receiver; a wired one is no matter of programming.
fn enrolled(change: &Change) -> Option<String> {
    let by_radio = |side: &Option<(Subject, Thing)>| {
        let thing = side.as_ref().map(|(_, thing)| thing)?;
        thing.fields.contains_key(fact::Device::receiver).then(|| thing.said.clone())
    };
    let other = change.is_another() || change.field(fact::Device::receiver).is_some();
    match (by_radio(&change.old), by_radio(&change.new)) {
        (Some(old), None) => Some(format!("Delete the {old} from the receiver")),
        (None, Some(new)) => Some(format!("Enrol the {new}")),
        (Some(old), Some(new)) if other => Some(format!("Delete the {old} from its receiver; enrol the {new}")),
        (Some(_), Some(_)) | (None, None) => None,
    }
}

/// What is said of a board that is another one now: nothing is programmed on it, though none of its zones differ.
fn blank(sides: &Sides<'_>, change: &Change) -> &'static str {
    let site = &sides.new.site;
    let board = change.new.as_ref().and_then(|(subject, _)| site.board_named(&subject.key));
    let is_panel = |board: &Board| board.kind == BoardKind::Panel;
    // The first panel of a house has everything before it: all of it is told as new.
    let added = change.what() == What::Added && sides.old.site.boards.iter().any(is_panel);
    let other = change.is_another();
    match board.map(|(_, board)| &board.kind) {
        Some(BoardKind::Panel) if added || other => {
            "it is blank: program all of it anew by the programming sheet, every area, zone, module, output and way to the service"
        }
        Some(BoardKind::Receiver) if other => {
            "it is blank: let the panel find it at its address and enrol every detector anew, by the programming sheet"
        }
        Some(BoardKind::Module { .. } | BoardKind::Keypad { .. }) if other => {
            "it is blank: let the panel find it at its address and program all that is on it anew, by the programming sheet"
        }
        Some(
            BoardKind::Panel
            | BoardKind::Receiver
            | BoardKind::Module { .. }
            | BoardKind::Keypad { .. }
            | BoardKind::PowerSupply
            | BoardKind::Strip { .. }
            | BoardKind::JointBox { .. },
        )
        | None => "",
    }
}

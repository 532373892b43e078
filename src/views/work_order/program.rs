//! What to program on the panel: zones, areas, modules, ways to the monitoring service. Kept off the electrician's part.

use super::Sides;
use super::changes::{field_words, words_of};
use super::place::Step;
use crate::diff::{Change, Kind, What};
use crate::model::{Board, BoardKind};
use crate::record::fact;

/// What the spec has to say to the installer about zones, where that is new.
pub(crate) fn remarks(sides: &Sides<'_>) -> Vec<Step> {
    let new = |change: &Change| {
        let number = &change.new.as_ref()?.0.key;
        let zone = sides.new.site.zones.iter().find(|zone| zone.number.value.to_string() == *number)?;
        let told = change.what() == What::Added || change.field(fact::Zone::note).is_some();
        let note = zone.note.as_ref().filter(|_| told)?;
        Some(Step::new("check", format!("Zone {number}, remark: {note}")))
    };
    sides.changes(Kind::Zone).filter_map(new).collect()
}

/// The fields of each kind that are set on a keypad, in the order of the sheet.
fn programmed(kind: Kind) -> &'static [&'static str] {
    match kind {
        Kind::Zone => &[
            fact::Zone::description,
            fact::Zone::kind,
            fact::Zone::area,
            fact::Loop::wiring,
            fact::Loop::board,
            fact::Loop::input,
            fact::Zone::action,
            fact::Zone::follows,
            fact::Zone::event_of_its_own,
        ],
        Kind::Area => &[
            fact::Area::number,
            fact::Area::title,
            fact::Area::entry_seconds,
            fact::Area::exit_seconds,
            fact::Area::abort_seconds,
            fact::Area::swinger_shutdown,
            fact::Area::sounder_cut_off_seconds,
        ],
        Kind::Board => &[fact::Board::address, fact::Board::inputs_from, fact::Board::part, fact::Board::kind],
        Kind::Communicator => &[
            fact::Communicator::path,
            fact::Communicator::service,
            fact::Communicator::board,
            fact::Communicator::module,
        ],
        Kind::Monitoring => &[fact::Monitoring::format, fact::Monitoring::test_every_seconds],
        Kind::Device => &[fact::Device::receiver],
        Kind::Bus => &[fact::Bus::bits_per_second],
        Kind::Site
        | Kind::Level
        | Kind::Room
        | Kind::Opening
        | Kind::Circuit
        | Kind::Spare
        | Kind::Cable
        | Kind::Conductor
        | Kind::CableType
        | Kind::Part
        | Kind::Accept => &[],
    }
}

/// One step for each thing that is set otherwise now.
pub(crate) fn steps(sides: &Sides<'_>) -> Vec<Step> {
    let kinds = [Kind::Board, Kind::Bus, Kind::Area, Kind::Zone, Kind::Device, Kind::Communicator, Kind::Monitoring];
    kinds
        .into_iter()
        .flat_map(|kind| sides.changes(kind).filter_map(move |change| step(sides, kind, change)))
        .map(|text| Step::new("program", text))
        .collect()
}

fn step(sides: &Sides<'_>, kind: Kind, change: &Change) -> Option<String> {
    let thing = change.thing()?;
    let said = &thing.said;
    let blank = if kind == Kind::Board { blank(sides, change) } else { "" };
    if change.what() == What::Added && !blank.is_empty() {
        return Some(format!("New {said}: {blank}"));
    }
    let is_wireless = kind == Kind::Device && thing.fields.contains_key(fact::Device::receiver);
    // A wired detector and a strip are no matter of programming.
    let is_wired = kind == Kind::Device && !is_wireless;
    let is_strip = kind == Kind::Board && !thing.fields.contains_key(fact::Board::address);
    match change.what() {
        What::Removed | What::Added if is_wired || is_strip => None,
        What::Removed if is_wireless => Some(format!("Delete the {said} from the receiver")),
        What::Removed => Some(format!("Delete {said}")),
        What::Added if is_wireless => Some(format!("Enrol the {said}")),
        What::Added => {
            let set = programmed(kind).iter().filter_map(|field| {
                let value = thing.fields.get(*field)?;
                Some(format!("{field} {}", words_of(field, value, &sides.found.new)))
            });
            let set: Vec<String> = set.collect();
            let set = if set.is_empty() { String::new() } else { format!(": {}", set.join(", ")) };
            Some(format!("New {said}{set}"))
        }
        What::Renamed | What::Moved | What::Changed => {
            let fields = change.fields.iter().filter(|field| programmed(kind).contains(&field.field.as_str()));
            let mut set: Vec<String> = fields.map(|field| field_words(sides, field)).collect();
            let old = change.old.as_ref().map(|(subject, _)| subject.key.as_str());
            let new = change.new.as_ref().map(|(subject, _)| subject.key.as_str());
            if let (Kind::Zone, Some(old), Some(new)) = (kind, old, new)
                && old != new
            {
                set.insert(0, format!("number {old} → {new}"));
            }
            set.extend(Some(blank.to_owned()).filter(|blank| !blank.is_empty()));
            (!set.is_empty()).then(|| format!("{said}: {}", set.join("; ")))
        }
    }
}

/// What is said of a board that is another one now: nothing is programmed on it, though none of its zones differ.
fn blank(sides: &Sides<'_>, change: &Change) -> &'static str {
    let site = &sides.new.site;
    let board = change.new.as_ref().and_then(|(subject, _)| site.board_named(&subject.key));
    let is_panel = |board: &Board| board.kind == BoardKind::Panel;
    // The first panel of a house has everything before it: all of it is told as new.
    let added = change.what() == What::Added && sides.old.site.boards.iter().any(is_panel);
    let other = change.field(fact::Board::part).is_some();
    match board.map(|(_, board)| &board.kind) {
        Some(BoardKind::Panel) if added || other => {
            "it is blank: program all of it anew by the programming sheet, every area, zone, module, output and way to the service"
        }
        Some(BoardKind::Receiver) if other => {
            "it is blank: let the panel find it at its address and enrol every detector anew, by the programming sheet"
        }
        Some(BoardKind::Module { .. } | BoardKind::Keypad) if other => {
            "it is blank: let the panel find it at its address and program all that is on it anew, by the programming sheet"
        }
        Some(
            BoardKind::Panel
            | BoardKind::Receiver
            | BoardKind::Module { .. }
            | BoardKind::Keypad
            | BoardKind::PowerSupply
            | BoardKind::Strip { .. }
            | BoardKind::JointBox { .. },
        )
        | None => "",
    }
}

//! What to program on the panel: zones, areas, modules, ways to the monitoring service. Kept off the electrician's part.

use super::Sides;
use super::changes::{field_words, words_of};
use super::place::Step;
use crate::diff::{Change, Kind, Thing, What};

/// The fields of each kind that are set on a keypad, in the order of the sheet.
fn programmed(kind: Kind) -> &'static [&'static str] {
    match kind {
        Kind::Zone => &["description", "type", "area", "wiring", "board", "input", "event code"],
        Kind::Area => &["number", "title", "entry delay", "exit delay", "abort window"],
        Kind::Board => &["address", "inputs from", "part", "kind"],
        Kind::Communicator => &["goes over", "service", "board", "adapter"],
        Kind::Monitoring => &["format", "test report every"],
        Kind::Device => &["receiver"],
        Kind::Bus => &["rate"],
        _ => &[],
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
    let is_radio = |thing: &Thing| thing.fields.contains_key("receiver");
    match change.what() {
        What::Removed => match kind {
            Kind::Device if is_radio(thing) => Some(format!("Delete the {} from the receiver", thing.said)),
            Kind::Device => None,
            // A strip is no matter of programming.
            Kind::Board if !thing.fields.contains_key("address") => None,
            _ => Some(format!("Delete {}", thing.said)),
        },
        What::Added => match kind {
            Kind::Device if is_radio(thing) => Some(format!("Enrol the {}", thing.said)),
            Kind::Device => None,
            Kind::Board if !thing.fields.contains_key("address") => None,
            _ => {
                let set = programmed(kind).iter().filter_map(|field| {
                    let value = thing.fields.get(*field)?;
                    Some(format!("{field} {}", words_of(field, value, &sides.found.new)))
                });
                let set: Vec<String> = set.collect();
                let set = if set.is_empty() { String::new() } else { format!(": {}", set.join(", ")) };
                Some(format!("New {}{set}", thing.said))
            }
        },
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
            (!set.is_empty()).then(|| format!("{}: {}", thing.said, set.join("; ")))
        }
    }
}

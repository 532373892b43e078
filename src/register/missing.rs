//! An input that the register holds for a zone, without the cable that is on it: the entry was lost, by hand or in a merge.
//! Without a word about it the cable in the wall would get a new label.

use crate::model::{Mounted, Owner, Site};

use super::notice::Notice;
use super::owner::OwnerName;
use super::recognised::Recognised;

/// Tells each of them.
pub(crate) fn note(site: &Site, known: &Recognised<'_>, notices: &mut Vec<Notice>) {
    for entry in &known.register.inputs {
        let Some((zone, of)) = site.zone_numbered(entry.zone) else { continue };
        let first = of.wired.as_ref().and_then(|wired| wired.chain.iter().find_map(Mounted::run));
        let Some(first) = first.filter(|run| !site.runs[*run].along_written) else { continue };
        let owner = OwnerName::of(site, Owner::Zone(zone));
        let serves = |cable: &super::CableEntry| {
            cable.of == owner || cable.wires.iter().any(|wire| wire.of.as_ref() == Some(&owner))
        };
        if !known.of_run.contains_key(&first) && !known.register.cables.iter().any(serves) {
            notices.push(Notice::CableMissing { zone, number: entry.number, entry: entry.place });
        }
    }
}

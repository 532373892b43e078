//! An emergency key whose report carries the number of a zone.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("key-numbered-as-zone", Basis::Mismatch, "an emergency key whose report carries the number of a zone");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut numbered: BTreeMap<u32, Vec<(Span, String)>> = BTreeMap::new();
    for (id, board) in site.boards.entries() {
        for key in &board.emergency_keys {
            let told = format!("the key \"{}\" of {}", key.key.value.word(), Screen.board(site, id));
            if let Some(number) = &key.number {
                numbered.entry(number.value).or_default().push((number.span, told));
            }
        }
    }
    for (number, keys) in numbered {
        let (Some((_, zone)), Some(((first, told), others))) = (site.zone_numbered(number), keys.split_first()) else {
            continue;
        };
        let title = format!("{told} reports with the number of zone {number}, \"{}\"", zone.description.value);
        let finding = Diagnostic::new(&RULE, *first, title)
            .here("the number behind its report")
            .also(zone.number.span, "the zone's number")
            .why("The service goes by the number to the description. A call from the keypad is read as one from the zone, and help looks for it there.")
            .help("Write the number that the board sends for the key; its sheet or its programming has it. If it sends this one, give the zone another.")
            .about(number);
        let finding =
            others.iter().fold(finding, |finding, (span, told)| finding.also(*span, format!("so does {told}")));
        sink.push(finding);
    }
}

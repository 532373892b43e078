//! A part that is used with invented figures.

use crate::base::Id;
use crate::base::wording::{count, list};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Part, Site};
use crate::terms;

check!("part-unconfirmed", Basis::Practice, "a part that is used with invented figures");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, part) in site.parts.entries().filter(|(_, part)| part.basis == Some(terms::Basis::Generic)) {
        let uses = uses(site, id);
        if uses.is_empty() {
            continue;
        }
        sink.push(
            Diagnostic::new(&RULE, part.name.span, format!("the figures of part `{}` are not confirmed", part.name.value))
                .here(format!("used for {}", list(&uses, "and")))
                .why("Voltage drop, battery life and loop readings are computed from the part's figures, and these were invented. The part that comes in the box may differ.")
                .help("Compare the figures with the data sheet, and write: basis \"sheet\" ref=\"which sheet, which page\".")
                .about(&part.name.value),
        );
    }
}

/// What a part is used for, in words: "9 contacts".
fn uses(site: &Site, part: Id<Part>) -> Vec<String> {
    let devices = site.devices.iter().filter(|device| device.part == Some(part)).map(|device| device.kind.noun());
    let boards = site.boards.iter().filter(|board| board.part == Some(part)).map(|board| board.kind.noun());
    let mut nouns: Vec<(&str, usize)> = Vec::new();
    for noun in boards.chain(devices) {
        match nouns.iter_mut().find(|(known, _)| *known == noun) {
            Some((_, number)) => *number += 1,
            None => nouns.push((noun, 1)),
        }
    }
    nouns.into_iter().map(|(noun, number)| count(number, noun, None)).collect()
}

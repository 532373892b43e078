//! A fault contact in more than one loop.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Board;
use crate::words::Screen;

check!("fault-contact-shared", Basis::Contradiction, "a fault contact that is in a loop twice, or in two loops");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut found: BTreeMap<Id<Board>, Vec<Span>> = BTreeMap::new();
    for device in &site.devices {
        if let Some(board) = &device.board {
            found.entry(board.value).or_default().push(device.span());
        }
    }
    for (id, spans) in found {
        let [first, second, more @ ..] = spans.as_slice() else { continue };
        let title = format!("the fault contact of {} is wired twice", Screen.board(site, id));
        let finding = Diagnostic::new(&RULE, *second, title)
            .here("wired here")
            .also(*first, "and here")
            .why("It is one contact with two terminals. Two loops on them are joined to each other, and each board reads the other's current.")
            .help("Keep one `fault`. A board that is to be told as well needs a relay with contacts of its own.")
            .about(&site.boards[id].name.value);
        sink.push(more.iter().fold(finding, |finding, span| finding.also(*span, "and here")));
    }
}

//! A part whose list of terminals names one mark twice.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("terminal-repeated", Basis::Contradiction, "a part that lists one terminal twice");

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in &context.site.parts {
        let mut first: BTreeMap<&str, Span> = BTreeMap::new();
        for mark in &part.terminals {
            let Some(before) = first.get(mark.value.as_str()) else {
                first.insert(&mark.value, mark.span);
                continue;
            };
            let title = format!("part `{}` lists terminal `{}` twice", part.name.value, mark.value);
            sink.push(
                Diagnostic::new(&RULE, mark.span, title)
                    .here("here again")
                    .also(*before, "listed here")
                    .why("The list gives the terminals in the order in which they are on the board. A mark that stands there twice would be printed as two screws, and one of them is not there.")
                    .help("Read the marks off the board again, and write each once.")
                    .about(&part.name.value),
            );
        }
    }
}

//! Bands of a board that cannot be as written.

use crate::checks::Context;
use crate::checks::loops::loop_words;
use crate::checks::loops::sensing_faults::faults;
use crate::diag::{Basis, Diagnostic, Sink};

check!("sensing-impossible", Basis::Contradiction, "bands of a board that cannot be as written");

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in context.site.parts.iter().filter(|part| part.whole) {
        let all = part.sensings().flat_map(|sensing| faults(sensing).into_iter().map(move |fault| (sensing, fault)));
        for (sensing, (span, title, other)) in all {
            let mut finding = Diagnostic::new(&RULE, span, format!("{title} (part `{}`)", part.name.value))
                .here("this band")
                .why("A reading lies in one band or in none, and between nothing and the board's own supply. A slip here gives every loop of the board a wrong verdict.")
                .help("Copy the edges again from the sheet, from the lowest reading to the highest, all in volts or all in ohms.")
                .about(&part.name.value);
            if let Some(other) = other {
                finding = finding.also(other, "the other band");
            }
            sink.push(loop_words::bands(finding, Some(sensing), &[]));
        }
    }
}

//! A part that says twice how its board reads a loop of one wiring.

use crate::base::Span;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::LoopWiring;

check!("sensing-repeated", Basis::Contradiction, "a part that says twice how it reads a loop of one wiring");

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in context.site.parts.iter().filter(|part| part.whole) {
        let name = &part.name.value;
        if let (Some(first), Some(again)) = (&part.sensing, &part.sensing_again) {
            sink.push(told(
                name,
                format!("part `{name}` says twice how it reads every loop"),
                first.place.span,
                again.span,
            ));
        }
        let mut seen: Vec<(LoopWiring, Span)> = Vec::new();
        for setting in &part.settings {
            let (wiring, span) = (setting.wiring.value, setting.wiring.span);
            match seen.iter().find(|(known, _)| *known == wiring) {
                Some((_, first)) => {
                    let title = format!("part `{name}` says twice how it reads a {} loop", wiring.word());
                    sink.push(told(name, title, *first, span));
                }
                None => seen.push((wiring, span)),
            }
        }
    }
}

fn told(part: &str, title: String, first: Span, again: Span) -> Diagnostic {
    Diagnostic::new(&RULE, again, title)
        .here("again")
        .also(first, "first here")
        .why("Which of the two the board goes by is not for the compiler to guess, and every loop of that wiring is judged by it.")
        .help("Keep the one that is on the board's sheet. Where each is for a setting of its inputs, say which with wiring=.")
        .about(part)
}

//! An emergency key that a keypad names twice.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("emergency-key-repeated", Basis::Contradiction, "an emergency key that a keypad names twice");

fn run(context: Context<'_>, sink: &mut Sink) {
    for board in &context.site.boards {
        for (position, key) in board.emergency_keys.iter().enumerate() {
            let earlier = board.emergency_keys.iter().take(position).find(|other| other.key.value == key.key.value);
            let Some(first) = earlier else { continue };
            let (word, name) = (key.key.value.word(), &board.name.value);
            sink.push(
                Diagnostic::new(&RULE, key.key.span, format!("keypad `{name}` has emergency key \"{word}\" twice"))
                    .here("here again")
                    .also(first.key.span, "here")
                    .why("A keypad has one key of a kind. One of the two is another key, which then stands nowhere on the paper.")
                    .help("Name the key that is meant here, or take it out.")
                    .about(name),
            );
        }
    }
}

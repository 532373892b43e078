//! A cable type that lists more conductors than it has.

use crate::base::wording::count;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("cable-count-mismatch", Basis::Contradiction, "a cable type that lists more conductors than it has");

fn run(context: Context<'_>, sink: &mut Sink) {
    for cable in &context.site.cables {
        let (says, lists) = (cable.count.value as usize, cable.conductors.len());
        let Some(surplus) = cable.conductors.get(says) else { continue };
        let title = format!("cable `{}` has {} and lists {lists}", cable.name.value, count(says, "conductor", None));
        sink.push(
            Diagnostic::new(&RULE, cable.count.span, title)
                .here(format!("{says} here"))
                .also(surplus.colour.span, format!("number {}", says + 1))
                .why("One of the two is wrong. If it is the list, a conductor is drawn and landed that is not in the cable.")
                .help(format!("Write conductors={lists}, or remove what the cable does not have. To list fewer is allowed."))
                .about(&cable.name.value),
        );
    }
}

//! Two conductors of one colour in a cable type.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("conductor-colour-repeated", Basis::Practice, "two conductors of one colour in a cable type");

fn run(context: Context<'_>, sink: &mut Sink) {
    for cable in &context.site.cables {
        let repeated = cable.conductors.iter().enumerate().find_map(|(position, conductor)| {
            let earlier = cable.conductors.iter().take(position).find(|e| e.colour.value == conductor.colour.value)?;
            Some((earlier, conductor))
        });
        let Some((earlier, conductor)) = repeated else { continue };
        let colour = conductor.colour.value;
        sink.push(
            Diagnostic::new(&RULE, conductor.colour.span, format!("cable `{}` has two {} conductors", cable.name.value, colour.name()))
                .here("the second")
                .also(earlier.colour.span, "the first")
                .why("The paper tells conductors by colour. Two of one colour look alike at both ends, and a supply may be landed the wrong way round.")
                .help("If one has a tracer, write both codes, as in \"RDBU\" for red with blue; else mark one of them at both ends before pulling.")
                .about(&cable.name.value),
        );
    }
}

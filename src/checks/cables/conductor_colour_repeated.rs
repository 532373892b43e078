//! Conductors of one colour in a cable type.

use crate::base::wording::count;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("conductor-colour-repeated", Basis::Practice, "two conductors of one colour in a cable type");

fn run(context: Context<'_>, sink: &mut Sink) {
    for cable in &context.site.cables {
        let alike = |colour| cable.conductors.iter().filter(move |conductor| conductor.colour.value == colour);
        let repeated = cable.conductors.iter().map(|conductor| conductor.colour.value);
        let Some(colour) = repeated.into_iter().find(|colour| alike(*colour).nth(1).is_some()) else { continue };
        let mut conductors = alike(colour);
        let (Some(first), Some(second)) = (conductors.next(), conductors.next()) else { continue };
        let number = count(alike(colour).count(), &format!("{} conductor", colour.name()), None);
        let finding = Diagnostic::new(&RULE, second.colour.span, format!("cable `{}` has {number}", cable.name.value))
            .here("the second")
            .also(first.colour.span, "the first");
        sink.push(
            conductors
                .fold(finding, |finding, conductor| finding.also(conductor.colour.span, "and this one"))
                .why("The paper tells conductors by colour. Those of one colour look alike at both ends, and a supply may be landed the wrong way round.")
                .help("If one has a tracer, write both codes, as in \"RDBU\" for red with blue; else mark both ends of each with its number, which the sheets print behind its colour.")
                .about(&cable.name.value),
        );
    }
}

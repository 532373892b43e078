//! Leads of a battery whose colours say the other pole, or say nothing.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::{Colour, Hue};
use crate::words::Screen;

check!(
    "battery-leads-exchanged",
    Basis::Mismatch,
    "a battery whose leads have the colours of the other pole, or one colour"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (id, board) in context.site.boards.entries() {
        let Some(battery) = &board.battery else { continue };
        let (Some(positive), Some(negative)) = (&battery.positive, &battery.negative) else { continue };
        let span = positive.span;
        let (positive, negative, other) = (positive.value, negative.value, negative.span);
        let is = |colour: Colour, hue: Hue| colour.base == hue && colour.tracer.is_none();
        let (said, help) = if positive == negative {
            (
                format!("two {} leads", positive.name()),
                "Look at the leads, and write the colour of each; mark two that look alike before they are landed.",
            )
        } else if is(positive, Hue::Black) || is(negative, Hue::Red) {
            (
                format!("a {} lead on its positive and a {} one on its negative", positive.name(), negative.name()),
                "Look at the leads, and exchange positive= and negative=, or write the colours that they have.",
            )
        } else {
            continue;
        };
        sink.push(
            Diagnostic::new(
                &RULE,
                span,
                format!("the battery of {} has {said}", Screen.board(context.site, id)),
            )
            .here("the positive lead")
            .also(other, "the negative one")
            .why("The paper tells the leads by their colours. A battery that is connected the wrong way round destroys the board or its fuse, and nothing else tells the two apart in the box.")
            .help(help)
            .about(&board.name.value),
        );
    }
}

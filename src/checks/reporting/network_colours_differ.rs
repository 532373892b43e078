//! A network cable whose conductors are not those of the table by which it is said to be wired.

use crate::base::wording::list;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::profiles::connectors;
use crate::words::{self, Screen};

check!(
    "network-colours-differ",
    Basis::Intent,
    "a network cable whose conductors are not those of the table that it is said to be wired by"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for cable in &context.wiring.cables {
        let run = &site.runs[cable.run];
        let Owner::Communicator(line) = run.owner else { continue };
        let Some(order) = &site.communicators[line].pin_order else { continue };
        let mut pins = Vec::new();
        let mut colours = Vec::new();
        for used in &cable.conductors {
            let Some((pin, (_, wanted))) =
                used.function.pin().and_then(|pin| Some((pin, connectors::pin(order.value, pin)?)))
            else {
                continue;
            };
            colours.push(wanted.to_owned());
            if used.colour.is_none_or(|colour| !connectors::is_colour(wanted, &colour.code())) {
                pins.push(format!("{pin} on {}", words::conductor_mark(site, cable, used.position)));
            }
        }
        if pins.is_empty() {
            continue;
        }
        let (table, kind) = (order.value.word(), &site.cables[cable.kind]);
        let label = Screen.cable(context.wiring, cable.run);
        let finding = Diagnostic::new(&RULE, order.span, format!("{label} is not wired by {table}: pin {}", list(&pins, "and")))
            .here(format!("the table wants {}", list(&colours, "and")))
            .also(run.span(), "this cable")
            .also(kind.name.span, "of this type")
            .why("A network pair works because its two conductors are twisted with each other. With a pin on another conductor than at the other end, or on one of another pair, the link is slow, or is none.")
            .help(format!(
                "List the conductors of `{}` with their colours, as `conductor \"WHOG\"`; where the wall has another order, write that one, or leave wired= out.",
                kind.name.value
            ));
        sink.push(about::owner(site, run.owner, finding));
    }
}

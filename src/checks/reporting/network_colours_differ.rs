//! A network cable whose conductors are not those of the table by which it is said to be wired.

use crate::base::wording::list;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::profiles::connectors;
use crate::register::ConductorUse;
use crate::words::{self, Screen};

check!(
    "network-colours-differ",
    Basis::Mismatch,
    "a network cable whose conductors are not those of the table that it is said to be wired by"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for cable in &context.wiring.cables {
        let run = &site.runs[cable.run];
        let Owner::Communicator(line) = run.owner else { continue };
        let Some(order) = &site.communicators[line].pin_order else { continue };
        let differ = words::not_by(cable, order.value);
        if differ.is_empty() {
            continue;
        }
        let pin = |(pin, used): &(u8, &ConductorUse)| {
            format!("{pin} on {}", words::conductor_mark(site, cable, used.position))
        };
        let pins: Vec<String> = differ.iter().map(pin).collect();
        let wanted = cable.conductors.iter().filter_map(|used| connectors::pin(order.value, used.function.pin()?));
        let colours: Vec<String> = wanted.map(|(_, colour)| colour.to_owned()).collect();
        let (table, kind) = (order.value.word(), &site.cables[cable.kind]);
        let help = if words::has_colours(kind, order.value, &differ) {
            let wall = words::wired_by(site, cable)
                .map_or_else(|| "leave wired= out".to_owned(), |wall| format!("write wired=\"{}\"", wall.word()));
            format!(
                "Where both ends are as the register has them, {wall}. To re-make both by {table}, take the `wire` lines of `{}` out of register.kdl: they are written again by that table, and the work order has the steps.",
                cable.label
            )
        } else {
            format!(
                "List the conductors of `{}` with their colours, as `conductor \"WHOG\"`; where the wall has another order, write that one, or leave wired= out.",
                kind.name.value
            )
        };
        let label = Screen.cable(context.wiring, cable.run);
        let finding = Diagnostic::new(&RULE, order.span, format!("{label} is not wired by {table}: pin {}", list(&pins, "and")))
            .here(format!("the table wants {}", list(&colours, "and")))
            .also(run.span(), "this cable")
            .also(kind.name.span, "of this type")
            .why("A network pair works because its two conductors are twisted with each other. With a pin on another conductor than at the other end, or on one of another pair, the link is slow, or is none.")
            .help(help);
        sink.push(about::owner(site, run.owner, finding));
    }
}

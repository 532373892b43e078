//! A fuse of a battery or a transformer that blows when everything is on.

use crate::base::Spanned;
use crate::calc::power::transformer::asked;
use crate::checks::Context;
use crate::checks::battery::standby::{self, Head};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Amperes;
use crate::quantity::print::apart;
use crate::words::Screen;

check!(
    "fuse-too-small",
    Basis::Published(
        "IEC 60127 and UL 248-14, editions not named, from memory: a fuse carries the current that it is rated for"
    ),
    "a fuse that is rated for less than what flows through it"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::loaded(context) {
        let battery = head.board.battery.as_ref().and_then(|battery| battery.fuse.as_ref());
        let currents = head.currents();
        // What an alarm lets go, as a lock on a break contact, flows at rest.
        let (flows, when, why) = if currents.idle > currents.alarm {
            (
                currents.idle,
                "at rest",
                "It blows as soon as the mains is gone, and the house is without an alarm from then on.",
            )
        } else {
            (
                currents.alarm,
                "in alarm",
                "It blows in the first alarm without mains: the siren stops and the house is without an alarm. At rest nobody notices.",
            )
        };
        if let Some(fuse) = battery.filter(|fuse| fuse.value < flows) {
            sink.push(finding(context, &head, ("battery", fuse, flows), (when, why), format!("{when} {flows}")));
        }
        let transformer = head.board.transformer.as_ref();
        let Some((transformer, fuse)) = transformer.and_then(|of| Some((of, of.fuse.as_ref()?))) else { continue };
        let Some(asked) = asked(context.site, context.power, head.id) else { continue };
        let flows = Amperes(asked.power.0 / transformer.volts.value.0);
        if fuse.value < flows {
            let why = "It blows when an alarm comes while the battery is charged again. From then on the battery is used up, and nothing charges it.";
            let figure = format!(
                "{:.1} VA ÷ {} = {flows}: alarm and charger together, as for the transformer",
                asked.power.0, transformer.volts.value
            );
            sink.push(finding(context, &head, ("transformer", fuse, flows), ("in alarm", why), figure));
        }
    }
}

/// The finding on a fuse of a thing, with the current that flows through it.
fn finding(
    context: Context<'_>,
    head: &Head<'_>,
    (thing, fuse, flows): (&str, &Spanned<Amperes>, Amperes),
    (when, why): (&str, &str),
    figure: String,
) -> Diagnostic {
    let board = Screen.board(context.site, head.id);
    let (rated, flows) = apart(fuse.value, flows);
    let title = format!("the fuse of the {thing} of {board} is rated for {rated} and {flows} flow through it");
    let finding = Diagnostic::new(&RULE, fuse.span, title)
        .here(format!("blows {when}"))
        .why(why)
        .help(format!("Write the fuse that the board's sheet asks for, for more than {flows}. Where the sheet allows no larger one, feed a part of the loads from a supply of its own."))
        .figure(figure);
    standby::about(head, finding)
}

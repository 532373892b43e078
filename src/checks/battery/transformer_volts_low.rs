//! A transformer of which too few volts reach the board.

use crate::calc::power::transformer::{Asked, asked};
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::print;
use crate::words::{Screen, apart, rated, rounded_down};

check!("transformer-volts-low", Basis::Contradiction, "a transformer of which too few volts reach the board");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for head in standby::loaded(context) {
        let Some(transformer) = &head.board.transformer else { continue };
        let Some((port, min)) =
            head.part.ac_port.as_ref().filter(|port| !port.is_reversed()).and_then(|port| Some((port, port.min?)))
        else {
            continue;
        };
        let Some(Asked { direct, drop, at_board, .. }) = asked(site, context.power, head.id) else { continue };
        if at_board >= min {
            continue;
        }
        let run = transformer.run.map(|run| &site.runs[run]);
        let span = run.map_or(transformer.volts.span, crate::model::Run::span);
        let (arrives, least) = apart(at_board, min);
        let least = if least == min.to_string() { rated(min) } else { least };
        let reaches = if at_board.0 > 0.0 { format!("{arrives} reach") } else { "nothing reaches".to_owned() };
        let title = format!("{reaches} {} from its transformer, and it needs {least}", Screen.board(site, head.id));
        let lost = if at_board.0 > 0.0 { "loses" } else { "would lose" };
        let lost = format!("{lost} {drop} at {direct} of direct current, with hot wire");
        let finding = Diagnostic::new(&RULE, span, title)
            .here(if run.is_some() { lost } else { format!("gives {}", transformer.volts.value) })
            .also(port.a.span, format!("needs {} here, by the part", rated(min)))
            .why("On battery the board runs well, and on mains it does not charge: that shows at the first long power cut.");
        let length = run.and_then(|run| run.length.as_ref()).filter(|_| drop.0 > 0.0);
        let enough = transformer.volts.value.0 - min.0;
        let finding = finding.help(match length {
            Some(length) if enough > 0.0 => format!(
                "Take a thicker cable, or hang the transformer nearer: with this cable {} at most.",
                print::length(rounded_down(length.value * (enough / drop.0), site.lengths), site.lengths)
            ),
            Some(_) | None => format!(
                "Take a transformer of more volts that the board's sheet allows, {} or more at the board.",
                rated(min)
            ),
        });
        sink.push(standby::about(&head, finding));
    }
}

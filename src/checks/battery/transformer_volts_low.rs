//! A transformer of which too few volts reach the board.

use crate::calc::power::transformer::{Asked, asked};
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Transformer;
use crate::profiles::battery as profile;
use crate::quantity::Volts;
use crate::quantity::print::{self, apart};
use crate::words::{Screen, rated, rounded_down};

check!("transformer-volts-low", Basis::Contradiction, "a transformer of which too few volts reach the board");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for head in standby::loaded(context) {
        let Some(transformer) = &head.board.transformer else { continue };
        let Some(port) = head.part.ac_port.as_ref().filter(|port| !port.is_reversed()) else { continue };
        let Some(asked) = asked(site, context.power, head.id) else { continue };
        let Some(min) = port.min else {
            if let Some(float) = asked.flat(site, head.id) {
                sink.push(standby::about(
                    &head,
                    flat(&head, transformer, &asked, float).also(port.a.span, "the part gives no min= here"),
                ));
            }
            continue;
        };
        let Asked { direct, drop, at_board, .. } = asked;
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

/// A transformer that charges nothing by what any bridge gives of its volts, at a board whose sheet gives no least.
fn flat(head: &standby::Head<'_>, transformer: &Transformer, asked: &Asked, float: Volts) -> Diagnostic {
    let name = Screen.board(head.context.site, head.id);
    let (rectified, float) = apart(asked.rectified(), float);
    let volts = rated(transformer.volts.value);
    let most = if asked.rectified().0 > 0.0 { format!("{rectified} at the most") } else { "nothing".to_owned() };
    Diagnostic::new(&RULE, transformer.volts.span, format!("the transformer of {name} gives {volts}, too few to charge its battery"))
        .here(format!("makes {most} behind a bridge"))
        .also(head.board.battery.as_ref().map_or(head.board.name.span, |battery| battery.capacity.span), format!("charges from {float} on"))
        .why("Current flows into a battery only from more volts than it has. On battery the board runs well, and on mains it does not charge: that shows at the first long power cut.")
        .help("Take a transformer of the volts that the board's sheet asks for. Where the sheet allows this one, because the board raises its volts, write its least as min= at the part's `ac-port`.")
        .figure(format!("{} reach the board at {} of direct current; × √2 − {} = {rectified} ({})", asked.at_board, asked.direct, Volts(profile::BRIDGE_DROP.value), profile::BRIDGE_DROP.source()))
        .figure(format!("below {float} a lead-acid battery of these volts hardly charges (handbooks of battery makers, from memory)"))
}

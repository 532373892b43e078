//! A two-wire detector on a loop or an input that does not feed it.

use crate::base::wording::list;
use crate::checks::Context;
use crate::checks::loops::loop_known::known;
use crate::checks::loops::two_wire;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::LoopWiring;
use crate::words::Screen;

check!("two-wire-unfed", Basis::Contradiction, "a two-wire detector on a loop or an input that does not feed it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, zone) in site.zones.entries() {
        let Some(known) = known(site, id) else { continue };
        let number = zone.number.value;
        let detectors = two_wire::detectors(site, id);
        let can = || known.part.inputs.iter().filter(|input| input.two_wire).map(|input| input.number.value);
        let input = context.wiring.input_of(site, id).map(|(_, input)| input);
        let finding = |title: String| {
            Diagnostic::new(&RULE, known.wired.place.span, title)
                .also(known.part.name.span, "the board's sheet")
                .why("A two-wire detector has no supply but the loop. On an input that does not feed it, it is a piece of plastic on the ceiling: the zone looks at rest and never alarms.")
                .about(number)
        };
        if known.wiring != LoopWiring::TwoWire {
            let Some((first, others)) = detectors.split_first() else { continue };
            let wiring = known.wiring.word();
            let finding = finding(format!("{} is a two-wire detector in the {wiring} loop of zone {number}", Screen.device(site, first.0)))
                .here(format!("{wiring} loop"))
                .also(site.devices[first.0].span(), "fed by the loop")
                .help(format!("Where {} can feed it, write the loop \"two-wire\". Else take a detector with a contact and a supply of its own.", inputs(&can().collect::<Vec<_>>())));
            sink.push(
                others.iter().fold(finding, |finding, (id, _)| finding.also(site.devices[*id].span(), "and here")),
            );
        } else if site.loop_feed(id).is_none() {
            sink.push(finding(format!("part `{}` does not say that it feeds two-wire detectors", known.part.name.value))
                .here(format!("two-wire loop of zone {number}"))
                .help("Give the part a `sensing wiring=\"two-wire\"` with its `loop-feed`, as its sheet says. Without such an input take detectors with a contact and a supply of their own."));
        } else if let Some(input) = input.filter(|input| !input.two_wire) {
            // One that another two-wire loop is on is of no help.
            let taken: Vec<u32> = site
                .zones
                .entries()
                .filter_map(|(other, of)| {
                    let wired = of.wired.as_ref().filter(|_| other != id)?;
                    let same = wired.board.as_ref()?.value == known.wired.board.as_ref()?.value;
                    let two_wire = wired.wiring.as_ref()?.value == LoopWiring::TwoWire;
                    (same && two_wire)
                        .then(|| context.wiring.input_of(site, other))
                        .flatten()
                        .map(|(_, input)| input.number.value)
                })
                .collect();
            let able: Vec<u32> = can().filter(|input| !taken.contains(input)).collect();
            let help = if able.is_empty() && can().next().is_some() {
                "Every input of the board that feeds two-wire detectors has such a loop already. Put this one on another board, join it to a loop that is fed, or take detectors with a contact and a supply of their own.".to_owned()
            } else if able.is_empty() {
                "Write two-wire=#true at the inputs of the part that its sheet says can feed them.".to_owned()
            } else {
                format!("Take {}; a loop that is on it gets another.", inputs(&able))
            };
            sink.push(
                finding(format!(
                    "input {} of part `{}` feeds no two-wire detectors",
                    input.number.value, known.part.name.value
                ))
                .here(format!("zone {number} is on input {}", input.number.value))
                .also(input.number.span, "this input, without two-wire=")
                .help(help),
            );
        }
    }
}

/// "input 7 or 8"; the board where its sheet names none.
fn inputs(inputs: &[u32]) -> String {
    let numbers: Vec<String> = inputs.iter().map(u32::to_string).collect();
    if numbers.is_empty() { "the board".to_owned() } else { format!("input {}", list(&numbers, "or")) }
}

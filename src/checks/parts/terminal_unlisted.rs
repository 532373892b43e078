//! A part that uses a terminal which its own list of terminals does not have.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::base::wording::did_you_mean;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Part;

check!("terminal-unlisted", Basis::Contradiction, "a part that uses a terminal which it does not list");

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in context.site.parts.iter().filter(|part| part.whole && !part.terminals.is_empty()) {
        let used = used(part);
        let listed = |mark: &str| part.terminals.iter().any(|terminal| terminal.value == mark);
        for (mark, places) in used.iter().filter(|(mark, _)| !listed(mark)) {
            let idle =
                part.terminals.iter().map(|terminal| terminal.value.as_str()).filter(|one| !used.contains_key(one));
            let help = did_you_mean(mark, idle).map_or_else(
                || format!("Add `{mark}` to `terminals`, at its place in the order on the board."),
                |near| format!("Did you mean `{near}`, which nothing uses? Write the mark as it is on the board in both places."),
            );
            let mut places = places.iter();
            let Some((first, what)) = places.next() else { continue };
            let title = format!("part `{}` has no terminal `{mark}` in its list", part.name.value);
            let finding = places.fold(Diagnostic::new(&RULE, *first, title).here(what), |finding, (span, what)| {
                finding.also(*span, what)
            });
            let finding = match part.terminals.first() {
                Some(list) => finding.also(list.span, "the list of its terminals"),
                None => finding,
            };
            sink.push(
                finding
                    .why("The list gives all terminals in the order in which they are on the board. A mark that only an output, port or input has would be printed as one more screw at the end.")
                    .help(help)
                    .about(&part.name.value),
            );
        }
    }
}

/// Every mark that an output, port, input or another purpose uses, with what uses it and where that is written.
pub(super) fn used(part: &Part) -> BTreeMap<&str, Vec<(Span, String)>> {
    let outputs = part.outputs.iter().flat_map(|output| {
        let what = format!("output `{}`", output.name.value);
        [&output.positive, &output.negative].map(|mark| (mark, output.name.span, what.clone()))
    });
    let switches = part.switches.iter().flat_map(|switch| {
        let what = format!("{} `{}`", switch.noun(), switch.name.value);
        switch.marks(0).into_iter().map(move |(mark, _)| (mark, switch.name.span, what.clone()))
    });
    let buses = part.bus_ports.iter().flat_map(|port| {
        let what = format!("bus port `{}`", port.name.value);
        let shield = port.shield.iter().map(|mark| (&mark.value, mark.span));
        let marks = [&port.plus, &port.minus, &port.a, &port.b].map(|mark| (mark, port.name.span));
        marks.into_iter().chain(shield).map(move |(mark, span)| (mark, span, what.clone()))
    });
    let lines = part.line_ports.iter().flat_map(|port| {
        let what = format!("line port `{}`", port.name.value);
        let marks = [Some(&port.in_tip), Some(&port.in_ring), port.out_tip.as_ref(), port.out_ring.as_ref()];
        marks.into_iter().flatten().map(move |mark| (mark, port.name.span, what.clone()))
    });
    let inputs = part.inputs.iter().flat_map(|input| {
        let what = format!("input {}", input.number.value);
        [&input.signal, &input.back].map(|mark| (mark, input.number.span, what.clone()))
    });
    let ac = part.ac_port.iter().flat_map(|port| [&port.a, &port.b]).map(|mark| (mark, "the AC port"));
    let battery = part.battery_port.iter().flat_map(|port| [&port.positive, &port.negative]);
    let battery = battery.map(|mark| (mark, "the battery port"));
    let earth = part.earth.iter().map(|mark| (mark, "the earth terminal"));
    let others = part.others.iter().map(|other| (&other.mark, "a terminal of another purpose"));
    let fault = part.fault.iter().flat_map(|fault| [&fault.a, &fault.b]).map(|mark| (mark, "the fault contact"));
    let power = ac.chain(battery).chain(earth).chain(fault).chain(others);
    let power = power.map(|(mark, what)| (&mark.value, mark.span, what.to_owned()));
    let mut used: BTreeMap<&str, Vec<(Span, String)>> = BTreeMap::new();
    for (mark, span, what) in power.chain(outputs).chain(switches).chain(buses).chain(lines).chain(inputs) {
        let places = used.entry(mark.as_str()).or_default();
        if !places.iter().any(|(known, _)| *known == span) {
            places.push((span, what));
        }
    }
    used
}

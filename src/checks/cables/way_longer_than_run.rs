//! A cable that is shorter than the way that is given for it.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::{Metres, print};

check!("way-longer-than-run", Basis::Contradiction, "a cable that is shorter than its way on the plan");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, run) in site.runs.entries() {
        let Some(length) = &run.length else { continue };
        let way: f64 = run.way.iter().zip(run.way.iter().skip(1)).map(|(from, to)| from.to(*to).0).sum();
        if way <= length.value.0 * (1.0 + 1e-9) {
            continue;
        }
        let [way, long] = [Metres(way), length.value].map(|length| print::length(length, site.lengths));
        let label =
            context.wiring.cable_of(id).map_or_else(|| "this run".to_owned(), |cable| format!("`{}`", cable.label));
        let finding = Diagnostic::new(&RULE, length.span, format!("{label} is {long} long, and its way on the plan {way}"))
            .here("shorter than its way")
            .why("The way on the plan is only what lies level: what goes up and down, and the slack, come on top. A cable that is too short is joined where nobody looks for a joint.")
            .help(format!("Write a length of more than {way}, or correct the points of its way: they are measured from the level's left and lower edge."));
        sink.push(about::owner(site, run.owner, finding));
    }
}

//! A cable that is kept for later and carries something now.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::words::{self, Screen};

check!("spare-cable-in-use", Basis::Contradiction, "a spare cable that another run shares");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for run in &site.runs {
        let Some(along) = &run.along else { continue };
        let host = &site.runs[along.value];
        let Owner::Spare(spare) = host.owner else { continue };
        let spare = &site.spares[spare];
        let title = format!("{} goes through a cable that is kept for later", Screen.owner(site, run.owner));
        let finding = Diagnostic::new(&RULE, along.span, title)
            .here("shares this cable")
            .also(spare.name.span, "coiled at both ends, by this")
            .why("The sheets say of a spare cable that it lies coiled and is connected to nothing. Whoever reads that cuts it, or pulls on it.")
            .help(format!("Move the `run` of the spare cable to what uses it now, with label=\"{}\" so that it stays the same cable, and take the `spare-cable` out. What stays free of it can be kept with `reserve`.", words::cable(context.wiring, along.value)));
        sink.push(about::owner(site, run.owner, finding).about(&spare.name.value));
    }
}

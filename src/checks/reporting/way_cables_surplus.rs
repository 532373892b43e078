//! A way to the monitoring service with more cables than there are places for them to end.

use crate::base::wording::count;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Owner, Run};
use crate::terms::Path;

check!("way-cables-surplus", Basis::Contradiction, "a communicator with more cables than places where they end");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, line) in site.communicators.entries() {
        let (most, ends, help) = match line.path.as_ref().map(|path| path.value) {
            Some(Path::Internet) => (
                line.hops.len().max(1),
                count(line.hops.len(), "hop", None),
                "Write a `hop` for each device that a cable ends at, in the order of the cables, or take the cable out.",
            ),
            Some(Path::Telephone) => (
                1,
                "one jack".to_owned(),
                "Leave the one run that goes from the board to the jack: what is behind the jack is no cable of the board.",
            ),
            Some(Path::Radio) => {
                (1, "one antenna".to_owned(), "Leave the one run that goes from the board to the antenna.")
            }
            None => continue,
        };
        let runs: Vec<&Run> = site.runs_of(Owner::Communicator(id)).map(|(_, run)| run).collect();
        let (places, surplus) = runs.split_at(most.min(runs.len()));
        let Some((first, rest)) = surplus.split_first() else { continue };
        let name = &line.name.value;
        let title = format!("communicator `{name}` has {} and {ends}", count(runs.len(), "cable", None));
        let mut finding = Diagnostic::new(&RULE, first.span(), title).here("ends at nothing");
        for run in places {
            finding = finding.also(run.span(), "has its place");
        }
        for run in rest {
            finding = finding.also(run.span(), "ends at nothing either");
        }
        sink.push(
            finding
                .also(line.name.span, format!("here: {ends}"))
                .why("Each cable of a way ends at the next powered device, or at the jack or antenna. One more has no plug to be put into, and nobody knows what to do with its end.")
                .help(help)
                .about(name),
        );
    }
}

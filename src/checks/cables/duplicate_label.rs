//! Two cables with one label.

use std::collections::BTreeMap;

use crate::base::Spanned;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Run;
use crate::words::Screen;

check!("duplicate-label", Basis::Contradiction, "one label given to two cables");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut first: BTreeMap<&str, (&Run, &Spanned<String>)> = BTreeMap::new();
    // A run along another has no cable of its own, so it has no label.
    for run in site.runs.iter().filter(|run| !run.along_written) {
        let Some(label) = &run.label else { continue };
        let Some((earlier, earlier_label)) = first.get(label.value.as_str()) else {
            first.insert(&label.value, (run, label));
            continue;
        };
        let finding =
            Diagnostic::new(&RULE, label.span, format!("two cables are labelled `{}`", label.value))
                .here(format!("a cable of {}", Screen.owner(site, run.owner)))
                .also(earlier_label.span, format!("a cable of {}", Screen.owner(site, earlier.owner)))
                .why("Whoever opens the enclosure in ten years has only the label to tell one cable from the next. With two of a kind, both must be traced by hand.")
                .help("Give one of the two another label, or leave label= out: a free one is proposed.")
                .about(&label.value);
        let finding = about::owner(site, earlier.owner, finding);
        sink.push(if earlier.owner == run.owner { finding } else { about::owner(site, run.owner, finding) });
    }
}

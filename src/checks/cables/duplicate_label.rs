//! Two cables with one label, or with two that look alike.

use std::collections::BTreeMap;

use crate::base::Spanned;
use crate::base::wording::as_seen;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Run;
use crate::words::Screen;

check!("duplicate-label", Basis::Contradiction, "one label given to two cables");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut first: BTreeMap<String, (&Run, &Spanned<String>)> = BTreeMap::new();
    // A run along another has no cable of its own, so it has no label.
    for run in site.runs.iter().filter(|run| !run.along_written) {
        let Some(label) = &run.label else { continue };
        let Some((earlier, earlier_label)) = first.get(&as_seen(&label.value)) else {
            first.insert(as_seen(&label.value), (run, label));
            continue;
        };
        let title = if earlier_label.value == label.value {
            format!("two cables are labelled `{}`", label.value)
        } else {
            format!("two cables have labels that look alike: `{}` and `{}`", earlier_label.value, label.value)
        };
        let finding =
            Diagnostic::new(&RULE, label.span, title)
                .here(format!("a cable of {}", Screen.owner(site, run.owner)))
                .also(earlier_label.span, format!("a cable of {}", Screen.owner(site, earlier.owner)))
                .why("Whoever opens the enclosure in ten years has only the label to tell one cable from the next. With two of a kind, both must be traced by hand.")
                .help("Give one of the two another label, or leave label= out: a free one is proposed.")
                .about(&label.value);
        let finding = about::owner(site, earlier.owner, finding);
        sink.push(if earlier.owner == run.owner { finding } else { about::owner(site, run.owner, finding) });
    }
}

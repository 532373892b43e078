//! Powered devices on the way to the monitoring service that feed each other.

use crate::base::wording::list;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::HopRef;
use crate::words::Screen;

check!("hop-supply-circle", Basis::Contradiction, "hops that feed each other");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, first) in site.hops() {
        let before = site.hops_before(id);
        let circle: Vec<HopRef> = std::iter::once(id).chain(before).collect();
        let last = circle.last().and_then(|last| site.hop(*last)?.from.as_ref());
        // Told once, at the first hop of the circle; what hangs on the circle is not in it.
        if last.is_none_or(|from| from.value != id) || circle.iter().any(|hop| *hop < id) {
            continue;
        }
        let hops = || circle.iter().filter_map(|hop| site.hop(*hop));
        let names: Vec<String> = hops().map(|hop| Screen.name(&hop.name.value)).collect();
        let title = match names.as_slice() {
            [one] => format!("{one} feeds itself"),
            _ => format!("{} feed each other", list(&names, "and")),
        };
        let mut finding = Diagnostic::new(&RULE, first.name.span, title)
            .here("takes its supply from the circle")
            .why("Each takes its supply from the next one, and none of them from the mains or from an output. None ever gets any volts.")
            .help("Take from= out where the supply comes in: give that hop backup=, or feed it by a `circuit`.");
        for hop in hops().skip(1) {
            finding = finding.also(hop.name.span, "and this one");
        }
        for from in hops().filter_map(|hop| hop.from.as_ref()) {
            finding = finding.also(from.span, "fed by this one");
        }
        let mut lines: Vec<_> = circle.iter().map(|hop| hop.line).collect();
        lines.dedup();
        sink.push(lines.into_iter().fold(finding, |finding, line| finding.about(&site.communicators[line].name.value)));
    }
}

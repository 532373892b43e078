//! Labels whose text has no room on the paper that they are printed on.

use crate::base::wording::{count, list};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::labels::{self, Labels, sheet};
use crate::words::Screen;

check!("label-too-large", Basis::Mismatch, "labels that their paper has no room for");

/// How many labels a finding names.
const NAMED: usize = 8;

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    let grid = sheet::grid(site);
    if sheet::beyond(&grid).is_some() || sheet::overlap(&grid).is_some() {
        return;
    }
    let all = Labels::of(site, wiring);
    let in_use = wiring.cables.iter().filter(|cable| !all.each(cable).iter().all(|label| grid.holds(label)));
    let dead = wiring.dead.iter().filter(|cable| !labels::of_dead(cable).iter().all(|label| grid.holds(label)));
    let large: Vec<&str> =
        in_use.map(|cable| cable.label.as_str()).chain(dead.map(|cable| cable.label.as_str())).collect();
    let Some(first) = large.first() else { return };
    let named: Vec<String> = large.iter().take(NAMED).map(|label| Screen.name(label)).collect();
    let more = if large.len() > NAMED { format!(" and {} more", large.len() - NAMED) } else { String::new() };
    let run = wiring.cables.iter().find(|cable| cable.label == *first).map(|cable| site.runs[cable.run].span());
    let span = site.label_sheet.as_ref().map(|sheet| sheet.span).or(run).unwrap_or(site.name.span);
    let zone = (grid.label.width, grid.zone());
    sink.push(
        Diagnostic::new(&RULE, span, format!("the labels of {} have no room on {} by {} mm", count(large.len(), "cable", None), zone.0, zone.1))
            .here(format!("{}{more}", list(&named, "and")))
            .why("Letters are 2.5 mm high or more, because a label is read in its curve, on a ladder, by a lamp. So what has no room is not printed smaller; it is left off the sheet, and the sheet lists it to be written by hand.")
            .help("Take wider or higher labels, leave code= out, or give those runs shorter labels with label=."),
    );
}

//! An opening within reach that is watched by detectors of breaking glass alone.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::Senses;
use crate::words::Screen;

check!(
    "opening-only-heard",
    Basis::Published("UL 1641-2015 15.4.1, quoted: a contact as well on what moves"),
    "an opening that is watched by detectors of breaking glass alone"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, opening) in site.openings.entries().filter(|(_, opening)| site.sound && site.is_within_reach(opening)) {
        let watchers: Vec<_> = site.watchers(id).collect();
        let listens = |senses: Option<Senses>| senses == Some(Senses::Glass);
        if watchers.is_empty() || !watchers.iter().all(|(device, _)| listens(site.senses_of(device))) {
            continue;
        }
        let what = Screen.opening(site, id);
        let finding = Diagnostic::new(&RULE, opening.name.span, format!("{what} is watched for breaking glass alone"))
            .here("opens without a sound")
            .why("A detector of breaking glass hears nothing where somebody lifts a latch or levers the frame. What can be opened has a contact as well.")
            .help(format!("Put a contact on it too (on=\"{}\" shares=#true), or accept this because it does not open.", opening.name.value))
            .about(&opening.name.value);
        let finding = watchers.iter().fold(finding, |finding, (device, _)| finding.also(device.span(), "listens"));
        sink.push(finding);
    }
}

//! A way to the monitoring service that ends with the mains, behind a board that goes on.

use crate::base::Id;
use crate::calc::power::path;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Communicator, Hop};
use crate::profiles::standby;
use crate::quantity::Seconds;

check!(
    "path-without-backup",
    Basis::Intent,
    "a way to the monitoring service that ends before the panel's battery does"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let row = standby::of_site(context.site);
    let asked = row.standby.time();
    let site = context.site;
    for (id, line) in site.communicators.entries() {
        let weakest = path::weakest(site, context.power, id).filter(|(_, time)| *time < asked);
        let Some((weakest, time)) = weakest else { continue };
        // The supply that it seems to lack may be what was reported.
        if weakest.backup.is_none() && !site.sound {
            continue;
        }
        let (way, device) = (&line.name.value, &weakest.name.value);
        let title = if time.0 > 0.0 {
            format!("communicator `{way}` is down after {time}, for then `{device}` is")
        } else {
            format!("communicator `{way}` is down as soon as the mains is, for `{device}` has no backup")
        };
        let mut finding = Diagnostic::new(&RULE, weakest.name.span, title)
            .here(said(weakest, time))
            .why("The panel's battery goes on, but nobody hears it: a path lasts as long as the powered device on it that gives up first.")
            .help("Put the device on a standby supply and say for how long with backup=, or feed it from an output of the panel: give it name= and draw=, and write a `circuit` whose run has `feed` with that name.")
            .figure(format!("asked: {asked} (profile {}: {})", row.profile.word(), row.standby.source()))
            .about(&line.name.value);
        let short = path::ends(site, context.power, id).filter(|(_, time)| *time < asked);
        for (hop, time) in short.filter(|(hop, _)| hop.name.span != weakest.name.span) {
            finding = finding.also(hop.name.span, said(hop, time));
        }
        for (other, named) in site.communicators.entries().filter(|(other, _)| *other != id) {
            finding =
                finding.figure(format!("communicator `{}`: {}", named.name.value, other_path(context, other, asked)));
        }
        sink.push(finding);
    }
}

/// What is said of a device that gives up after some time.
fn said(hop: &Hop, time: Seconds) -> String {
    let is_fed = hop.output.is_some() || !hop.fed_by.is_empty();
    match (hop.backup, is_fed) {
        _ if time.0 > 0.0 => format!("lasts {time}"),
        (None, true) => "no backup, and fed by a supply without a battery that would last".to_owned(),
        (Some(_), _) | (None, false) => "no backup and no output of the panel".to_owned(),
    }
}

fn other_path(context: Context<'_>, line: Id<Communicator>, asked: Seconds) -> &'static str {
    if path::weakest(context.site, context.power, line).is_none_or(|(_, time)| time >= asked) {
        "nothing known that would stop it"
    } else {
        "down as well"
    }
}

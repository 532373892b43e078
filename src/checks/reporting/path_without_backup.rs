//! A way to the monitoring service that ends with the mains, behind a board that goes on.

use crate::base::Id;
use crate::calc::power::path;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Communicator, Hop, Site};
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
        let Some((weakest, _)) = path::weakest(site, id).filter(|(_, time)| *time < asked) else { continue };
        // The supply that it seems to lack may be what was reported.
        if weakest.backup.is_none() && !site.sound {
            continue;
        }
        let said = |hop: &Hop| match hop.backup {
            Some(time) => format!("lasts {time}"),
            None => "no backup and no output of the panel".to_owned(),
        };
        let title = match weakest.backup {
            Some(time) => {
                format!("communicator `{}` is down after {time}, for then `{}` is", line.name.value, weakest.name.value)
            }
            None => format!(
                "communicator `{}` is down as soon as the mains is, for `{}` has no backup",
                line.name.value, weakest.name.value
            ),
        };
        let mut finding = Diagnostic::new(&RULE, weakest.name.span, title)
            .here(said(weakest))
            .why("The panel's battery goes on, but nobody hears it: a path lasts as long as the powered device on it that gives up first.")
            .help("Put the device on a standby supply and say for how long with backup=, or feed it from an output of the panel: give it name= and draw=, and write a `circuit` whose run has `feed` with that name.")
            .figure(format!("asked: {asked} (profile {}: {})", row.profile.word(), row.standby.source()))
            .about(&line.name.value);
        let short = path::ends(site, id).filter(|(_, time)| *time < asked).map(|(hop, _)| hop);
        for hop in short.filter(|hop| hop.name.span != weakest.name.span) {
            finding = finding.also(hop.name.span, said(hop));
        }
        for (other, named) in site.communicators.entries().filter(|(other, _)| *other != id) {
            finding =
                finding.figure(format!("communicator `{}`: {}", named.name.value, other_path(site, other, asked)));
        }
        sink.push(finding);
    }
}

fn other_path(site: &Site, line: Id<Communicator>, asked: Seconds) -> &'static str {
    if path::weakest(site, line).is_none_or(|(_, time)| time >= asked) {
        "nothing known that would stop it"
    } else {
        "down as well"
    }
}

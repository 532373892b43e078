//! A way to the monitoring service that ends with the mains, behind a board that goes on.

use crate::base::{Id, Spanned};
use crate::calc::power::path::{self, Link};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Communicator, Site};
use crate::profiles::standby;
use crate::quantity::Seconds;

check!(
    "path-without-backup",
    Basis::Works,
    "a way to the monitoring service that ends before the time that the profile asks"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let row = standby::of_site(context.site);
    let asked = row.standby.time();
    let site = context.site;
    for (id, line) in site.communicators.entries() {
        let short = || path::ends(site, context.power, id).filter(|(_, time)| *time < asked);
        // A battery that is too small, too old or too cold for the time is told itself.
        let by_itself = |link| path::batteries(site, context.power, id, link).is_empty();
        let weakest = path::soonest(short().filter(|(link, _)| by_itself(*link)));
        let Some((weakest, time)) = weakest else { continue };
        // The supply that it seems to lack may be what was reported, and so may be that a strip sends nothing.
        let reported = match weakest {
            Link::Hop(hop) => hop.backup.is_none(),
            Link::Board(board) => site.boards[board].kind.offers_nothing(),
        };
        if reported && !site.sound {
            continue;
        }
        let way = &line.name.value;
        let Spanned { value: device, span } = name(site, weakest);
        let title = if time.0 > 0.0 {
            format!("communicator `{way}` is down after {time}, for then `{device}` is")
        } else {
            format!("communicator `{way}` is down as soon as the mains is, for `{device}` has no backup")
        };
        let help = match weakest {
            Link::Hop(_) => {
                "Put the device on a standby supply and say for how long with backup=, or feed it from an output of the panel: give it name= and draw=, and write a `circuit` whose run has `feed` with that name."
            }
            Link::Board(_) => {
                "Give the supply that feeds it a battery that lasts as long, or let the bus or an output of the panel feed it."
            }
        };
        let mut finding = Diagnostic::new(&RULE, span, title)
            .here(said(weakest, time))
            .why(if site.is_off_without_mains() {
                "A way lasts as long as the powered device on it that gives up first, the panel among them."
            } else {
                "The panel's battery goes on, but nobody hears it: a way lasts as long as the powered device on it that gives up first."
            })
            .help(help)
            .figure(format!("asked: {asked} (profile {}: {})", row.profile.word(), row.standby.source()))
            .about(&line.name.value);
        for (link, time) in short().filter(|(link, _)| name(site, *link).span != span) {
            finding = finding.also(name(site, link).span, said(link, time));
        }
        for (other, named) in site.communicators.entries().filter(|(other, _)| *other != id) {
            finding =
                finding.figure(format!("communicator `{}`: {}", named.name.value, other_path(context, other, asked)));
        }
        sink.push(finding);
    }
}

/// What gives up, by name.
fn name<'s>(site: &'s Site, link: Link<'s>) -> Spanned<&'s str> {
    let name = match link {
        Link::Hop(hop) => &hop.name,
        Link::Board(board) => &site.boards[board].name,
    };
    Spanned { value: &name.value, span: name.span }
}

/// What is said of what gives up after some time.
fn said(link: Link<'_>, time: Seconds) -> String {
    match link {
        _ if time.0 > 0.0 => format!("lasts {time}"),
        Link::Board(_) => "the supply that feeds it has no battery".to_owned(),
        Link::Hop(hop) if hop.backup.is_none() && (hop.output.is_some() || !hop.fed_by.is_empty()) => {
            "no backup, and fed by a supply without a battery that would last".to_owned()
        }
        Link::Hop(_) => "no backup and no output of the panel".to_owned(),
    }
}

fn other_path(context: Context<'_>, line: Id<Communicator>, asked: Seconds) -> &'static str {
    if path::weakest(context.site, context.power, line).is_none_or(|(_, time)| time >= asked) {
        "nothing known that would stop it"
    } else {
        "down as well"
    }
}

//! A format of the internet where there are only copper telephone lines.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Communicator;
use crate::terms::{Format, Service};

check!("format-not-carried", Basis::Contradiction, "a format that none of the site's ways can carry");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let format = site.monitoring.as_ref().and_then(|monitoring| monitoring.format.as_ref());
    let Some(format) = format.filter(|format| format.value == Format::SiaDc09) else { return };
    let copper = |way: &Communicator| way.is_telephone() && way.service == Some(Service::Copper);
    if site.communicators.is_empty() || !site.communicators.iter().all(copper) {
        return;
    }
    let mut finding = Diagnostic::new(&RULE, format.span, "no way of the site carries DC-09")
        .here("sent over the internet")
        .why("ANSI/SIA DC-09 is sent in packets of the internet protocol. A copper line that is dialled carries tones: what the service waits for never comes.")
        .help("Write the format that the service has for a dialled line, as format=\"sia-dc-05\"; or write the `communicator` of type=\"internet\" or \"radio\" that carries it.");
    for way in &site.communicators {
        finding = finding.also(way.name.span, "a copper telephone line").about(&way.name.value);
    }
    sink.push(finding);
}

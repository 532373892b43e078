//! A cover that is heard only while its zone is armed, under a profile that wants it heard at any time.

use crate::calc::State;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::{Profile, Senses};
use crate::words::Screen;

check!(
    "cover-asleep",
    Basis::Published("EN 50131-1, from memory: from grade 2 on tampering is told whether the area is armed or not"),
    "a cover that is heard only while its zone is armed"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !matches!(site.profile, Some(Profile::EuGrade2 | Profile::EuGrade3)) {
        return;
    }
    for (of, readings) in context.loops {
        let zone = &site.zones[*of];
        let Some(kind) = zone.kind.as_ref().filter(|kind| zone.whole && kind.value.sleeps_unarmed()) else { continue };
        let alarms = || readings.states.iter().filter(|one| matches!(one.state, State::Alarm(_)));
        let like_an_alarm = |cover| {
            let opened = readings.states.iter().find(|one| one.state == State::Cover(cover));
            opened.is_some_and(|opened| alarms().any(|alarm| alarm.reading.verdict == opened.reading.verdict))
        };
        let mut asleep =
            site.devices_of(*of).filter(|(id, _)| site.senses(*id) == Some(Senses::Tamper) || like_an_alarm(*id));
        let Some((id, device)) = asleep.next() else { continue };
        let title =
            format!("the cover of {} is heard only while zone {} is armed", Screen.device(site, id), zone.number.value);
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here("its cover reads as an alarm of the zone does, or is its alarm")
            .also(kind.span, "sleeps while its area is not armed")
            .why("Covers are lifted by day, by whoever comes back at night.")
            .help("Bring the covers to a zone of type=\"tamper\", or wire the loop so that the board tells a cover from an alarm, as \"double-end-of-line\" does.");
        let finding = asleep.fold(finding, |finding, (_, other)| finding.also(other.span(), "and this one"));
        sink.push(about::device(site, device, finding));
    }
}

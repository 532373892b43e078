//! A run that shares another's cable and says something else of that cable.

use crate::base::{Id, Span};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Mounted, Room, Run, Site};
use crate::quantity::print;

check!(
    "shared-cable-contradicted",
    Basis::Contradiction,
    "a run that shares another's cable and says something else of it"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for run in &site.runs {
        let Some(host) = run.along.as_ref().map(|host| &site.runs[host.value]) else { continue };
        for (finding, help) in contradictions(site, run, host) {
            let finding = finding
                .why("Both runs lie in one cable, and one cable has one type, one length, one way, one end and one label. The figures of both are computed from the run that the cable belongs to; if the other one is right, they are wrong.")
                .help(help);
            let finding = about::owner(site, run.owner, finding);
            sink.push(if run.owner == host.owner { finding } else { about::owner(site, host.owner, finding) });
        }
    }
}

/// What the guest says otherwise, with what to do.
fn contradictions(site: &Site, guest: &Run, host: &Run) -> Vec<(Diagnostic, String)> {
    let mut found = Vec::new();
    if let (Some(own), Some(other)) = (&guest.cable, &host.cable)
        && own.value != other.value
    {
        let [own_name, name] = [own, other].map(|cable| site.cables[cable.value].name.value.as_str());
        let title = format!("one cable is said to be `{own_name}` and `{name}`");
        let finding = Diagnostic::new(&RULE, own.span, title)
            .here("this run shares the cable")
            .also(other.span, "the cable itself");
        let help = if site.cables[own.value].size() > site.cables[other.value].size() {
            format!(
                "Write `run \"{own_name}\"` at the cable itself, where it must carry both; or leave along= out if this is a cable of its own."
            )
        } else {
            format!("Write `run \"{name}\"` here, or leave along= out if it is a cable of its own.")
        };
        found.push((finding, help));
        // Another type is another cable: its length and its way differ for that.
        return found;
    }
    if let (Some(own), Some(other)) = (&guest.length, &host.length)
        && print::length(own.value, site.lengths) != print::length(other.value, site.lengths)
    {
        let [own_length, length] = [own, other].map(|length| print::length(length.value, site.lengths));
        let title = format!("one cable is said to be {own_length} and {length} long");
        let finding = Diagnostic::new(&RULE, own.span, title)
            .here("this run shares the cable")
            .also(other.span, "the cable itself");
        found.push((finding, "Give both the cable's true length. Where one goes on from a place in between, make the cable two runs that meet there.".to_owned()));
    }
    for (span, said, written) in said_elsewhere(guest, host) {
        let title = format!("one cable is said to {said} and not to");
        let finding =
            Diagnostic::new(&RULE, span, title).here("this run shares the cable").also(host.span(), "the cable itself");
        found.push((finding, format!("Write {written} at the run that the cable belongs to, or leave it out here.")));
    }
    if let Some(rooms) = two_rooms(site, guest, host) {
        let [own, other] = rooms.map(|room| site.room_title(room));
        let title = format!("one cable is said to end in {own} and in {other}");
        let finding = Diagnostic::new(&RULE, guest.span(), title)
            .here(format!("ends in {own}, and shares the cable"))
            .also(host.span(), format!("the cable itself, to {other}"));
        found.push((finding, "Give both runs the room in which the cable ends, and go on from there by a run of its own; or leave along= out if it is a cable of its own.".to_owned()));
    }
    found
}

/// What the guest says of the cable and the host does not: where, in words, and as it is written.
fn said_elsewhere(guest: &Run, host: &Run) -> Vec<(Span, String, String)> {
    let mut found = Vec::new();
    if let Some(own) = guest.passes.as_ref().filter(|own| host.passes.as_ref() != Some(*own)) {
        let passes = own.value.word();
        found.push((own.span, format!("pass \"{passes}\""), format!("passes=\"{passes}\"")));
    }
    if let Some(own) = guest.label.as_ref().filter(|own| host.label.as_ref() != Some(*own)) {
        let label = &own.value;
        found.push((own.span, format!("have the label `{label}`"), format!("label=\"{label}\"")));
    }
    if guest.existing && !host.existing {
        found.push((guest.span(), "have been there before".to_owned(), "existing=#true".to_owned()));
    }
    if let Some(own) = guest.shield.as_ref().filter(|own| host.shield.as_ref() != Some(*own)) {
        let ends = own.value.word();
        found.push((own.span, format!("have shield=\"{ends}\""), format!("shield=\"{ends}\"")));
    }
    found
}

/// The rooms in which one cable is said to end, where they are two.
pub(crate) fn two_rooms(site: &Site, guest: &Run, host: &Run) -> Option<[Id<Room>; 2]> {
    // What is on an opening is within reach from both sides of it, and a run without room= ends where that is.
    let is_said = |run: &Run| {
        let mut devices = run.mounted.iter().filter_map(Mounted::device);
        devices.all(|device| site.devices[device].opening.is_none())
    };
    let (own, other) = guest.room.zip(host.room)?;
    (own != other && is_said(guest) && is_said(host)).then_some([own, other])
}

//! A detector, a device on the way to the service, or a siren that charges a battery, whose supply a relay or transistor
//! takes away for long.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::power::{Consumer, Load};
use crate::checks::supply::power_verdict::charges;
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, DeviceKind, Drive, Owner, Site, Switching};
use crate::terms::{DrivenBy, SwitchContact};
use crate::words::Screen;

check!("supply-taken-away", Basis::Contradiction, "a relay that takes away a supply which must stay");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // One cause, however much hangs on the circuit.
    let mut told: BTreeMap<Id<Circuit>, Diagnostic> = BTreeMap::new();
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let run = feeding.tree.nodes.get(node).and_then(|node| node.run);
            let Some(Owner::Circuit(id)) = run.map(|run| site.runs[run].owner) else { continue };
            let circuit = &site.circuits[id];
            let Some(switching) = circuit.switching.as_ref().filter(|_| circuit.is_off_for_long()) else { continue };
            let takers = takers(site, load, switching);
            if takers.is_empty() {
                continue;
            }
            let finding = told.remove(&id).map_or_else(
                || finding(site, load, (id, switching), &takers),
                |first| first.also(power_words::span(site, load.consumer), "and this one"),
            );
            told.insert(id, about::consumer(site, load.consumer, finding));
        }
    }
    sink.extend(told.into_values());
}

/// What takes the supply away from something that must have it while nothing happens; empty where nothing does. A
/// detector that is heard only while its area is armed may have it for that time, and a siren with a battery of its own
/// may lose it in an alarm, which sets it off.
fn takers<'s>(site: &Site, load: &Load, switching: &'s Switching) -> Vec<&'s Drive> {
    let makes = switching.contact == SwitchContact::Make;
    let long = || switching.drives.iter().filter(move |drive| makes || drive.takes_away());
    let Consumer::Device(id) = load.consumer else {
        return if matches!(load.consumer, Consumer::Hop(..)) { long().collect() } else { Vec::new() };
    };
    let device = &site.devices[id];
    match device.kind {
        DeviceKind::Load => Vec::new(),
        DeviceKind::Sounder if charges(site, load) => {
            long().filter(|drive| makes || drive.by.value != DrivenBy::Alarm).collect()
        }
        DeviceKind::Sounder => Vec::new(),
        DeviceKind::Contact | DeviceKind::Detector | DeviceKind::Wireless | DeviceKind::Fault => {
            let while_armed = if makes { DrivenBy::Armed } else { DrivenBy::Disarmed };
            let kind = device.zone.and_then(|zone| site.zones[zone].kind.as_ref());
            let sleeps = kind.is_some_and(|kind| kind.value.sleeps_unarmed());
            let by_arming = sleeps && long().all(|drive| drive.by.value == while_armed);
            if by_arming { Vec::new() } else { long().collect() }
        }
    }
}

fn finding(site: &Site, load: &Load, (id, switching): (Id<Circuit>, &Switching), takers: &[&Drive]) -> Diagnostic {
    let who = Screen.consumer(site, load.consumer);
    let by: Vec<&str> = takers.iter().map(|drive| drive.by.value.printed()).collect();
    let (title, here) = match switching.contact {
        SwitchContact::Make => {
            (format!("{who} has a supply only by {}, and none before", list(&by, "or")), "has no supply at rest")
        }
        SwitchContact::Break => (format!("{who} loses its supply by {}", list(&by, "or")), "then has no supply"),
    };
    let circuit = &site.circuits[id];
    let place = switching.switch.as_ref().map_or(circuit.name.span, |switch| switch.span);
    let finding = Diagnostic::new(&RULE, power_words::span(site, load.consumer), title)
        .here(here)
        .also(place, format!("switched by the {}", switching.contact.printed()))
        .why("A detector without supply sees nothing: a motion detector's contact then mostly stands in alarm, a smoke detector's as at rest. A device on the way to the service is silent; a siren's own battery is not charged, and many a siren sounds for as long as its supply is away.")
        .help(if charges(site, load) {
            match switching.contact {
                SwitchContact::Break => "Leave drive \"alarm\" alone: the siren then sounds in an alarm, by its own battery or because its sheet has it so.",
                SwitchContact::Make => "Write contact=\"break\" with drive \"alarm\" alone, at a relay that has a break contact: the supply then stays, and the siren sounds when an alarm takes it away.",
            }
        } else {
            "Leave switch= and contact= out, so that the supply stays. For a reset that takes it away for some seconds: contact=\"break\" with drive \"key\"."
        });
    let finding = takers.iter().fold(finding, |finding, drive| finding.also(drive.by.span, drive.by.value.printed()));
    about::owner(site, Owner::Circuit(id), finding)
}

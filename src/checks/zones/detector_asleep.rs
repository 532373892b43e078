//! A detector or button for a danger that does not wait, in a zone that sleeps while its area is not armed.

use crate::checks::{Context, about};
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::terms::Senses;
use crate::words::Screen;

check!("detector-asleep", Basis::Works, "a fire, gas or panic device in a zone that alarms only while armed");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (of, zone) in site.zones.entries().filter(|(_, zone)| zone.whole) {
        let Some(kind) = zone.kind.as_ref().filter(|kind| kind.value.sleeps_unarmed()) else { continue };
        // A relay that watches a supply goes with the detectors.
        let senses =
            || site.devices_of(of).map(|(id, _)| site.senses(id)).filter(|senses| *senses != Some(Senses::Supply));
        let alike = senses().all(|one| one.and_then(fitting) == senses().next().flatten().and_then(fitting));
        let mut told: Option<Diagnostic> = None;
        for (id, device) in site.devices_of(of) {
            let Some(fitting) = site.senses(id).and_then(fitting) else { continue };
            let (number, is_button) = (zone.number.value, site.senses(id) == Some(Senses::Button));
            let title = format!("{} of zone {number} is heard only while the zone is armed", Screen.device(site, id));
            let finding = Diagnostic::new(&RULE, device.span(), title)
                .here(format!("for type=\"{fitting}\""))
                .also(kind.span, "sleeps while its area is not armed")
                .why("A fire, a gas or a call for help comes at any hour. In this zone it starts nothing while people are at home, and while they are away it is reported as a burglary.")
                .help(if is_button {
                    "Write type=\"panic-audible\", \"panic-silent\" or \"medical\" for a zone of its own, as help is called by it. If it calls nobody, as the button of a bell or a gate, accept this.".to_owned()
                } else if alike {
                    format!("Write type=\"{fitting}\" for this zone, where the part is right; else name the part that is mounted.")
                } else {
                    format!("Give it a zone of its own, of type=\"{fitting}\".")
                });
            // What a button is for, the text does not say; and where it watches a door, the part is wrong.
            let finding = if alike && !is_button && device.opening.is_none() {
                finding.edit(Certainty::Likely, kind.span, format!("\"{fitting}\""))
            } else {
                finding
            };
            // All of one type are one mistake.
            told = Some(match told.filter(|_| alike && !is_button) {
                Some(first) => first.also(device.span(), "so is this one"),
                None => about::device(site, device, finding),
            });
            if !alike || is_button {
                sink.extend(told.take());
            }
        }
        sink.extend(told);
    }
}

/// The type of zone for what does not wait until somebody arms; `None` for what may.
fn fitting(senses: Senses) -> Option<&'static str> {
    match senses {
        Senses::Smoke => Some("smoke"),
        Senses::Heat => Some("heat"),
        Senses::CarbonMonoxide => Some("carbon-monoxide"),
        Senses::Gas => Some("gas"),
        Senses::Button => Some("panic-audible"),
        Senses::Opening
        | Senses::Motion
        | Senses::Glass
        | Senses::Vibration
        | Senses::Step
        | Senses::Water
        | Senses::Temperature
        | Senses::Tamper
        | Senses::Supply => None,
    }
}

//! A lock whose current comes just when it should not: it holds shut in an alarm alone, or opens while its area is armed.

use crate::base::Span;
use crate::calc::power::{Demand, Supply, Tree};
use crate::checks::switching::hung::locks;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, Site, Source};
use crate::terms::{DrivenBy, Fails, SwitchContact, When};
use crate::words::Screen;

check!("lock-works-backwards", Basis::Works, "a lock that is shut in an alarm only, or open while armed");

/// What turns its current on at the wrong time.
struct Cause {
    title: &'static str,
    at: Span,
    what: &'static str,
    help: &'static str,
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, part, feeding, node) in locks(context) {
        let Some(fails) = part.fails else { continue };
        let Some(cause) = cause(site, &feeding.tree, node, fails) else { continue };
        let device = &site.devices[id];
        let does = match fails {
            Fails::Safe => "held shut by current",
            Fails::Secure => "opened by current",
        };
        let finding = Diagnostic::new(&RULE, device.span(), format!("{} {}", Screen.device(site, id), cause.title))
            .here(does)
            .also(cause.at, cause.what)
            .why("A fail-safe lock is shut while it has current, a fail-secure one opens while it has some. As it is fed here, the door is open when it should be shut, or shut on those who have to get out.")
            .help(cause.help);
        sink.push(about::device(site, device, finding));
    }
}

fn cause(site: &Site, tree: &Tree, node: usize, fails: Fails) -> Option<Cause> {
    let circuit = tree.circuit_of(site, node);
    let armed = circuit.and_then(Circuit::on_by_arming);
    match (fails, armed) {
        (Fails::Secure, Some(drive)) if drive.by.value == DrivenBy::Armed => Some(Cause {
            title: "is open for as long as its area is armed",
            at: drive.by.span,
            what: "gives it current while armed",
            help: "Take a lock that opens without current (`fails=\"safe\"`), or give it its current by drive \"disarmed\" or a key.",
        }),
        (Fails::Safe, Some(drive)) if drive.by.value == DrivenBy::Disarmed => Some(Cause {
            title: "is open for as long as its area is armed",
            at: drive.by.span,
            what: "gives it current while disarmed only",
            help: "Feed it from an output that is always on, by a break contact that is driven by what is to open it.",
        }),
        (Fails::Safe, _) => {
            let on = |demand| tree.is_on(node, Supply::Mains, demand);
            let made = circuit.and_then(|circuit| circuit.switching.as_ref());
            let made = made.filter(|switching| switching.contact == SwitchContact::Make);
            let drive = made.and_then(|made| made.drives.iter().find(|drive| drive.by.value == DrivenBy::Alarm));
            let output = match tree.outlet_of(node) {
                Source::Output(of) => site.output(of).filter(|output| output.when == When::Alarm),
                Source::Port(..) => None,
            };
            let at = drive.map(|drive| drive.by.span).or(output.map(|output| output.name.span))?;
            (!on(Demand::Idle) && on(Demand::Alarm)).then_some(Cause {
                title: "is open at rest, and shuts the door in an alarm",
                at,
                what: "gives it current in an alarm only",
                help: "Feed it from an output that is always on, by a break contact (contact=\"break\") that a fire alarm drives; local code says what more it asks of a lock on a way out.",
            })
        }
        (Fails::Secure, _) => None,
    }
}

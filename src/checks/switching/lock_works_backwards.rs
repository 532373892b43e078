//! A lock whose current comes just when it should not: it holds shut in an alarm alone or never, or opens while its area is
//! armed or at rest.

use crate::base::Span;
use crate::calc::power::{Demand, Supply, Tree};
use crate::checks::switching::hung::locks;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, Drive, Site, Source, Switching};
use crate::terms::{DrivenBy, Fails, SwitchContact, When};
use crate::words::Screen;

check!(
    "lock-works-backwards",
    Basis::Works,
    "a lock that is shut in an alarm only or never, or open while armed or at rest"
);

/// What turns its current on at the wrong time.
struct Cause {
    title: String,
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
    let switching = circuit.and_then(|circuit| circuit.switching.as_ref());
    let on = |demand| tree.is_on(node, Supply::Mains, demand);
    let output = match tree.outlet_of(node) {
        Source::Output(of) => site.output(of),
        Source::Port(..) => None,
    };
    match (fails, switching.and_then(by_arming)) {
        (Fails::Secure, Some((drive, DrivenBy::Armed))) => Some(Cause {
            title: drive.lasts.map_or_else(
                || "is open for as long as its area is armed".to_owned(),
                |lasts| format!("is open for {lasts} when its area is armed"),
            ),
            at: drive.by.span,
            what: "gives it current while armed",
            help: "Take a lock that opens without current (`fails=\"safe\"`), or give it its current by drive \"disarmed\" or a key.",
        }),
        (Fails::Safe, Some((drive, DrivenBy::Disarmed))) => Some(Cause {
            title: drive.lasts.map_or_else(
                || "is open for as long as its area is armed".to_owned(),
                |lasts| format!("is shut for {lasts} only when its area is disarmed, and open at all other times"),
            ),
            at: drive.by.span,
            what: "leaves it current while disarmed only",
            help: "Feed it from an output that is always on, by a break contact that is driven by what is to open it.",
        }),
        (Fails::Safe, _) => {
            let output = output.filter(|output| output.when == When::Alarm);
            // What comes in an alarm only, and is then taken away.
            if let Some((drive, _)) = circuit.and_then(Circuit::opened_by_alarm).zip(output) {
                return Some(Cause {
                    title: "never has current, so it is always open".to_owned(),
                    at: drive.by.span,
                    what: "opens the break contact just when the output comes on",
                    help: "Feed it from an output that is always on; the break contact then opens it in an alarm.",
                });
            }
            let made = switching.filter(|switching| switching.contact == SwitchContact::Make);
            let drive = made.and_then(|made| made.drives.iter().find(|drive| drive.by.value == DrivenBy::Alarm));
            let at = drive.map(|drive| drive.by.span).or(output.map(|output| output.name.span))?;
            (!on(Demand::Idle) && on(Demand::Alarm)).then_some(Cause {
                title: "is open at rest, and shuts the door in an alarm".to_owned(),
                at,
                what: "gives it current in an alarm only",
                help: "Feed it from an output that is always on, by a break contact (contact=\"break\") that a fire alarm drives; local code says what more it asks of a lock on a way out.",
            })
        }
        // A lock that nothing switches is another rule's, and a clock may be what shuts it at night.
        (Fails::Secure, None) => switching
            .filter(|switching| switching.contact == SwitchContact::Break && !switching.drives.iter().any(Drive::stays))
            .filter(|switching| !switching.drives.is_empty() && on(Demand::Idle))
            .and_then(|switching| switching.switch.as_ref())
            .map(|switch| Cause {
                title: "has its current at rest, so it is open day and night".to_owned(),
                at: switch.span,
                what: "gives it current until it is driven",
                help: "Feed it through a make contact (contact=\"make\") or a transistor, driven by what is to open it; or take a lock that current holds shut (`fails=\"safe\"`).",
            }),
        (Fails::Secure, Some(_)) => None,
    }
}

/// What arms or disarms it, and which of the two it then has its current by.
fn by_arming(switching: &Switching) -> Option<(&Drive, DrivenBy)> {
    let makes = switching.contact == SwitchContact::Make;
    switching.drives.iter().filter(|drive| !drive.passes_soon()).find_map(|drive| {
        let armed = match drive.by.value {
            DrivenBy::Armed => makes,
            DrivenBy::Disarmed => !makes,
            DrivenBy::Alarm
            | DrivenBy::Delay
            | DrivenBy::Trouble
            | DrivenBy::MainsLost
            | DrivenBy::Key
            | DrivenBy::Clock => return None,
        };
        Some((drive, if armed { DrivenBy::Armed } else { DrivenBy::Disarmed }))
    })
}

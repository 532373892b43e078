//! A detector with two supplies.

use crate::base::Id;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Site};
use crate::words::Screen;

check!("detector-supplied-twice", Basis::Contradiction, "a detector with two supplies");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        let supplies = usize::from(device.supply.is_some()) + device.fed_by.len();
        // A supply that the part has no use for is another rule's.
        let needs = site.device_part(id).is_some_and(|part| part.supply.is_some());
        if supplies < 2 || !needs {
            continue;
        }
        let mut finding =
            Diagnostic::new(&RULE, device.span(), format!("{} is fed {}", Screen.device(site, id), times(supplies)))
                .here("this detector")
                .why("Two supplies on one pair of terminals work against each other: a fuse in one feeds through the other, and a smoke detector that should be reset keeps its supply.")
                .help("Leave one of them, and take the other out.");
        if let Some(supply) = &device.supply {
            finding = finding.also(supply.span, "through its own cable");
        }
        for (span, circuit) in feeds(site, id) {
            finding = finding.also(span, format!("from {circuit}"));
        }
        sink.push(about::device(site, device, finding));
    }
}

fn times(number: usize) -> String {
    if number == 2 { "twice".to_owned() } else { format!("{number} times") }
}

/// The places at which circuits feed a device, with the circuits in words.
pub(super) fn feeds(site: &Site, device: Id<Device>) -> Vec<(crate::base::Span, String)> {
    site.feeds_of(device).iter().map(|(span, owner)| (*span, Screen.owner(site, *owner))).collect()
}

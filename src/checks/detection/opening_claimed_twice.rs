//! An opening that two zones watch.

use crate::base::{Id, wording};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Opening, Site, Zone};
use crate::words::Screen;

check!("opening-claimed-twice", Basis::Contradiction, "an opening that two zones watch");

/// Who watches an opening without saying that sharing is meant; each zone once, in order of number.
pub(crate) fn claims(site: &Site, id: Id<Opening>) -> Vec<(&Device, &Zone)> {
    let mut claims: Vec<(&Device, &Zone)> = Vec::new();
    for (device, zone) in site.watchers(id) {
        let known = claims.iter().any(|(claimed, _)| claimed.zone == device.zone);
        if !device.shares && !known {
            claims.push((device, &site.zones[zone]));
        }
    }
    claims
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, opening) in site.openings.entries() {
        let claims = claims(site, id);
        let [first, others @ ..] = claims.as_slice() else { continue };
        let Some((last, _)) = others.split_last() else { continue };
        let span = |device: &Device| device.opening.as_ref().map_or(device.span(), |watched| watched.span);
        let numbers: Vec<u32> = claims.iter().map(|(_, zone)| zone.number.value).collect();
        let title = format!("{} is watched by zones {}", Screen.opening(site, id), wording::numbers(&numbers));
        let mut finding = Diagnostic::new(&RULE, span(last.0), title)
            .here(format!("zone {}", last.1.number.value))
            .why("Usually on= was copied and not changed: then one opening is reported by two numbers, and another by none.")
            .help("Correct on=, or say shares=#true on the second where both are meant, such as a glass-break detector beside a contact.")
            .about(&opening.name.value);
        for (device, zone) in std::iter::once(first).chain(others).filter(|(device, _)| !std::ptr::eq(*device, last.0))
        {
            finding = finding.also(span(device), format!("zone {}", zone.number.value));
        }
        for number in numbers {
            finding = finding.about(number);
        }
        sink.push(finding);
    }
}

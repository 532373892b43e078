//! An opening within reach that is watched by inside detection alone.

use crate::base::Id;
use crate::base::wording::list;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Zone};
use crate::terms::{Senses, ZoneType};
use crate::words::Screen;

check!(
    "opening-free-at-home",
    Basis::Works,
    "an opening within reach that nothing watches while people are at home with the house armed"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, opening) in site.openings.entries().filter(|(_, opening)| site.sound && site.is_within_reach(opening)) {
        let watchers: Vec<_> = site.watchers(id).filter(|(device, _)| site.notices(device)).collect();
        // A contact in such a zone is told by `zone-type-unlikely`.
        let is_inside = |(device, zone): &(&Device, Id<Zone>)| {
            site.zones[*zone].is_of(ZoneType::Interior) && site.senses_of(device) != Some(Senses::Opening)
        };
        if watchers.is_empty() || !watchers.iter().all(is_inside) {
            continue;
        }
        let numbers: Vec<String> =
            watchers.iter().map(|(_, zone)| site.zones[*zone].number.value.to_string()).collect();
        let what = Screen.opening(site, id);
        let zones = if numbers.len() == 1 { "zone" } else { "zones" };
        let title = format!("{what} is watched by inside detection alone: {zones} {}", list(&numbers, "and"));
        let finding = Diagnostic::new(&RULE, opening.name.span, title)
            .here("is free while people are at home")
            .why("Inside detection is left out when the house is armed with people in it. At night, with everybody asleep, nothing tells that somebody comes in here.")
            .help(format!("Put a contact on it too, in a zone of type \"perimeter\" (on=\"{}\" shares=#true). Where nobody ever stays in, accept this.", opening.name.value))
            .about(&opening.name.value);
        let finding = watchers.iter().fold(finding, |finding, (device, _)| finding.also(device.span(), "sleeps then"));
        sink.push(finding);
    }
}

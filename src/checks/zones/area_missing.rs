//! A zone that arms with no area.

use crate::base::wording::list;
use crate::checks::Context;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::terms::ZoneType;

check!("area-missing", Basis::Works, "a zone that arms with no area");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound || site.areas.is_empty() {
        return;
    }
    let areas: Vec<String> = site.areas.iter().map(|area| format!("area=\"{}\"", area.name.value)).collect();
    for zone in site.zones.iter().filter(|zone| zone.whole && zone.reserved.is_none() && zone.area.is_none()) {
        let arms = |kind: ZoneType| kind.sleeps_unarmed() || kind == ZoneType::Keyswitch;
        let Some(kind) = zone.kind.as_ref().filter(|kind| arms(kind.value)) else { continue };
        let is_key = kind.value == ZoneType::Keyswitch;
        let number = zone.number.value;
        let finding = Diagnostic::new(&RULE, zone.number.span, format!("zone {number} belongs to no area"))
            .here("no area=")
                .also(kind.span, if is_key { "arms and disarms its area" } else { "alarms only while its area is armed" })
                .why(if is_key {
                    "A key arms and disarms the area of its zone. With no area it does nothing, or turns whatever the board takes first."
                } else {
                    "A zone of this type sounds only while its area is armed. With no area it is armed never, or with whatever the board takes first."
                })
                .help(format!("Add {}.", list(&areas, "or")))
                .about(number);
        sink.push(match areas.as_slice() {
            [only] => finding.edit(Certainty::Likely, kind.span.behind(), format!(" {only}")),
            _ => finding,
        });
    }
}

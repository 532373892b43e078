//! A smoke detector that is nearer to something than called for, or further from it.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::detectors::{Side, distance};
use crate::quantity::print;
use crate::terms::Senses;
use crate::words::Screen;

check!(
    "smoke-detector-distance",
    Basis::Published("NFPA 72, edition not named, quoted; each figure gives its own source"),
    "a smoke detector too near to what disturbs it, or too far from what it is for"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        if site.senses(id) != Some(Senses::Smoke) {
            continue;
        }
        for near in &device.near {
            let (side, row) = distance(near.what.value);
            let Some(limit) = row.value.length() else { continue };
            // Feet become metres on the way: a distance of just the limit is one.
            let short = near.distance.0 < limit.0 - 1e-9;
            let long = near.distance.0 > limit.0 + 1e-9;
            let (is_wrong, said, remedy) = match side {
                Side::AtLeast => (short, "too near", "further away"),
                Side::AtMost => (long, "too far", "nearer"),
            };
            if !is_wrong {
                continue;
            }
            let (what, shown) = (near.what.value.printed(), print::lengths_apart(near.distance, limit, site.lengths).0);
            let title = format!("{} is {shown} from {what}", Screen.device(site, id));
            let finding = Diagnostic::new(&RULE, near.what.span, title)
                .here(format!("{said}: {} is called for", row.value))
                .also(device.span(), "this detector")
                .why(match side {
                    Side::AtLeast => "Steam, smoke of cooking and moving air set a detector off without a fire, or keep the smoke of one from it.",
                    Side::AtMost => "Smoke gathers under the ceiling, and the sound has to reach those who sleep.",
                })
                .help(format!("Put it {remedy}; or accept this where the authority or the detector's sheet allows the distance."))
                .figure(row.cited());
            sink.push(about::device(site, device, finding));
        }
    }
}

//! A heat detector that may trip without a fire, because its place gets hot.

use crate::calc::ambient;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::detectors::{HEAT_MARGIN, HEAT_RATING};
use crate::words::Screen;

check!(
    "heat-rating-low",
    Basis::Published("NFPA 72, edition not named, quoted in part; how hot a place gets: common practice"),
    "a heat detector that is rated too low for its place"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        let rating = site.device_part(id).and_then(|part| part.rating.as_ref());
        let (Some(rating), Some(room)) = (rating, device.room) else { continue };
        let hot = ambient::of_room(site, Some(room)).hot;
        let least = hot.0 + f64::from(HEAT_MARGIN);
        if rating.value.0 >= least {
            continue;
        }
        let place = &site.rooms[room].title;
        let title = format!("{} trips at {}, and {place} gets up to {hot}", Screen.device(site, id), rating.value);
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here(format!("{least:.0} °C or more is called for here"))
            .also(rating.span, format!("rated {}", rating.value))
            .also(site.rooms[room].name.span, format!("up to {hot}"))
            .why("A hot day would call the fire service. And a detector whose rating is hardly above the heat of its place ages early.")
            .help(format!("Take a detector that is rated {least:.0} °C or more, or mount it where it stays cooler."))
            .figure(HEAT_RATING.figure());
        sink.push(about::device(site, device, finding));
    }
}

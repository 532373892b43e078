//! What a loop sheet says of the detectors that a loop feeds, and how they are measured.

use crate::calc::{LoopReadings, State, two_wire};
use crate::compiled::Compiled;
use crate::quantity::Amperes;
use crate::words::{self, Paper};

/// A sentence each: current at rest and in alarm, the volts that every detector gets, and what a meter does not show.
pub(super) fn lines(compiled: &Compiled, readings: &LoopReadings) -> Vec<String> {
    let site = &compiled.site;
    let zone = readings.zone;
    let Some(feed) = site.loop_feed(zone) else { return Vec::new() };
    let Some(sensing) = site.sensing_of(zone) else { return Vec::new() };
    let fed = || site.devices_of(zone).filter_map(|(id, _)| Some((id, site.loop_fed(id)?)));
    let idle: Amperes = fed().map(|(_, sheet)| sheet.idle).sum();
    let of = feed.limit.as_ref().map(|limit| format!(" of {}", limit.value)).unwrap_or_default();
    let flows = |state| two_wire::taken(site, zone, state).map(|taken| taken.to_string()).unwrap_or_default();
    let mut said = vec![format!(
        "Its detectors take up to {idle}{of} at rest; with the resistor {} flow, and {} with all in alarm.",
        flows(State::Normal),
        flows(State::AllAlarms)
    )];
    let all = two_wire::at_detectors(site, &readings.network, sensing);
    let volts = fed().filter_map(|(id, sheet)| {
        let volts = *all.get(&id)?;
        Some(format!(
            "{} {} (works from {})",
            Paper.contact(site, id),
            words::bounds(&[volts], words::volts),
            sheet.min
        ))
    });
    let volts: Vec<String> = volts.collect();
    if !volts.is_empty() {
        said.push(format!("Volts at the detectors, everything at rest: {}.", volts.join("; ")));
    }
    said.push("Off the board a detector has no supply: ohms show the resistor and the cable, and no alarm. A detector that is landed the wrong way round looks at rest on every meter and never alarms, so each is tried with smoke or as its sheet says.".to_owned());
    said
}

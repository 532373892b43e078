//! A two-wire detector in alarm that may have to take more current than it withstands.

use crate::checks::Context;
use crate::checks::loops::two_wire;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Amperes;
use crate::words::Screen;

check!(
    "two-wire-alarm-current",
    Basis::Contradiction,
    "a two-wire detector in alarm that may take more current than it withstands"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for fed in two_wire::fed(context) {
        let Some(sensing) = fed.known.sensing else { continue };
        let (Some(supply), Some(pull_up)) = (sensing.supply, sensing.pull_up) else { continue };
        // What the board drives through its own resistance while the detector holds its least volts.
        let drives = |least: f64| {
            let supply = supply.0 * (1.0 + sensing.supply_tolerance.0);
            Amperes((supply - least).max(0.0) / (pull_up.0 * (1.0 - sensing.tolerance.0)))
        };
        let over = fed.detectors.iter().find_map(|(id, sheet)| {
            let taken = drives(sheet.alarm_volts.0.0);
            sheet.alarm.filter(|most| taken > *most).map(|most| (*id, sheet, taken, most))
        });
        let Some((id, sheet, taken, most)) = over else { continue };
        let number = fed.known.zone.number.value;
        let title =
            format!("{} of zone {number} may take {taken} in alarm, and withstands {most}", Screen.device(site, id));
        let finding = Diagnostic::new(&RULE, site.devices[id].span(), title)
            .here(format!("withstands {most}"))
            .also(sheet.place.span, "the detector's sheet")
            .also(sensing.place.span, "the board's supply and pull-up")
            .why("In alarm nothing but the board's own resistance limits the current. A detector that is driven past what it withstands is spoilt by its first alarm.")
            .help("Take a detector that the board's sheet lists, or put the detector in a base that limits its current, with the base's figures in `loop-fed`.")
            .about(number);
        sink.push(finding);
    }
}

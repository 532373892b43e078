//! A detector that was past the age of its listing on the latest day of the spec.

use crate::calc::wear::{self, Worn};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!(
    "detector-old",
    Basis::Published(
        "the age on the detector's own label or sheet, as the spec has it; that it is replaced then: UL 217 and UL 268, from memory"
    ),
    "a detector that is past the age of its listing"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let Some(day) = wear::latest_day(site) else { return };
    for wear in wear::of_site(site) {
        let (Worn::Detector(id), Some(made), Some(due)) = (wear.worn, wear.since, wear.due()) else { continue };
        if due >= day.value {
            continue;
        }
        let device = &site.devices[id];
        let title = format!("{} was to be replaced by {due}", Screen.device(site, id));
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here(format!("made {made}"))
            .also(day.span, "the latest day of the spec")
            .why("Dust and age make a smoke detector deaf or jumpy, the cell of a carbon monoxide detector dries out, and a gas sensor is poisoned by vapours and goes deaf. Past its age nobody answers for what it does.")
            .help("Replace it and write the day on which the new one was made in made=. If its listing gives another age, correct replace-after= of its part.")
            .figure(format!("{made} and its age: {due}"));
        sink.push(about::device(site, device, finding));
    }
}

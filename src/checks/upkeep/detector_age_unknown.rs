//! A detector that was there before, of which nobody has written how old it is.

use crate::calc::wear::{self, Worn};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!(
    "detector-age-unknown",
    Basis::Published("that its listing limits its age: UL 217 and UL 268, from memory"),
    "a detector that was there before, and its age is not known"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for wear in wear::of_site(site) {
        let Worn::Detector(id) = wear.worn else { continue };
        let device = &site.devices[id];
        if wear.since.is_some() || !device.was_there() {
            continue;
        }
        let title = format!("nobody knows how old {} is", Screen.device(site, id));
        let finding = Diagnostic::new(&RULE, device.span(), title)
            .here("was there before, without made=")
            .why("Dust and age make a smoke detector deaf or jumpy, the cell of a carbon monoxide detector dries out, and a gas sensor is poisoned by vapours and goes deaf. One that was there before may be past its age already, and no date reminds anybody of it.")
            .help("Read the day on its label, on the back or under the cover, and write it in made=. Where no day can be read, replace it and write the new one's.");
        sink.push(about::device(site, device, finding));
    }
}

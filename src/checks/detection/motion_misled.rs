//! A motion detector that looks at what may set it off.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::{Faces, Senses};
use crate::words::Screen;

check!(
    "motion-misled",
    Basis::Practice,
    "a motion detector that looks at sun, a heater, a stair or what moves in a draught"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, device) in site.devices.entries() {
        let (Some(faces), Some(Senses::Motion)) = (&device.faces, site.senses(id)) else {
            continue;
        };
        let title = format!("{} looks at {}", Screen.device(site, id), faces.value.printed());
        let finding = Diagnostic::new(&RULE, faces.span, title)
            .here("may set it off")
            .also(device.span(), "this detector")
            .why(reason(faces.value))
            .help("Turn it, move it to the wall across, or mask that part of its lens, and take faces= away; or accept this after a week of trial without an alarm.");
        sink.push(about::device(site, device, finding));
    }
}

fn reason(faces: Faces) -> &'static str {
    match faces {
        Faces::Sun => {
            "A detector of warmth that moves takes a patch of sun that comes and goes, or a car's headlamps, for somebody."
        }
        Faces::Heater => "A detector of warmth that moves takes the air over a heater that switches on for somebody.",
        Faces::Stair => {
            "While the house is armed with people in it, whoever comes down at night sets it off, and so do animals that climb past the height it ignores."
        }
        Faces::Curtain => {
            "What moves in a draught and is warmer or colder than the wall behind it is taken for somebody."
        }
    }
}

//! A cable whose sheet is said to give its conductors far less resistance than their size and metal have.

use crate::calc::conductor;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::{OhmsPerMetre, decimal};

check!(
    "cable-resistance-low",
    Basis::Contradiction,
    "a cable type with far less resistance than a conductor of its size and metal has"
);

/// The share of what its size has from which a conductor's most is no thicker wire but a slip: ours.
const FAR: f64 = 0.8;
/// How far a sheet's most lies from what size and metal have, from and to, where only its unit is wrong: ours.
const ABOUT: (f64, f64) = (0.95, 1.3);
/// Metres of 1000 ft.
const KILOFOOT: f64 = 304.8;

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, kind) in site.cables.entries() {
        let (Some(sheet), Some(size)) = (&kind.resistance, kind.size) else { continue };
        let has = conductor::per_metre(size, kind.stranded, kind.metal.value, None);
        let is_used = site.runs.iter().any(|run| run.cable.as_ref().is_some_and(|cable| cable.value == id));
        if !is_used || sheet.value.0 >= has.least * FAR {
            continue;
        }
        let (most, least) = (sheet.value, OhmsPerMetre(has.least));
        let title = format!("cable `{}` has {most} at the most, and {size} has {least} at the least", kind.name.value);
        // The number as it stands on a sheet that counts by 1000 ft.
        let number = decimal::round(most.0 * 1000.0, 6);
        let by_kilofoot = number / KILOFOOT;
        let finding = Diagnostic::new(&RULE, sheet.span, title)
            .here("the most that one conductor has at 20 °C")
            .also(kind.name.span, format!("{size}, {}", kind.metal.value.word()))
            .why("Thinner wire has more resistance, and no wire of that size has so little. With this figure every volt at the end of such a cable is reckoned too high, and what fails on the wall looks right on paper.")
            .figure(format!("1 ÷ (58 m/Ωmm² × {:.4} mm²) = {} for ideal copper (IEC 60028)", size.square_millimetres(), OhmsPerMetre(conductor::RESISTIVITY / size.square_millimetres())))
            .about(&kind.name.value);
        sink.push(if by_kilofoot > has.least * ABOUT.0 && by_kilofoot < has.greatest * ABOUT.1 {
            let meant = format!("(ohm-per-kft){number}");
            finding
                .help(format!("If its sheet gives {number} Ω for 1000 ft, write resistance={meant}; else hold size= and resistance= against the sheet."))
        } else {
            finding.help("Hold size=, metal= and resistance= against the sheet: resistance= is for one conductor, by the kilometre or by 1000 ft. Without the sheet leave it out, and the size says it.")
        });
    }
}

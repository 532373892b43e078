//! A type of cable whose conductors do not go into its jacket.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::CableType;
use crate::quantity::Metres;

check!("cable-thinner-than-copper", Basis::Contradiction, "a cable that is thinner than its conductors");

fn run(context: Context<'_>, sink: &mut Sink) {
    for kind in &context.site.cables {
        let (Some(least), Some(diameter), Some(size)) = (least(kind), kind.diameter, kind.size) else { continue };
        if least.0 <= diameter.0 {
            continue;
        }
        let [least, diameter] = [least, diameter].map(|across| format!("{:.1} mm", across.0 * 1000.0));
        let name = &kind.name.value;
        sink.push(
            Diagnostic::new(&RULE, kind.name.span, format!("`{name}` is {diameter} thick, and its copper alone {least}"))
                .here(format!("{} conductors of {size}", kind.size()))
                .why("All volts and ohms are computed from the size. A size that is many times the true one lets a cable pass at whose end too little arrives.")
                .help("Copy size and diameter again from the cable's sheet: a gauge is written as (AWG)22, an area as (mm2)0.22.")
                .about(name),
        );
    }
}

/// The diameter of a circle that has the area of all conductors: no jacket around them is thinner.
fn least(kind: &CableType) -> Option<Metres> {
    let area = kind.size?.square_millimetres() * f64::from(u32::try_from(kind.size()).ok()?);
    Some(Metres(2.0 * (area / std::f64::consts::PI).sqrt() / 1000.0))
}

//! A resistor of a value that is not made in the usual series.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::checks::loops::loop_known;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::Zone;
use crate::quantity::preferred::{Series, is_preferred, neighbours};
use crate::quantity::{Ohms, Resistance};

check!("resistor-not-preferred", Basis::Practice, "a resistor of a value that no shop has");

/// A value and every place where it stands.
type Odd = (Resistance, Vec<(Span, Id<Zone>)>);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // By the value's text, so that one value is one finding.
    let mut odd: BTreeMap<String, Odd> = BTreeMap::new();
    for (zone, _) in site.zones.entries() {
        let loop_resistors = loop_known::resistors(site, zone).into_iter().map(|(_, value)| value);
        let shunts = site.devices_of(zone).filter_map(|(_, device)| device.shunt.as_ref());
        for value in loop_resistors.chain(shunts) {
            let nominal = value.value.nominal;
            if !is_preferred(nominal, Series::E24) && !is_preferred(nominal, Series::E96) {
                odd.entry(nominal.to_string()).or_insert((value.value, Vec::new())).1.push((value.span, zone));
            }
        }
    }
    for (words, (value, places)) in odd {
        let Some(((span, zone), others)) = places.split_first() else { continue };
        let mut finding = Diagnostic::new(&RULE, *span, format!("{words} is no preferred value"))
            .here("neither in E24 nor in E96")
            .why("Resistors are made in series (IEC 60063), and this value is in neither of the two that are sold everywhere. It is a slip of the pen, or a sum of two resistors, which then wants to be written as two.")
            .about(site.zones[*zone].number.value);
        for series in [Series::E24, Series::E96] {
            if let Some((below, above)) = neighbours(value.nominal, series) {
                finding = finding.figure(format!("{series:?}: {below} and {above}"));
            }
        }
        for (span, zone) in others {
            finding = finding.also(*span, "and here").about(site.zones[*zone].number.value);
        }
        let near = neighbours(value.nominal, Series::E24).map_or_else(String::new, |(below, above)| {
            let marking = |ohms: Ohms| Resistance::new(ohms).marking().unwrap_or_else(|| ohms.to_string());
            format!(", \"{}\" or \"{}\" for example", marking(below), marking(above))
        });
        let finding = finding.help(format!("Take the neighbour that the board's sheet names{near}."));
        let nearest = neighbours(value.nominal, Series::E24)
            .map(|(below, above)| if value.nominal.0 - below.0 < above.0 - value.nominal.0 { below } else { above });
        sink.push(match nearest.and_then(|nearest| Resistance::new(nearest).marking()) {
            Some(marking) => places
                .iter()
                .fold(finding, |finding, (span, _)| finding.edit(Certainty::House, *span, format!("\"{marking}\""))),
            None => finding,
        });
    }
}

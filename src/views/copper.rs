//! What the resistance of conductors rests on, in a sentence for the sheets.

use std::collections::BTreeSet;

use crate::base::wording::list;
use crate::model::{CableType, Site};
use crate::profiles::conductors;
use crate::quantity::WireSize;
use crate::terms::Metal;

/// The sentence; it names the limits of metric sizes only where the site has such cables.
pub(crate) fn of(site: &Site) -> String {
    let metric = |cable: &CableType| matches!(cable.size, Some(WireSize::SquareMillimetres(_)));
    let limits = |cable: &CableType| cable.resistance.is_none() && metric(cable);
    let rows = conductors::SOURCE.cited();
    let has_row = |cable: &CableType| {
        let most = cable.size.and_then(|size| conductors::most(size, cable.stranded));
        matches!(most, Some((_, conductors::Basis::Row)))
    };
    let mut most = Vec::new();
    if site.cables.iter().any(|cable| cable.resistance.is_some()) {
        most.push("the cable's sheet".to_owned());
    }
    if site.cables.iter().any(|cable| limits(cable) && has_row(cable)) {
        most.push(rows.clone());
    }
    if site.cables.iter().any(|cable| limits(cable) && !has_row(cable)) {
        most.push(format!("for a size without a row there the greatest allowance over copper in {rows}"));
    }
    let copper = "Copper by ASTM B258 and IEC 60028";
    let most = if most.is_empty() {
        String::new()
    } else {
        format!("; the most that a conductor may have: {}", list(&most, "and"))
    };
    let metals: BTreeSet<Metal> = site.cables.iter().map(|cable| cable.metal.value).collect();
    let others: Vec<String> = metals.into_iter().filter_map(conductors::more_than_copper).collect();
    let others = if others.is_empty() { String::new() } else { format!("; {}", list(&others, "and")) };
    format!("{copper}{most}{others}.")
}

//! What a board makes of a loop: the voltage at its terminals and the band it lies in.

use crate::model::{Band, BandEdges, Sensing};
use crate::terms::BandName;

use super::spread::Spread;

/// Voltage at the terminals: V = Vs·R/(R + Rp), the divider of the board's pull-up and the loop.
///
/// `None` where the board's voltage or pull-up is not known.
pub fn voltage(sensing: &Sensing, loop_ohms: Spread) -> Option<Spread> {
    let supply = Spread::tolerance(sensing.supply?.0, sensing.supply_tolerance.0);
    let pull_up = Spread::tolerance(sensing.pull_up?.0, sensing.tolerance.0);
    let divide = |volts: f64, ohms: f64, pull_up: f64| {
        if ohms.is_infinite() { volts } else { volts * ohms / (ohms + pull_up) }
    };
    Some(Spread {
        least: divide(supply.least, loop_ohms.least, pull_up.greatest),
        nominal: divide(supply.nominal, loop_ohms.nominal, pull_up.nominal),
        greatest: divide(supply.greatest, loop_ohms.greatest, pull_up.least),
    })
}

/// What a board makes of a spread of readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Verdict {
    /// All of it lies in one band.
    Reads(BandName),
    /// It touches two bands, least first.
    Spans(BandName, BandName),
    /// Some or all of it lies where no band is; the band that the rest lies in.
    Between(Option<BandName>),
    /// Nobody says how the board reads.
    Unknown,
}

/// A verdict with the distance to the nearest edge that matters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What the board makes of it.
    pub verdict: Verdict,
    /// Distance from the spread to the nearest edge of its band; below zero it lies outside by so much. `None` where
    /// no edge limits it.
    pub margin: Option<f64>,
    /// True where the bands are in ohms, and so is the margin.
    pub in_ohms: bool,
}

/// Edges of a band as numbers, and whether they are ohms; open-ended sides are infinite.
///
/// A lower edge at zero is open-ended: nothing reads less.
pub fn edges(band: &Band) -> (f64, f64, bool) {
    let (low, high, in_ohms) = written(band);
    (if low <= 0.0 { f64::NEG_INFINITY } else { low }, high, in_ohms)
}

fn written(band: &Band) -> (f64, f64, bool) {
    match band.edges {
        BandEdges::Volts(low, high) => {
            (low.map_or(f64::NEG_INFINITY, |v| v.0), high.map_or(f64::INFINITY, |v| v.0), false)
        }
        BandEdges::Ohms(low, high) => {
            (low.map_or(f64::NEG_INFINITY, |r| r.0), high.map_or(f64::INFINITY, |r| r.0), true)
        }
    }
}

/// Judges a loop's resistance, or the voltage it gives, against the board's bands.
pub fn judge(sensing: &Sensing, ohms: Spread, volts: Option<Spread>) -> Reading {
    let in_ohms = sensing.bands.iter().any(|band| edges(band).2);
    let unknown = Reading { verdict: Verdict::Unknown, margin: None, in_ohms };
    let value = if in_ohms { Some(ohms) } else { volts };
    let Some(value) = value.filter(|_| !sensing.bands.is_empty()) else { return unknown };
    let holding = |x: f64| sensing.bands.iter().find(|band| (edges(band).0..=edges(band).1).contains(&x));
    // Nothing reads more than the supply, so an edge there is no limit.
    let most = if in_ohms { f64::INFINITY } else { sensing.supply.map_or(f64::INFINITY, |supply| supply.0) };
    match (holding(value.least), holding(value.greatest)) {
        (Some(low), Some(high)) if low.reads.value == high.reads.value => {
            let (bottom, top, _) = edges(low);
            let below = if bottom.is_finite() { value.least - bottom } else { f64::INFINITY };
            let above = if top.is_finite() && top < most { top - value.greatest } else { f64::INFINITY };
            let margin = below.min(above);
            Reading { verdict: Verdict::Reads(low.reads.value), margin: margin.is_finite().then_some(margin), in_ohms }
        }
        (Some(low), Some(high)) => {
            Reading { verdict: Verdict::Spans(low.reads.value, high.reads.value), margin: Some(0.0), in_ohms }
        }
        (low, high) => {
            let part = low.or(high).or_else(|| holding(value.nominal)).map(|band| band.reads.value);
            Reading { verdict: Verdict::Between(part), margin: outside(sensing, value), in_ohms }
        }
    }
}

/// How far a spread reaches out of the band that its nominal value is nearest to, as a negative margin.
fn outside(sensing: &Sensing, value: Spread) -> Option<f64> {
    sensing
        .bands
        .iter()
        .map(|band| {
            let (bottom, top, _) = edges(band);
            (value.least - bottom).min(top - value.greatest)
        })
        .filter(|margin| margin.is_finite())
        .max_by(f64::total_cmp)
}

//! What a board makes of a loop: the voltage at its terminals and the band it lies in.

use crate::model::{Band, BandEdges, Sensing};
use crate::terms::BandName;

use super::spread::Spread;

/// Voltage at the terminals: V = Vs·R/(R + Rp), the divider of the board's pull-up and the loop.
///
/// `None` where the board's voltage or pull-up is not known.
pub(crate) fn voltage(sensing: &Sensing, loop_ohms: Spread) -> Option<Spread> {
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
pub(crate) enum Verdict {
    /// All of it lies in one band.
    Reads(BandName),
    /// It lies in several bands, or some or all of it where no band is.
    Unclear(Outcomes),
    /// Nobody says how the board reads.
    Unknown,
}

impl Verdict {
    /// True where it may be read as this, or is.
    pub(crate) fn may_be(self, band: BandName) -> bool {
        match self {
            Self::Reads(reads) => reads == band,
            Self::Unclear(outcomes) => outcomes.may_be(band),
            Self::Unknown => false,
        }
    }
}

/// What a board may make of a spread that lies in no single band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Outcomes {
    /// With every part at its nominal value; `None` between the bands.
    nominal: Option<BandName>,
    /// Every band that it touches, by its position in [`BandName::ALL`].
    touched: [bool; BandName::ALL.len()],
    /// True where some of it lies between the bands.
    between: bool,
}

impl Outcomes {
    /// What a spread may be read as: its nominal value, and every band that it touches.
    pub(crate) fn new(nominal: Option<BandName>, touched: &[BandName], between: bool) -> Self {
        let touches = |at| BandName::ALL.get(at).is_some_and(|band| touched.contains(band));
        Self { nominal, touched: std::array::from_fn(touches), between }
    }

    /// What it may be read as, the nominal one first, then the others in the order of [`BandName::ALL`]; `None` is between
    /// the bands.
    pub(crate) fn in_order(self) -> impl Iterator<Item = Option<BandName>> {
        let touched =
            BandName::ALL.iter().zip(self.touched).filter_map(|(band, touched)| touched.then_some(Some(*band)));
        let others = touched.chain(self.between.then_some(None));
        std::iter::once(self.nominal).chain(others.filter(move |other| *other != self.nominal))
    }

    /// True where it may be read as this.
    pub(crate) fn may_be(self, band: BandName) -> bool {
        self.in_order().any(|one| one == Some(band))
    }
}

/// A verdict with the distance to the nearest edge that matters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What the board makes of it.
    pub(crate) verdict: Verdict,
    /// Distance from the spread to the nearest edge of its band; below zero it lies outside by so much. `None` where
    /// no edge limits it.
    pub margin: Option<f64>,
    /// True where the bands are in ohms, and so is the margin.
    pub(crate) in_ohms: bool,
}

/// Edges of a band as numbers, and whether they are ohms; open-ended sides are infinite.
///
/// A lower edge at zero is open-ended: nothing reads less.
pub(crate) fn edges(band: &Band) -> (f64, f64, bool) {
    let (low, high, in_ohms) = written(band);
    (if low <= 0.0 { f64::NEG_INFINITY } else { low }, high, in_ohms)
}

/// Edges of a band of a board that are limits. Nothing reads more than the supply, so an upper edge there is open-ended:
/// a supply that is a little higher moves what it reads at the terminals, and no sheet means an open loop by that.
fn limits(sensing: &Sensing, band: &Band) -> (f64, f64) {
    let (low, high, in_ohms) = edges(band);
    let is_open = !in_ohms && sensing.supply.is_some_and(|supply| high >= supply.0);
    (low, if is_open { f64::INFINITY } else { high })
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
pub(crate) fn judge(sensing: &Sensing, ohms: Spread, volts: Option<Spread>) -> Reading {
    let in_ohms = sensing.bands.iter().any(|band| written(band).2);
    let unknown = Reading { verdict: Verdict::Unknown, margin: None, in_ohms };
    let value = if in_ohms { Some(ohms) } else { volts };
    let is_mixed = sensing.bands.iter().any(|band| written(band).2 != in_ohms);
    let Some(value) = value.filter(|_| !sensing.bands.is_empty() && !is_mixed) else { return unknown };
    let edges = |band: &Band| limits(sensing, band);
    let is_in = |band: &Band, least: f64, greatest: f64| {
        let (low, high) = edges(band);
        low <= greatest && high >= least
    };
    let holding = |x: f64| sensing.bands.iter().find(|band| is_in(band, x, x));
    let touches = |band: &&Band| is_in(band, value.least, value.greatest);
    let touching = || -> Vec<&Band> { sensing.bands.iter().filter(touches).collect() };
    // Bands may have one name, and others between them.
    let is_one = |low: &Band, high: &Band| {
        let same = |bands: &[&Band]| bands.iter().all(|band| band.reads.value == low.reads.value) && !has_gap(bands);
        std::ptr::eq(low, high) || low.reads.value == high.reads.value && same(&touching())
    };
    match (holding(value.least), holding(value.greatest)) {
        (Some(low), Some(high)) if is_one(low, high) => {
            let (bottom, top) = (edges(low).0, edges(high).1);
            let below = if bottom.is_finite() { value.least - bottom } else { f64::INFINITY };
            let above = if top.is_finite() { top - value.greatest } else { f64::INFINITY };
            let margin = below.min(above);
            Reading { verdict: Verdict::Reads(low.reads.value), margin: margin.is_finite().then_some(margin), in_ohms }
        }
        (low, high) => {
            let touching = touching();
            let nominal = holding(value.nominal).map(|band| band.reads.value);
            let names: Vec<BandName> = touching.iter().map(|band| band.reads.value).collect();
            let outcomes = Outcomes::new(nominal, &names, low.is_none() || high.is_none() || has_gap(&touching));
            let margin = if outcomes.between { outside(sensing, value) } else { Some(0.0) };
            Reading { verdict: Verdict::Unclear(outcomes), margin, in_ohms }
        }
    }
}

/// True where some bands leave room between the first and the last of them.
fn has_gap(bands: &[&Band]) -> bool {
    let mut sides: Vec<(f64, f64)> = bands.iter().map(|band| (edges(band).0, edges(band).1)).collect();
    sides.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut reached = sides.first().map_or(f64::INFINITY, |first| first.1);
    sides.iter().any(|(low, high)| {
        let gap = *low > reached;
        reached = reached.max(*high);
        gap
    })
}

/// How far a spread reaches out of the band that it reaches out of least, as a negative margin.
fn outside(sensing: &Sensing, value: Spread) -> Option<f64> {
    sensing
        .bands
        .iter()
        .map(|band| {
            let (bottom, top) = limits(sensing, band);
            (value.least - bottom).min(top - value.greatest)
        })
        .filter(|margin| margin.is_finite())
        .max_by(f64::total_cmp)
}

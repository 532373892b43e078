//! What stands between A and B when nobody sends: the direct-current network of the pair, solved exactly.
//!
//! The legs of a bias are alike and so are the two conductors of a run, so the pair decouples: between A and B there is
//! a tree of loop resistances with, at each place, its terminators and receivers across and its bias as Vcc behind 2·Rb.
//! A receiver is one unit load, 12 kΩ, across: that is the most it may be, so for the greatest volts there is none. For the
//! bounds resistors are within ±5 %, as terminators are marked, and wire is cold or hot. The volts at a place move one way
//! with each resistance, so their bounds lie at corners where
//! everything is at one end of its range. With one biased board the least is with hot wire on the way to it, cold wire
//! elsewhere and weak resistors, and the greatest the other way round. With several boards the current's direction between
//! them is open, so from there on one cable or bias at a time is turned to its other end while that goes further.

use super::layout::{Layout, Place};
use crate::calc::spread::Spread;
use crate::profiles::bus::UNIT_LOAD;
use crate::quantity::Ohms;

/// The bias by place.
#[derive(Clone, Debug, PartialEq)]
pub struct Idle {
    /// Volts between A and B at each place.
    pub volts: Vec<Spread>,
}

impl Idle {
    /// The place with the least bias and its least volts. Places without a board count too: one may be put there.
    pub(crate) fn worst(&self) -> (usize, f64) {
        let least = self.volts.iter().map(|volts| volts.least).enumerate();
        least.min_by(|(_, one), (_, other)| one.total_cmp(other)).unwrap_or_default()
    }
}

/// Tolerance of terminators and bias resistors, whose sheets give none: that of the series that they are bought in
/// (IEC 60063, E24).
pub(crate) const TOLERANCE: f64 = 0.05;

/// The bias at every place; `None` where no port of the bus gives one.
pub fn of(layout: &Layout) -> Option<Idle> {
    let biased: Vec<usize> =
        layout.ports.iter().enumerate().filter(|(_, port)| port.bias.is_some()).map(|(at, _)| at).collect();
    let first = layout.ports.get(*biased.first()?)?.place;
    let usual = Corner::usual(layout).volts(layout);
    let volts = usual.into_iter().enumerate().map(|(place, nominal)| {
        let on_way = on_way(layout, first, place);
        let bound = |weak: bool| {
            let mut corner = Corner::uneven(layout, &on_way, weak);
            if biased.len() > 1 {
                corner.go_on(layout, place, &biased, weak);
            }
            corner.volts(layout).get(place).copied().unwrap_or(nominal)
        };
        Spread { least: bound(true), nominal, greatest: bound(false) }
    });
    Some(Idle { volts: volts.collect() })
}

/// Every resistance at one end of its range.
#[derive(Clone, Debug)]
struct Corner {
    /// Ohms of the data conductors of each place's cable.
    ohms: Vec<f64>,
    /// Factor on the ohms of all terminators.
    terminators: f64,
    /// Factor on the bias resistors of each port.
    legs: Vec<f64>,
    /// The volts behind the bias, by shares of their tolerance: −1 is their least, 1 their greatest. Every place has more
    /// with more of them, so they all stand at one end.
    supply: f64,
    /// Share of the receivers' unit loads that is there.
    receivers: f64,
}

impl Corner {
    fn usual(layout: &Layout) -> Self {
        let ohms = ohms(layout, |ohms| ohms.nominal);
        Self { ohms, terminators: 1.0, legs: vec![1.0; layout.ports.len()], supply: 0.0, receivers: 1.0 }
    }

    /// Hot wire on some cables, cold wire on the others, and resistors that leave little: the least bias of one board.
    /// The other way round for the greatest.
    fn uneven(layout: &Layout, on_way: &[bool], weak: bool) -> Self {
        let factor = if weak { 1.0 - TOLERANCE } else { 1.0 + TOLERANCE };
        let ends = layout.places.iter().zip(on_way);
        Self {
            ohms: ends.map(|(place, on)| if *on == weak { place.ohms.greatest } else { place.ohms.least }).collect(),
            terminators: factor,
            legs: vec![2.0 - factor; layout.ports.len()],
            supply: if weak { -1.0 } else { 1.0 },
            receivers: if weak { 1.0 } else { 0.0 },
        }
    }

    fn volts(&self, layout: &Layout) -> Vec<f64> {
        solve(
            layout,
            &self.ohms,
            &Across::of(layout, self.terminators, Some((&self.legs, self.supply, self.receivers))),
        )
    }

    /// Turns one cable or bias at a time to its other end while that takes the volts at a place further down, or up.
    fn go_on(&mut self, layout: &Layout, place: usize, biased: &[usize], down: bool) {
        let at = |corner: &Self| corner.volts(layout).get(place).copied().unwrap_or_default();
        let mut best = at(self);
        loop {
            let before = best;
            let cables = (0..layout.places.len()).map(Element::Cable);
            for element in cables.chain(biased.iter().copied().map(Element::Bias)) {
                let mut turned = self.clone();
                turned.turn(layout, element);
                let found = at(&turned);
                if if down { found < best } else { found > best } {
                    (*self, best) = (turned, found);
                }
            }
            // Equal only where nothing was turned: the same numbers in the same order.
            if best.total_cmp(&before).is_eq() {
                return;
            }
        }
    }

    fn turn(&mut self, layout: &Layout, element: Element) {
        match element {
            Element::Cable(at) => {
                if let (Some(ohms), Some(place)) = (self.ohms.get_mut(at), layout.places.get(at)) {
                    *ohms = if *ohms < place.ohms.greatest { place.ohms.greatest } else { place.ohms.least };
                }
            }
            Element::Bias(at) => {
                if let Some(legs) = self.legs.get_mut(at) {
                    *legs = 2.0 - *legs;
                }
            }
        }
    }
}

/// What a corner can turn: the cable to a place, or the bias resistors of a port.
#[derive(Clone, Copy, Debug)]
enum Element {
    Cable(usize),
    Bias(usize),
}

/// By place, whether its cable lies on the way from one place to another.
fn on_way(layout: &Layout, from: usize, to: usize) -> Vec<bool> {
    let mut passed = vec![false; layout.places.len()];
    for place in layout.way(from, to) {
        if let Some(passed) = passed.get_mut(place) {
            *passed = true;
        }
    }
    let both = |(at, item): (usize, &Place)| {
        item.before != at && passed.get(at) == Some(&true) && passed.get(item.before) == Some(&true)
    };
    layout.places.iter().enumerate().map(both).collect()
}

/// The resistance of the data conductors of each place's cable.
fn ohms(layout: &Layout, wire: fn(&Spread) -> f64) -> Vec<f64> {
    layout.places.iter().map(|place| wire(&place.ohms)).collect()
}

/// What lies across the pair at each place.
#[derive(Clone, Debug)]
struct Across {
    /// Siemens.
    conductance: Vec<f64>,
    /// Amperes that the bias feeds in.
    fed: Vec<f64>,
}

impl Across {
    /// The terminators by a factor on their ohms, and where wanted each port's bias by a factor on its own, the shares of
    /// its supply's tolerance, and a share of the receivers.
    fn of(layout: &Layout, terminators: f64, bias: Option<(&[f64], f64, f64)>) -> Self {
        let mut across = Self { conductance: vec![0.0; layout.places.len()], fed: vec![0.0; layout.places.len()] };
        for terminator in &layout.terminators {
            across.add(terminator.place, 1.0 / (terminator.ohms.0 * terminators), 0.0);
        }
        let Some((legs, shares, receivers)) = bias else { return across };
        for (port, legs) in layout.ports.iter().zip(legs) {
            across.add(port.place, receivers * port.unit_load / UNIT_LOAD.value, 0.0);
            if let Some((leg, supply)) = port.bias {
                let both = 2.0 * leg.0 * legs;
                across.add(port.place, 1.0 / both, supply.0 * (1.0 + shares * port.bias_tolerance) / both);
            }
        }
        across
    }

    fn add(&mut self, place: usize, siemens: f64, amperes: f64) {
        if let (Some(conductance), Some(fed)) = (self.conductance.get_mut(place), self.fed.get_mut(place)) {
            *conductance += siemens;
            *fed += amperes;
        }
    }
}

/// Volts at each place: everything beyond a place is drawn together from the far ends on, then the volts follow outwards.
fn solve(layout: &Layout, ohms: &[f64], across: &Across) -> Vec<f64> {
    let Across { mut conductance, mut fed } = across.clone();
    for (at, place) in layout.places.iter().enumerate().rev().filter(|(at, place)| place.before != *at) {
        let through =
            1.0 + ohms.get(at).copied().unwrap_or_default() * conductance.get(at).copied().unwrap_or_default();
        let (siemens, amperes) =
            (conductance.get(at).map_or(0.0, |own| own / through), fed.get(at).map_or(0.0, |own| own / through));
        if let (Some(conductance), Some(fed)) = (conductance.get_mut(place.before), fed.get_mut(place.before)) {
            *conductance += siemens;
            *fed += amperes;
        }
    }
    let mut volts: Vec<f64> = Vec::with_capacity(layout.places.len());
    for ((place, ohms), (conductance, fed)) in layout.places.iter().zip(ohms).zip(conductance.iter().zip(&fed)) {
        volts.push(match volts.get(place.before) {
            Some(before) => (before + ohms * fed) / (1.0 + ohms * conductance),
            None => fed / conductance,
        });
    }
    volts
}

/// The resistance between A and B that a meter finds at a place with everything unpowered: least with bias resistors
/// and receivers counted, greatest with the terminators alone, for a dead board may show either; nominal with both.
pub fn resistance(layout: &Layout, place: usize) -> Spread {
    let between = |wire: fn(&Spread) -> f64, terminators: f64, legs: Option<f64>| {
        let legs = legs.map(|legs| vec![legs; layout.ports.len()]);
        let mut across = Across::of(layout, terminators, legs.as_deref().map(|legs| (legs, 0.0, 1.0)));
        across.fed.fill(0.0);
        across.add(place, 0.0, 1.0);
        solve(layout, &ohms(layout, wire), &across).get(place).copied().unwrap_or(f64::INFINITY)
    };
    Spread {
        least: between(|ohms| ohms.least, 1.0 - TOLERANCE, Some(1.0 - TOLERANCE)),
        nominal: between(|ohms| ohms.nominal, 1.0, Some(1.0)),
        greatest: between(|ohms| ohms.greatest, 1.0 + TOLERANCE, None),
    }
}

/// The resistance at a place with one of the terminators lifted off.
pub(crate) fn resistance_without(layout: &Layout, place: usize, terminator: usize) -> Spread {
    let mut changed = layout.clone();
    if terminator < changed.terminators.len() {
        changed.terminators.remove(terminator);
    }
    resistance(&changed, place)
}

/// The resistance at a place with a terminator more at another, or there.
pub(crate) fn resistance_with(layout: &Layout, place: usize, (at, ohms): (usize, Ohms)) -> Spread {
    let mut changed = layout.clone();
    let fitting = super::Fitting::Written(None, 0);
    changed.terminators.push(super::Terminator { place: at, ohms, fitting });
    resistance(&changed, place)
}

/// The resistance at a place where A and B touch at another.
pub(crate) fn resistance_shorted(layout: &Layout, place: usize, at: usize) -> Spread {
    // A microohm: as good as none beside any wire, and the network stays solvable where the two places are one.
    const TOUCHING: Ohms = Ohms(1e-6);
    resistance_with(layout, place, (at, TOUCHING))
}

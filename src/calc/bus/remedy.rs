//! What would give a bus enough bias.

use super::idle;
use super::layout::Layout;
use crate::profiles::bus::{DRIVER_LOAD, TERMINATOR, THRESHOLD};
use crate::quantity::Ohms;
use crate::quantity::preferred::E24;

/// A value of bias that works.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Bias {
    /// Position of the port among the layout's.
    pub(crate) port: usize,
    /// The resistor in each leg that must be there in all.
    pub(crate) leg: Ohms,
    /// The resistor that, put beside each of those that are there, gives it.
    pub(crate) beside: Ohms,
}

/// The greatest bias resistors, made by a resistor of E24 beside each of the board's own, with which every place has
/// its 200 mV; `None` where that would load the drivers more than their test load beside two terminators, or where
/// several boards give a bias.
pub(crate) fn bias(layout: &Layout) -> Option<Bias> {
    let mut biased = layout.ports.iter().enumerate().filter(|(_, port)| port.bias.is_some());
    let (port, found) = biased.next()?;
    let (own, supply) = found.bias?;
    if biased.next().is_some() {
        return None;
    }
    // 54 Ω across leave this much to the bias beside two terminators of 120 Ω.
    let least = 1.0 / (1.0 / DRIVER_LOAD.value - 2.0 / TERMINATOR.value) / 2.0;
    let with = |beside: f64| Bias { port, leg: Ohms(own.0 * beside / (own.0 + beside)), beside: Ohms(beside) };
    let works = |bias: &Bias| {
        let mut changed = layout.clone();
        if let Some(port) = changed.ports.get_mut(port) {
            port.bias = Some((bias.leg, supply));
        }
        idle::of(&changed).is_some_and(|idle| idle.worst().1 >= THRESHOLD.value)
    };
    // From 910 kΩ down to 10 Ω: the bias only grows, so the first that works is found by halving.
    let decades = [1e4, 1e3, 1e2, 1e1, 1.0].into_iter();
    let values: Vec<Bias> =
        decades.flat_map(|decade| E24.iter().rev().map(move |digits| with(f64::from(*digits) * decade))).collect();
    let first = values.partition_point(|bias| !works(bias));
    values.get(first).copied().filter(|bias| bias.leg.0 >= least)
}

//! Two conductors of a run, out and back: of its own cable, or of the cable that it shares (`along=`).
//!
//! A cable has one type, one length and one temperature, so a run that shares a cable takes all three from the run that
//! the cable belongs to. Where it says otherwise, that is for a check to find.

use super::ambient::{self, Ambient};
use super::conductor;
use super::spread::Spread;
use crate::model::{Run, Site};
use crate::quantity::{Metres, OhmsPerMetre, WireSize};
use crate::terms::Metal;

/// The run whose cable a run lies in: the one it names with `along=`, else itself.
pub(crate) fn carrier<'s>(site: &'s Site, run: &'s Run) -> &'s Run {
    run.along.as_ref().map_or(run, |host| &site.runs[host.value])
}

/// What the resistance of two conductors of a run follows from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pair {
    /// Size of a conductor; `None` where nobody knows it.
    pub(crate) size: Option<WireSize>,
    /// Whether it is stranded.
    pub(crate) stranded: bool,
    /// What it is made of.
    pub(crate) metal: Metal,
    /// The most that a conductor has at 20 °C, where the cable's sheet says so.
    pub(crate) sheet: Option<OhmsPerMetre>,
    /// Length of the cable, one way.
    pub(crate) length: Metres,
    /// Its temperatures.
    pub(crate) ambient: Ambient,
}

impl Pair {
    /// The pair of a run; `None` where its cable or its length was reported.
    pub(crate) fn of_run(site: &Site, run: &Run) -> Option<Self> {
        let carrier = carrier(site, run);
        let cable = &site.cables[carrier.cable.as_ref()?.value];
        Some(Self {
            size: cable.size,
            stranded: cable.stranded,
            metal: cable.metal.value,
            sheet: cable.resistance.as_ref().map(|most| most.value),
            length: carrier.length.as_ref()?.value,
            ambient: ambient::of_run(site, carrier),
        })
    }

    /// The same way with copper conductors of another size, whose sheet is not known.
    #[must_use]
    pub(crate) fn resized(self, size: WireSize) -> Self {
        if Some(size) == self.size {
            self
        } else {
            Self { size: Some(size), metal: Metal::Copper, sheet: None, ..self }
        }
    }

    /// Resistance of both, one after the other, in ohm: cold, at the usual temperature, and hot with the most that
    /// the sheet or the standard lets a conductor have.
    pub(crate) fn ohms(self) -> Spread {
        let per_metre = match self.size {
            Some(size) => conductor::per_metre(size, self.stranded, self.metal, self.sheet),
            None => conductor::of_unknown_size(self.stranded, self.metal, self.sheet),
        };
        let at = |ohms: f64, temperature| 2.0 * self.length.0 * ohms * conductor::factor(temperature);
        Spread {
            least: at(per_metre.least, self.ambient.cold),
            nominal: at(per_metre.nominal, self.ambient.usual),
            greatest: at(per_metre.greatest, self.ambient.hot),
        }
    }
}

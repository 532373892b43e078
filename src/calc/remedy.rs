//! What would remedy a loop: a shorter cable, other resistors.
//!
//! A length is looked for by the reading at rest alone. A resistor is looked for in every state: one that brings the
//! loop to rest and hides an alarm is worse than the wrong one. What is asked of each state is for the caller to say.

use crate::base::Id;
use crate::model::{Device, Sensing, Site};
use crate::quantity::preferred::Series;
use crate::quantity::{Metres, Ohms, Resistance};
use crate::terms::{BandName, ContactForm};

use super::band::{self, Reading, Verdict};
use super::loops::{self, LEAKAGE, LoopReadings, StateReading, runs};
use super::network::{self, Element, Network, Which};
use super::spread::{Spread, parallel};
use super::state::State;

/// Powers of ten of the decades in which a resistor is looked for: 10 Ω to 100 kΩ.
const DECADES: std::ops::Range<i32> = 1..5;

/// Values in place of those that a loop has; `None` leaves them as they are.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Change {
    /// For every resistor of the loop.
    pub(crate) resistors: Option<Resistance>,
    /// For every resistor across a contact.
    pub(crate) shunts: Option<Resistance>,
}

/// What is asked of a reading, given what the board makes of a cut cable.
pub(crate) type Fits<'f> = &'f dyn Fn(&StateReading, Option<Verdict>) -> bool;

/// How a changed loop reads at rest.
pub(crate) fn at_rest(site: &Site, sensing: &Sensing, network: &Network) -> Reading {
    let ohms = network.resistance(&State::Normal, &|device, which| {
        let contact = match which {
            Which::Alarm => network::contact(site, device),
            Which::Cover => network::cover(site, device),
        };
        contact.map(|contact| contact.0) == Some(ContactForm::NormallyClosed)
    });
    let ohms = Spread { least: parallel(ohms.least, LEAKAGE), ..ohms };
    band::judge(sensing, ohms, band::voltage(sensing, ohms))
}

fn is_normal(reading: &Reading) -> bool {
    reading.verdict == Verdict::Reads(BandName::Normal)
}

/// The length of all cables of a loop.
pub(crate) fn length(site: &Site, network: &Network) -> Metres {
    runs(network).into_iter().filter_map(|run| site.runs[run].length.as_ref()).map(|length| length.value).sum()
}

/// The greatest length of all cables together, shortened alike, with which the loop is normal at rest; `None` where
/// no length is short enough.
pub(crate) fn longest(site: &Site, sensing: &Sensing, network: &Network) -> Option<Metres> {
    let normal = |share: f64| is_normal(&at_rest(site, sensing, &changed(network, share, Change::default())));
    if !normal(0.0) {
        return None;
    }
    let (mut works, mut fails) = (0.0, 1.0);
    for _ in 0..40 {
        let middle = f64::midpoint(works, fails);
        if normal(middle) {
            works = middle;
        } else {
            fails = middle;
        }
    }
    Some(length(site, network) * works)
}

/// The preferred values (IEC 60063) with which every state fits, with the greatest least margin over all states: of E24 at
/// ±5 %, of E96 at ±1 % where none of those will do; for the resistors alone, else for the shunts alone, else one value
/// for both.
pub(crate) fn best(site: &Site, sensing: &Sensing, readings: &LoopReadings, fits: Fits<'_>) -> Option<Change> {
    let search = Search::new(site, sensing, readings, fits);
    let network = &readings.network;
    let resistor = holds(network, &|element| matches!(element, Element::Resistor(_)));
    let shunt = holds(network, &|element| matches!(element, Element::Shunt(_)));
    let kinds = [(RESISTORS, resistor), (SHUNTS, shunt), (BOTH, resistor && shunt)];
    search.run(network, kinds.into_iter().filter(|kind| kind.1).map(|kind| kind.0))
}

/// The resistor for a loop that has none, put where the loop ends; with other shunts where it takes those too.
pub(crate) fn with_resistor(site: &Site, sensing: &Sensing, readings: &LoopReadings, fits: Fits<'_>) -> Option<Change> {
    let search = Search::new(site, sensing, readings, fits);
    let network = ended(&readings.network, readings.across);
    let shunt = holds(&network, &|element| matches!(element, Element::Shunt(_)));
    search.run(&network, std::iter::once(RESISTORS).chain(shunt.then_some(BOTH)))
}

/// A way to put one value into a loop.
type Kind = fn(Resistance) -> Change;

const RESISTORS: Kind = |value| Change { resistors: Some(value), shunts: None };
const SHUNTS: Kind = |value| Change { resistors: None, shunts: Some(value) };
const BOTH: Kind = |value| Change { resistors: Some(value), shunts: Some(value) };

struct Search<'r> {
    site: &'r Site,
    sensing: &'r Sensing,
    devices: Vec<Id<Device>>,
    /// The first run that can be cut.
    cut: Option<State>,
    /// The states, those first that most values fail at.
    states: Vec<State>,
    fits: Fits<'r>,
}

impl<'r> Search<'r> {
    fn new(site: &'r Site, sensing: &'r Sensing, readings: &LoopReadings, fits: Fits<'r>) -> Self {
        let mut states: Vec<State> = readings.states.iter().map(|reading| reading.state).collect();
        states.sort_by_key(|state| !matches!(state, State::Normal | State::AllAlarms));
        Self {
            site,
            sensing,
            devices: network::devices(site, readings.zone).collect(),
            cut: states.iter().copied().find(|state| matches!(state, State::Cut(_))),
            states,
            fits,
        }
    }

    fn run(&self, network: &Network, kinds: impl Iterator<Item = Kind> + Clone) -> Option<Change> {
        [Series::E24, Series::E96].into_iter().find_map(|series| {
            kinds.clone().find_map(|kind| {
                values(series)
                    .map(kind)
                    .filter_map(|change| Some((self.margin(&changed(network, 1.0, change))?, change)))
                    .max_by(|(one, _), (other, _)| one.total_cmp(other))
                    .map(|(_, change)| change)
            })
        })
    }

    /// The least margin over all states; `None` where one of them does not fit.
    fn margin(&self, network: &Network) -> Option<f64> {
        let read = |state| loops::read(self.site, network, &self.devices, Some(self.sensing), state);
        let cut = self.cut.map(|state| read(state).reading.verdict);
        self.states.iter().try_fold(f64::INFINITY, |least, state| {
            let reading = read(*state);
            (self.fits)(&reading, cut).then(|| least.min(reading.reading.margin.unwrap_or(f64::INFINITY)))
        })
    }
}

fn holds(network: &Network, wanted: &dyn Fn(&Element) -> bool) -> bool {
    match network {
        Network::Element(element, _) => wanted(element),
        Network::Series(parts) | Network::Parallel(parts) => parts.iter().any(|part| holds(part, wanted)),
        Network::Run(_, _, behind) => holds(behind, wanted),
        Network::Joined | Network::Open => false,
    }
}

/// The same network with a resistor where it ends: behind everything in series, or across the pair at the last place.
fn ended(network: &Network, across: bool) -> Network {
    let resistor = || Network::Element(Element::Resistor(0), Spread::SHORT);
    let last = |parts: &[Network]| {
        let mut parts = parts.to_vec();
        if let Some(end) = parts.pop() {
            parts.push(ended(&end, across));
        }
        parts
    };
    let shunted = |parts: &[Network]| matches!(parts.last(), Some(Network::Element(Element::Shunt(_), _)));
    match network {
        Network::Joined | Network::Open => resistor(),
        Network::Run(run, wire, behind) => Network::Run(*run, *wire, Box::new(ended(behind, across))),
        Network::Parallel(parts) if !shunted(parts) => Network::Parallel(last(parts)),
        Network::Series(parts) => Network::Series(last(parts)),
        other if across => Network::Parallel(vec![other.clone(), resistor()]),
        other => Network::Series(vec![other.clone(), resistor()]),
    }
}

fn values(series: Series) -> impl Iterator<Item = Resistance> {
    let digits = match series {
        Series::E24 => 1,
        Series::E96 => 2,
    };
    DECADES.flat_map(move |decade| {
        let factor = 10_f64.powi(decade - digits);
        series.values().iter().map(move |value| Resistance::new(Ohms(f64::from(*value) * factor)))
    })
}

/// The same network with its wires shortened to a share, and its resistors replaced where a value is given.
fn changed(network: &Network, share: f64, change: Change) -> Network {
    let all = |parts: &[Network]| parts.iter().map(|part| changed(part, share, change)).collect();
    let put = |value: Option<Resistance>, spread: Spread| {
        value.map_or(spread, |value| Spread::tolerance(value.nominal.0, value.tolerance.0))
    };
    match network {
        Network::Element(element @ Element::Resistor(_), spread) => {
            Network::Element(element.clone(), put(change.resistors, *spread))
        }
        Network::Element(element @ Element::Shunt(_), spread) => {
            Network::Element(element.clone(), put(change.shunts, *spread))
        }
        Network::Series(parts) => Network::Series(all(parts)),
        Network::Parallel(parts) => Network::Parallel(all(parts)),
        Network::Run(run, wire, behind) => {
            Network::Run(*run, wire.map(|ohms| ohms * share), Box::new(changed(behind, share, change)))
        }
        other => other.clone(),
    }
}

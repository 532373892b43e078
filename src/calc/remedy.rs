//! What would remedy a loop: a shorter cable, other resistors.
//!
//! A length is looked for by the reading at rest alone. A resistor is looked for in every state: one that brings the
//! loop to rest and hides an alarm is worse than the wrong one. What is asked of each state is for the caller to say.

use std::sync::LazyLock;

use crate::base::Id;
use crate::model::{Device, Sensing, Site};
use crate::quantity::preferred::Series;
use crate::quantity::{Metres, Ohms, Ratio, Resistance};
use crate::terms::BandName;

use super::band::{Reading, Verdict};
use super::loops::{self, LoopReadings, StateReading, runs};
use super::network::{self, Element, Network};
use super::spread::{Spread, border};
use super::state::State;

/// Powers of ten of the decades in which a resistor is looked for: 10 Ω to 100 kΩ.
const DECADES: std::ops::Range<i32> = 1..5;

/// How many of a loop's resistors are tried as the one that stays.
const MOST_TRIED: usize = 50;

/// Values in place of those that a loop has; `None` leaves them as they are.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Change {
    /// The one resistor that stays, by its position among the loop's; the others are taken out.
    pub keep: Option<usize>,
    /// For every resistor of the loop.
    pub(crate) resistors: Option<Resistance>,
    /// For every resistor across a contact.
    pub(crate) shunts: Option<Resistance>,
}

/// How many resistors are tried with every shunt.
const MOST_RESTING: usize = 12;

/// What is asked of a reading, given what the board makes of a cut cable.
pub(crate) type Fits<'f> = &'f dyn Fn(&StateReading, Option<Verdict>) -> bool;

/// How a changed loop reads at rest.
pub(crate) fn at_rest(site: &Site, sensing: &Sensing, network: &Network) -> Reading {
    loops::read(site, network, &[], Some(sensing), State::Normal).reading
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
    let normal = |share: f64| is_normal(&at_rest(site, sensing, &shortened(network, share)));
    if !normal(0.0) {
        return None;
    }
    Some(length(site, network) * border(0.0, 1.0, normal))
}

/// Lists of values to try, one after the other. Of a list, the value with the greatest least margin over all states is taken.
pub(crate) type Lists = Vec<Vec<Resistance>>;

/// The preferred values (IEC 60063): E24 at ±5 %, then E96 at ±1 %.
pub(crate) fn preferred() -> &'static Lists {
    static PREFERRED: LazyLock<Lists> =
        LazyLock::new(|| [Series::E24, Series::E96].map(|series| values(series).collect()).into());
    &PREFERRED
}

/// A way to put one value into a loop.
type Kind = fn(Resistance) -> Change;

const RESISTORS: Kind = |value| Change { keep: None, resistors: Some(value), shunts: None };
const SHUNTS: Kind = |value| Change { keep: None, resistors: None, shunts: Some(value) };
const BOTH: Kind = |value| Change { keep: None, resistors: Some(value), shunts: Some(value) };

/// A search for values with which every state of a loop reads as is asked.
pub(crate) struct Search<'r> {
    site: &'r Site,
    sensing: &'r Sensing,
    readings: &'r LoopReadings,
    devices: Vec<Id<Device>>,
    /// The first run that can be cut.
    cut: Option<State>,
    /// The states, those first that most values fail at.
    states: Vec<State>,
}

impl<'r> Search<'r> {
    /// The search for a loop.
    pub(crate) fn new(site: &'r Site, sensing: &'r Sensing, readings: &'r LoopReadings) -> Self {
        let mut states: Vec<State> = readings.states.iter().map(|reading| reading.state).collect();
        states.sort_by_key(|state| !matches!(state, State::Normal | State::AllAlarms));
        Self {
            site,
            sensing,
            readings,
            devices: network::devices(site, readings.zone).collect(),
            cut: states.iter().copied().find(|state| matches!(state, State::Cut(_))),
            states,
        }
    }

    /// The change with which every state fits: of the resistors alone, else of the shunts alone, else one value for both, else
    /// one for each.
    pub(crate) fn best(&self, lists: &Lists, fits: Fits<'_>) -> Option<Change> {
        let network = &self.readings.network;
        let resistor = holds(network, &|element| matches!(element, Element::Resistor(_)));
        let shunt = holds(network, &|element| matches!(element, Element::Shunt(_)));
        let kinds = [(RESISTORS, resistor), (SHUNTS, shunt), (BOTH, resistor && shunt)];
        let one = self.run(network, lists, fits, kinds.into_iter().filter(|kind| kind.1).map(|kind| kind.0));
        one.or_else(|| (resistor && shunt).then(|| self.pair(network, lists, fits)).flatten())
    }

    /// A value for the resistors and another for the shunts, of the first list that has several. To keep that short, only
    /// those resistors are tried with which the loop is at rest with the shunts that it has, and of very many the
    /// [`MOST_RESTING`] that rest best: closed contacts bridge their shunts.
    fn pair(&self, network: &Network, lists: &Lists, fits: Fits<'_>) -> Option<Change> {
        let values = lists.iter().find(|values| values.len() > 1)?;
        let rests = |value| {
            let changed = replaced(network, RESISTORS(value));
            let rest = loops::read(self.site, &changed, &self.devices, Some(self.sensing), State::Normal);
            fits(&rest, None).then(|| (rest.reading.margin.unwrap_or(f64::INFINITY), value))
        };
        let mut resting: Vec<(f64, Resistance)> = values.iter().copied().filter_map(rests).collect();
        resting.sort_by(|(one, _), (other, _)| other.total_cmp(one));
        let pairs = resting.into_iter().take(MOST_RESTING).flat_map(|(_, resistors)| {
            let with = move |shunts: &Resistance| Change { resistors: Some(resistors), ..SHUNTS(*shunts) };
            values.iter().map(with)
        });
        pairs
            .filter_map(|change| Some((self.margin(&replaced(network, change), fits)?, change)))
            .max_by(|(one, _), (other, _)| one.total_cmp(other))
            .map(|(_, change)| change)
    }

    /// The one resistor of several that may stay alone so that every state fits, as it is or with a value of the lists:
    /// the last of them, because what is behind it is not supervised. Of very many the last ones are tried.
    pub(crate) fn alone(&self, lists: &Lists, fits: Fits<'_>) -> Option<Change> {
        let number = network::resistors(self.site, self.readings.zone).len();
        let network = |keep| only(&self.readings.network, keep, self.readings.across);
        let mut places = (0..number).rev().filter(|_| number > 1).take(MOST_TRIED);
        let as_it_is = places.clone().find(|keep| self.margin(&network(*keep), fits).is_some());
        as_it_is.map(|keep| Change { keep: Some(keep), ..Change::default() }).or_else(|| {
            places.find_map(|keep| {
                let change = self.run(&network(keep), lists, fits, std::iter::once(RESISTORS))?;
                Some(Change { keep: Some(keep), ..change })
            })
        })
    }

    /// The resistor for a loop that has none, put where the loop ends; with other shunts where it takes those too.
    pub(crate) fn with_resistor(&self, lists: &Lists, fits: Fits<'_>) -> Option<Change> {
        let network = ended(&self.readings.network, self.readings.across);
        let shunt = holds(&network, &|element| matches!(element, Element::Shunt(_)));
        self.run(&network, lists, fits, std::iter::once(RESISTORS).chain(shunt.then_some(BOTH)))
    }

    fn run(
        &self,
        network: &Network,
        lists: &Lists,
        fits: Fits<'_>,
        kinds: impl Iterator<Item = Kind> + Clone,
    ) -> Option<Change> {
        lists.iter().find_map(|values| {
            kinds.clone().find_map(|kind| {
                let changes = values.iter().copied().map(kind);
                changes
                    .filter_map(|change| Some((self.margin(&replaced(network, change), fits)?, change)))
                    .max_by(|(one, _), (other, _)| one.total_cmp(other))
                    .map(|(_, change)| change)
            })
        })
    }

    /// The least margin over all states; `None` where one of them does not fit.
    fn margin(&self, network: &Network, fits: Fits<'_>) -> Option<f64> {
        let read = |state| loops::read(self.site, network, &self.devices, Some(self.sensing), state);
        let cut = self.cut.map(|state| read(state).reading.verdict);
        self.states.iter().try_fold(f64::INFINITY, |least, state| {
            let reading = read(*state);
            fits(&reading, cut).then(|| least.min(reading.reading.margin.unwrap_or(f64::INFINITY)))
        })
    }
}

fn holds(network: &Network, wanted: &dyn Fn(&Element) -> bool) -> bool {
    network.has(&|part| matches!(part, Network::Element(element, _) if wanted(element)))
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
        other @ (Network::Element(..) | Network::Parallel(_)) => {
            let both = vec![other.clone(), resistor()];
            if across { Network::Parallel(both) } else { Network::Series(both) }
        }
    }
}

fn values(series: Series) -> impl Iterator<Item = Resistance> {
    let (digits, tolerance) = match series {
        Series::E24 => (1, 0.05),
        Series::E96 => (2, 0.01),
    };
    DECADES.flat_map(move |decade| {
        let factor = 10_f64.powi(decade - digits);
        series
            .values()
            .iter()
            .map(move |value| Resistance::new(Ohms(f64::from(*value) * factor)).with_tolerance(Ratio(tolerance)))
    })
}

/// The same network with its wires shortened to a share.
fn shortened(network: &Network, share: f64) -> Network {
    changed(network, &|_, spread| spread, &|wire| wire.map(|ohms| ohms * share))
}

/// The same network with its resistors replaced where a value is given.
fn replaced(network: &Network, change: Change) -> Network {
    let put = |value: Option<Resistance>, spread: Spread| {
        value.map_or(spread, |value| Spread::tolerance(value.nominal.0, value.tolerance.0))
    };
    let element = |element: &Element, spread| match element {
        Element::Resistor(_) => put(change.resistors, spread),
        Element::Shunt(_) => put(change.shunts, spread),
        Element::Wire(_) | Element::Contact(..) | Element::Detector(_) => spread,
    };
    changed(network, &element, &|wire| wire)
}

/// The same network with one of its resistors only: the pair goes on past where the others were.
fn only(network: &Network, keep: usize, across: bool) -> Network {
    let gone = if across { Network::Open } else { Network::Joined };
    network.replaced(&|part| {
        let other = matches!(part, Network::Element(Element::Resistor(position), _) if *position != keep);
        other.then(|| gone.clone())
    })
}

/// The same network with other spreads of its elements and wires.
fn changed(
    network: &Network,
    element: &dyn Fn(&Element, Spread) -> Spread,
    wire: &dyn Fn(Spread) -> Spread,
) -> Network {
    let all = |parts: &[Network]| parts.iter().map(|part| changed(part, element, wire)).collect();
    match network {
        Network::Element(of, spread) => Network::Element(of.clone(), element(of, *spread)),
        Network::Series(parts) => Network::Series(all(parts)),
        Network::Parallel(parts) => Network::Parallel(all(parts)),
        Network::Run(run, ohms, behind) => Network::Run(*run, wire(*ohms), Box::new(changed(behind, element, wire))),
        Network::Joined | Network::Open => network.clone(),
    }
}

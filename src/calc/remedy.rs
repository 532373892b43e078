//! What would bring a loop at rest into its band: a shorter cable, another resistor.

use crate::model::{Sensing, Site};
use crate::quantity::preferred::Series;
use crate::quantity::{Metres, Ohms, Resistance};
use crate::schema::words::{BandName, ContactForm};

use super::band::{self, Reading, Verdict};
use super::loops::{LEAKAGE, LoopReadings, runs};
use super::network::{self, Element, Network, Which};
use super::spread::{Spread, parallel};
use super::state::State;

/// Powers of ten of the decades in which a resistor is looked for: 10 Ω to 100 kΩ.
const DECADES: std::ops::Range<i32> = 1..5;

/// How a changed loop reads at rest.
pub fn at_rest(site: &Site, sensing: &Sensing, network: &Network) -> Reading {
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
pub fn length(site: &Site, network: &Network) -> Metres {
    runs(network).into_iter().filter_map(|run| site.runs[run].length.as_ref()).map(|length| length.value).sum()
}

/// The greatest length of all cables together, shortened alike, with which the loop is normal at rest; `None` where
/// no length is short enough.
pub fn longest(site: &Site, sensing: &Sensing, network: &Network) -> Option<Metres> {
    let normal = |share: f64| is_normal(&at_rest(site, sensing, &changed(network, share, None)));
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

/// The preferred value (IEC 60063) for every resistor of the loop that leaves most margin at rest: of E24 at ±5 %,
/// of E96 at ±1 % where none of those will do.
pub fn best_resistor(site: &Site, sensing: &Sensing, network: &Network) -> Option<Resistance> {
    [Series::E24, Series::E96].into_iter().find_map(|series| {
        values(series)
            .filter_map(|value| {
                let spread = Spread::tolerance(value.nominal.0, value.tolerance.0);
                let reading = at_rest(site, sensing, &changed(network, 1.0, Some(spread)));
                is_normal(&reading).then(|| (reading.margin.unwrap_or(f64::INFINITY), value))
            })
            .max_by(|(one, _), (other, _)| one.total_cmp(other))
            .map(|(_, value)| value)
    })
}

/// The resistor for a loop that has none, put where the loop ends.
pub fn resistor_for(readings: &LoopReadings, site: &Site, sensing: &Sensing) -> Option<Resistance> {
    let added = Network::Element(Element::Resistor(0), Spread::SHORT);
    let network = if readings.across {
        Network::Parallel(vec![readings.network.clone(), added])
    } else {
        Network::Series(vec![readings.network.clone(), added])
    };
    best_resistor(site, sensing, &network)
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
fn changed(network: &Network, share: f64, resistor: Option<Spread>) -> Network {
    let all = |parts: &[Network]| parts.iter().map(|part| changed(part, share, resistor)).collect();
    match network {
        Network::Element(element @ Element::Resistor(_), spread) => {
            Network::Element(element.clone(), resistor.unwrap_or(*spread))
        }
        Network::Series(parts) => Network::Series(all(parts)),
        Network::Parallel(parts) => Network::Parallel(all(parts)),
        Network::Run(run, wire, behind) => {
            Network::Run(*run, wire.map(|ohms| ohms * share), Box::new(changed(behind, share, resistor)))
        }
        other => other.clone(),
    }
}

//! The state table of a loop: what the meter and the board read in every state and every cable fault.

use crate::base::Id;
use crate::model::{Device, Run, Sensing, Site, Zone};
use crate::schema::words::ContactForm;

use super::band::{self, Reading};
use super::network::{self, Network, Which};
use super::spread::Spread;
use super::state::State;

/// Leakage between the conductors of a loop, at the least that a test of new cable lets pass: 1 MΩ (common practice).
pub const LEAKAGE: f64 = 1e6;

/// The readings of a loop.
#[derive(Clone, Debug)]
pub struct LoopReadings {
    /// The zone.
    pub zone: Id<Zone>,
    /// The network of its loop.
    pub network: Network,
    /// True where everything lies across the pair.
    pub across: bool,
    /// Every state, in the order: at rest, alarms, covers, cable faults by run.
    pub states: Vec<StateReading>,
}

/// What is read in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateReading {
    /// The state.
    pub state: State,
    /// Ohms at the leads, disconnected from the board.
    pub ohms: Spread,
    /// Volts at the terminals; `None` where the board's sensing is not known.
    pub volts: Option<Spread>,
    /// What the board makes of it.
    pub reading: Reading,
}

/// The readings of a zone's loop; `None` where it has none that can be calculated.
pub fn of_zone(site: &Site, zone: Id<Zone>) -> Option<LoopReadings> {
    let wired = site.zones[zone].wired.as_ref()?;
    let network = network::of_zone(site, zone)?;
    let sensing = wired.board.as_ref().and_then(|board| site.part_of(board.value)?.sensing.as_ref());
    let devices: Vec<Id<Device>> = network::devices(site, zone).collect();
    let states = states(site, &devices, &runs(&network))
        .into_iter()
        .map(|state| {
            let ohms = leaking(ohms_in(site, &network, &devices, state));
            let volts = sensing.and_then(|sensing| band::voltage(sensing, ohms));
            StateReading { state, ohms, volts, reading: judge(sensing, ohms, volts) }
        })
        .collect();
    Some(LoopReadings { zone, across: network::lies_across(site, zone), network, states })
}

fn judge(sensing: Option<&Sensing>, ohms: Spread, volts: Option<Spread>) -> Reading {
    match sensing {
        Some(sensing) => band::judge(sensing, ohms, volts),
        None => Reading { verdict: band::Verdict::Unknown, margin: None, in_ohms: false },
    }
}

/// Leakage lies across the leads in the worst case, and is absent in the best.
fn leaking(ohms: Spread) -> Spread {
    Spread { least: super::spread::parallel(ohms.least, LEAKAGE), ..ohms }
}

fn states(site: &Site, devices: &[Id<Device>], runs: &[Id<Run>]) -> Vec<State> {
    let with_contact = devices.iter().copied().filter(|d| network::contact(site, *d).is_some());
    let (watches, alarms): (Vec<Id<Device>>, Vec<Id<Device>>) =
        with_contact.partition(|device| network::watches_supply(site, *device));
    let shunted = alarms.iter().filter(|device| site.devices[**device].shunt.is_some()).count();
    let mut states = vec![State::Normal];
    states.extend(alarms.iter().map(|device| State::Alarm(*device)));
    if shunted == alarms.len() {
        states.extend((2..alarms.len()).map(State::Alarms));
    }
    if alarms.len() > 1 {
        states.push(State::AllAlarms);
    }
    states.extend(devices.iter().filter(|d| network::cover(site, **d).is_some()).map(|device| State::Cover(*device)));
    states.extend(watches.into_iter().map(State::SupplyLost));
    for run in runs {
        states.extend([State::Cut(*run), State::ShortNear(*run), State::ShortFar(*run)]);
    }
    states
}

/// Resistance at the leads in a state.
fn ohms_in(site: &Site, network: &Network, devices: &[Id<Device>], state: State) -> Spread {
    let with = |moved: &[Contact]| network.resistance(&state, &|device, which| is_closed(site, (device, which), moved));
    let small = with(&moved(site, devices, state));
    let State::Alarms(count) = state else { return small };
    // Shunted contacts stand in series, so the extremes are the smallest and the largest shunts.
    let by_shunt = by_shunt(site, devices);
    let large = by_shunt.get(by_shunt.len().saturating_sub(count)..).unwrap_or_default();
    small.hull(with(&in_alarm(large.iter().copied())))
}

/// A contact of a device.
pub type Contact = (Id<Device>, Which);

/// The contacts that are not at rest in a state; where a state is any so many of them, those with the smallest shunts.
pub fn moved(site: &Site, devices: &[Id<Device>], state: State) -> Vec<Contact> {
    match state {
        State::Alarm(one) | State::SupplyLost(one) => vec![(one, Which::Alarm)],
        State::Cover(one) => vec![(one, Which::Cover)],
        State::AllAlarms => in_alarm(by_shunt(site, devices).into_iter()),
        State::Alarms(count) => in_alarm(by_shunt(site, devices).into_iter().take(count)),
        State::Normal | State::Cut(_) | State::ShortNear(_) | State::ShortFar(_) => Vec::new(),
    }
}

/// Whether a contact is closed while those in `moved` are not at rest.
pub fn is_closed(site: &Site, contact: Contact, moved: &[Contact]) -> bool {
    let form = match contact.1 {
        Which::Alarm => network::contact(site, contact.0).map(|c| c.0),
        Which::Cover => network::cover(site, contact.0).map(|c| c.0),
    };
    (form == Some(ContactForm::NormallyClosed)) != moved.contains(&contact)
}

fn in_alarm(devices: impl Iterator<Item = Id<Device>>) -> Vec<Contact> {
    devices.map(|device| (device, Which::Alarm)).collect()
}

/// The devices that can be in alarm, smallest shunt first.
fn by_shunt(site: &Site, devices: &[Id<Device>]) -> Vec<Id<Device>> {
    let mut sorted: Vec<Id<Device>> =
        devices.iter().copied().filter(|device| !network::watches_supply(site, *device)).collect();
    let shunt = |device: Id<Device>| site.devices[device].shunt.as_ref().map_or(0.0, |s| s.value.nominal.0);
    sorted.sort_by(|a, b| shunt(*a).total_cmp(&shunt(*b)));
    sorted
}

/// The runs of a network, from the board outwards.
pub fn runs(network: &Network) -> Vec<Id<Run>> {
    fn walk(network: &Network, found: &mut Vec<Id<Run>>) {
        match network {
            Network::Series(parts) | Network::Parallel(parts) => parts.iter().for_each(|part| walk(part, found)),
            Network::Run(run, _, behind) => {
                found.push(*run);
                walk(behind, found);
            }
            Network::Element(..) | Network::Joined | Network::Open => {}
        }
    }
    let mut found = Vec::new();
    walk(network, &mut found);
    found
}

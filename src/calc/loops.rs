//! The state table of a loop: what the meter and the board read in every state and every cable fault.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Device, Run, Sensing, Site, Zone};
use crate::terms::ContactForm;

use super::band::{self, Reading};
use super::conductor::LEAKAGE;
use super::contacts::{Contact, by_added, in_alarm, is_closed, moved};
use super::network::{self, Element, Network, Which};
use super::spread::Spread;
use super::state::State;
use super::two_wire;

/// The readings of a loop.
#[derive(Clone, Debug)]
pub struct LoopReadings {
    /// The zone.
    pub(crate) zone: Id<Zone>,
    /// The network of its loop.
    pub(crate) network: Network,
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

impl StateReading {
    /// The ohms that a meter can read with the leads off; `None` where a detector that the loop feeds is in alarm, for it
    /// has no supply then.
    pub(crate) fn ohms_with_leads_off(&self, site: &Site, zone: Id<Zone>) -> Option<Spread> {
        let mut fed = site.devices_of(zone).filter(|(device, _)| site.loop_fed(*device).is_some());
        (!fed.any(|(device, _)| self.state.is_alarm_of(device))).then_some(self.ohms)
    }
}

/// The readings of every zone's loop that can be calculated.
pub fn of_site(site: &Site) -> BTreeMap<Id<Zone>, LoopReadings> {
    site.zones.entries().filter_map(|(id, _)| Some((id, of_zone(site, id)?))).collect()
}

/// The readings of a zone's loop; `None` where it has none that can be calculated.
pub fn of_zone(site: &Site, zone: Id<Zone>) -> Option<LoopReadings> {
    of_network(site, zone, network::of_zone(site, zone)?)
}

/// The readings of a zone's loop that is as a network says.
pub(crate) fn of_network(site: &Site, zone: Id<Zone>, network: Network) -> Option<LoopReadings> {
    site.zones[zone].wired.as_ref()?;
    let sensing = site.sensing_of(zone);
    let devices: Vec<Id<Device>> = network::devices(site, zone).collect();
    let series = series_opened(site, &network);
    let mut opened: BTreeMap<usize, StateReading> = BTreeMap::new();
    let read = |state| {
        let read = || read(site, &network, &devices, sensing, state);
        let State::Alarm(device) = state else { return read() };
        let Some(series) = series.get(&device) else { return read() };
        StateReading { state, ..opened.entry(*series).or_insert_with(read).clone() }
    };
    let states = states(site, &devices, &runs(&network)).into_iter().map(read).collect();
    Some(LoopReadings { zone, across: site.lies_across(zone), network, states })
}

/// The contacts that open all that they are in series with, each with the number of that series: whichever of one series
/// opens, the same is read.
fn series_opened(site: &Site, network: &Network) -> BTreeMap<Id<Device>, usize> {
    fn walk(site: &Site, network: &Network, number: &mut usize, found: &mut BTreeMap<Id<Device>, usize>) {
        match network {
            Network::Series(parts) | Network::Parallel(parts) => {
                *number += 1;
                let own = *number;
                for part in parts {
                    if let (Network::Series(_), Network::Element(Element::Contact(device, Which::Alarm), _)) =
                        (network, part)
                        && is_closed(site, (*device, Which::Alarm), &BTreeSet::new())
                    {
                        found.insert(*device, own);
                    }
                    walk(site, part, number, found);
                }
            }
            Network::Run(_, _, behind) => walk(site, behind, number, found),
            Network::Element(..) | Network::Joined | Network::Open => {}
        }
    }
    let mut found = BTreeMap::new();
    walk(site, network, &mut 0, &mut found);
    found
}

/// What is read of a network in one state. `devices` are those of its zone.
pub(crate) fn read(
    site: &Site,
    network: &Network,
    devices: &[Id<Device>],
    sensing: Option<&Sensing>,
    state: State,
) -> StateReading {
    let ohms = leaking(ohms_in(site, network, devices, state));
    let volts = sensing.and_then(|sensing| {
        if two_wire::feeds(network) {
            two_wire::at_terminals(site, network, devices, sensing, state)
        } else {
            band::voltage(sensing, ohms)
        }
    });
    StateReading { state, ohms, volts, reading: judge(sensing, ohms, volts) }
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
    let with_contact = devices.iter().copied().filter(|d| network::can_alarm(site, *d));
    let (watches, alarms): (Vec<Id<Device>>, Vec<Id<Device>>) =
        with_contact.partition(|device| network::watches_supply(site, *device));
    // Only shunted contacts in series add up; their counts are worth a row each.
    let counted = alarms.iter().all(|device| {
        let form = network::contact(site, *device).map(|contact| contact.0);
        site.devices[*device].shunt.is_some() && form == Some(ContactForm::NormallyClosed)
    });
    let mut states = vec![State::Normal];
    states.extend(alarms.iter().map(|device| State::Alarm(*device)));
    if counted {
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
    let with = |moved: &BTreeSet<Contact>| {
        network.resistance(&state, &|device, which| is_closed(site, (device, which), moved))
    };
    let small = with(&moved(site, network, devices, state));
    let State::Alarms(count) = state else { return small };
    // They stand in series, so the extremes are the choices that add least and most; what is nearest to its least need not
    // be the smallest by its marking.
    let least = by_added(site, network, devices, |spread| spread.least).into_iter().take(count);
    let most = by_added(site, network, devices, |spread| spread.greatest).into_iter().rev().take(count);
    small.hull(with(&in_alarm(least))).hull(with(&in_alarm(most)))
}

/// The runs of a network, from the board outwards.
pub(crate) fn runs(network: &Network) -> Vec<Id<Run>> {
    let run = |part: &Network| if let Network::Run(run, ..) = part { Some(*run) } else { None };
    network.parts().filter_map(run).collect()
}

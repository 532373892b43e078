//! The cable faults that a board takes for a loop at rest, and the contacts that each of them keeps from it.

use crate::base::Id;
use crate::model::{Device, Run};
use crate::terms::BandName;

use super::band::Verdict;
use super::loops::{LoopReadings, StateReading};
use super::network::{Element, Network, Which};
use super::state::{Damage, State};

/// A cable with a fault that reads normal, or may.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Unseen {
    /// The cable.
    pub(crate) run: Id<Run>,
    /// True where it is so when it is cut.
    pub(crate) cut: bool,
    /// True where it is so when its conductors touch, at one end or both.
    pub(crate) shorted: bool,
    /// True where one of these reads normal for certain.
    pub(crate) certain: bool,
    /// The contacts that stand behind it: none of them is seen then.
    pub(crate) hidden: Vec<Id<Device>>,
}

/// The cables of a loop with a fault that is not seen, from the board outwards.
pub(crate) fn of(readings: &LoopReadings) -> Vec<Unseen> {
    let mut found: Vec<Unseen> = Vec::new();
    for reading in readings.states.iter().filter(|reading| may_rest(readings, reading)) {
        let Some((run, damage)) = reading.state.damage() else { continue };
        let known = found.iter().position(|unseen| unseen.run == run).unwrap_or_else(|| {
            let hidden = behind(&readings.network, run);
            found.push(Unseen { run, cut: false, shorted: false, certain: false, hidden });
            found.len() - 1
        });
        let Some(unseen) = found.get_mut(known) else { continue };
        match damage {
            Damage::Cut => unseen.cut = true,
            Damage::ShortNear | Damage::ShortFar => unseen.shorted = true,
        }
        unseen.certain |= rests(reading);
    }
    found
}

/// True where a board takes a state for a loop at rest, or may. Nobody knows how some boards read; but whatever band takes the
/// loop at rest takes what reads the same.
pub(crate) fn may_rest(readings: &LoopReadings, reading: &StateReading) -> bool {
    if reading.reading.verdict != Verdict::Unknown {
        return reading.reading.verdict.may_be(BandName::Normal);
    }
    let rest = readings.states.first().filter(|rest| rest.state == State::Normal).map(|rest| rest.ohms);
    rest.is_some_and(|rest| rest.nominal.is_finite() && (rest.least..=rest.greatest).contains(&reading.ohms.nominal))
}

/// The same where it is certain, of a state that may be taken for a loop at rest.
pub(crate) fn rests(reading: &StateReading) -> bool {
    matches!(reading.reading.verdict, Verdict::Reads(BandName::Normal) | Verdict::Unknown)
}

/// The devices whose alarm contacts stand behind a run.
fn behind(network: &Network, run: Id<Run>) -> Vec<Id<Device>> {
    let behind = network.parts().find_map(|part| {
        if let Network::Run(this, _, behind) = part { (*this == run).then_some(behind) } else { None }
    });
    let device = |part: &Network| {
        if let Network::Element(Element::Contact(device, Which::Alarm) | Element::Detector(device), _) = part {
            Some(*device)
        } else {
            None
        }
    };
    behind.into_iter().flat_map(|behind| behind.parts()).filter_map(device).collect()
}

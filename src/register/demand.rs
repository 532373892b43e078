//! What each run must carry: loop pair, supply pairs, dry contact, bus, telephone line, network, antenna.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::model::{Mounted, OutputRef, Owner, Run, Site};
use crate::profiles::connectors;
use crate::terms::{JackKind, Path, Side, Use};

use super::wiring::Function;

/// A function that a run needs a conductor for, with the kind of conductor that it takes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Demand {
    /// The run that needs it.
    pub(crate) run: Id<Run>,
    /// What the conductor will do.
    pub(crate) function: Function,
    /// The use by which a cable type marks such a conductor.
    pub(crate) takes: Use,
    /// The colour that a standard gives it.
    pub(crate) colour: Option<&'static str>,
}

/// The pins of a network plug, pair by pair, so that a cable whose type lists its conductors by pairs keeps each pair
/// together: IEEE 802.3 uses 1 with 2 and 3 with 6 for 100 Mbit/s, and 4 with 5 and 7 with 8 as well for more.
const NETWORK_PINS: [u8; 8] = [1, 2, 3, 6, 4, 5, 7, 8];

/// The functions of one run, in the order in which conductors are given out.
pub(crate) fn of_run(site: &Site, run: Id<Run>) -> Vec<Demand> {
    let demand = |function, takes| Demand { run, function, takes, colour: None };
    let pairs = |positive, negative| -> Vec<Demand> {
        let pair = [demand(positive, Use::SupplyPositive), demand(negative, Use::SupplyNegative)];
        (0..site.runs[run].pairs).flat_map(|_| pair).collect()
    };
    let mut demands = match site.runs[run].owner {
        Owner::Zone(zone) => {
            let mut demands = Vec::new();
            for output in supplies_beyond(site, run) {
                demands.extend(pairs(Function::SupplyPositive(output), Function::SupplyNegative(output)));
            }
            let pair = [Function::LoopOut(zone), Function::LoopBack(zone)];
            // A conductor that is marked or first for the positive goes to the positive terminal.
            let swapped = site.positive_side(zone) == Some(Side::Return);
            let pair = if swapped { [Function::LoopBack(zone), Function::LoopOut(zone)] } else { pair };
            demands.extend(pair.map(|function| demand(function, Use::Loop)));
            demands
        }
        Owner::Bus(_) => {
            let mut demands = pairs(Function::BusPlus, Function::BusMinus);
            demands.push(demand(Function::BusA, Use::BusA));
            demands.push(demand(Function::BusB, Use::BusB));
            demands
        }
        Owner::Circuit(circuit) => match &site.circuits[circuit].feed {
            Some(feed) => pairs(Function::SupplyPositive(feed.value), Function::SupplyNegative(feed.value)),
            None if site.circuits[circuit].switching.as_ref().is_some_and(|switching| switching.dry) => {
                [Function::ContactCommon, Function::ContactSwitched].map(|wire| demand(wire, Use::Loop)).to_vec()
            }
            None => Vec::new(),
        },
        Owner::Transformer(_) => {
            let pair = [demand(Function::AcA, Use::Ac), demand(Function::AcB, Use::Ac)];
            (0..site.runs[run].pairs).flat_map(|_| pair).collect()
        }
        Owner::Spare(_) => Vec::new(),
        Owner::Communicator(line) => match site.communicators[line].path.as_ref().map(|path| path.value) {
            Some(Path::Telephone) => {
                let mut demands =
                    vec![demand(Function::LineInTip, Use::LineIn), demand(Function::LineInRing, Use::LineIn)];
                let port = site.communicators[line].port;
                let returns = port.and_then(|(board, port)| site.part_of(board)?.line_ports.get(port));
                // A bridged jack has no positions for what goes on to the house phones. Where the jack is not said, a cable
                // of one pair is for such a one.
                let goes_on = match site.communicators[line].jack {
                    Some(JackKind::LineSeizure) => true,
                    Some(JackKind::Bridged) => false,
                    None => site.runs[run].cable.as_ref().is_none_or(|kind| site.cables[kind.value].size() >= 4),
                };
                if goes_on && returns.is_some_and(|port| port.out_tip.is_some()) {
                    demands.push(demand(Function::LineOutTip, Use::LineOut));
                    demands.push(demand(Function::LineOutRing, Use::LineOut));
                }
                demands
            }
            Some(Path::Internet) => {
                let has = site.runs[run].cable.as_ref().map_or(0, |kind| site.cables[kind.value].size());
                let pins =
                    if has < NETWORK_PINS.len() { NETWORK_PINS.iter().take(4) } else { NETWORK_PINS.iter().take(8) };
                let order = site.communicators[line].pin_order.as_ref().map(|order| order.value);
                let colour = |pin: u8| Some(connectors::pin(order?, pin)?.1);
                pins.map(|pin| Demand { colour: colour(*pin), ..demand(Function::Network(*pin), Use::Network) })
                    .collect()
            }
            Some(Path::Radio) => {
                [Function::AntennaCore, Function::AntennaScreen].map(|wire| demand(wire, Use::Antenna)).to_vec()
            }
            None => Vec::new(),
        },
    };
    for (nth, reserve) in site.runs[run].reserved.iter().enumerate() {
        let kept = (0..reserve.conductors).map(|_| demand(Function::Reserved(nth), Use::Spare));
        demands.extend(kept);
    }
    demands
}

/// The outputs whose supply must pass a run: those of the devices at its far end and of all beyond it. A supply for a
/// part that is known to need none takes no conductors.
fn supplies_beyond(site: &Site, run: Id<Run>) -> BTreeSet<OutputRef> {
    let mut outputs = BTreeSet::new();
    for device in site.runs[run].mounted.iter().filter_map(Mounted::device) {
        let useless = site.device_part(device).is_some_and(|part| part.whole && part.supply.is_none());
        outputs.extend(site.devices[device].supply.as_ref().filter(|_| !useless).map(|supply| supply.value));
    }
    for (next, _) in site.runs_after(run) {
        outputs.extend(supplies_beyond(site, next));
    }
    outputs
}

//! What is wrong first with each supply, so that one cause gives one finding.
//!
//! Where a sounder hangs on a supply that is always on, or a detector on one that is not, currents and volts mean
//! nothing yet; where the wire cannot carry what is asked there are no volts, and of the current only what the sheets say,
//! which may be past the limit as well; and of an overloaded supply nobody asks how little is left. The stages are therefore looked at in the order of [`Stage`]. Out of scope: words.

use std::ops::Range;

use crate::calc::power::judge::Overload;
use crate::calc::power::{self, suits};
use crate::calc::power::{Case, Collapse, Consumer, Feeding, Load, Tree};
use crate::checks::Context;
use crate::model::{Circuit, DeviceKind, Output, Site, Source};
use crate::quantity::{Amperes, Volts};
use crate::terms::{SwitchContact, When, Works};

/// How far a supply can be judged.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Stage {
    /// Part of it was reported.
    Broken,
    /// Something hangs on an output that is on at the wrong time.
    Misplaced,
    /// No solution.
    Collapsed(Case, Collapse),
    /// More current than a limit.
    Overloaded,
    /// Volts and currents can be judged.
    Open,
}

/// The stage of a supply.
pub(crate) fn stage(site: &Site, feeding: &Feeding) -> Stage {
    let misplaced = |(node, load): (usize, &Load)| {
        let output = output_of(site, &feeding.tree, node);
        output
            .is_some_and(|output| sounds_always(site, (&feeding.tree, node), load, output) || rests(site, load, output))
    };
    if !feeding.tree.whole {
        Stage::Broken
    } else if feeding.tree.loads().any(misplaced) {
        Stage::Misplaced
    } else if out_of_range(feeding).is_some() {
        // A slip of one device's current, which its cable then cannot carry either.
        Stage::Overloaded
    } else if let Some((case, collapse)) = feeding.collapse() {
        Stage::Collapsed(case, collapse)
    } else if feeding.overloads().next().is_some() {
        Stage::Overloaded
    } else {
        Stage::Open
    }
}

/// The branches of a supply that have no solution, each with the first case that fails; and the supply with the others alone,
/// which get the same volts whatever hangs beside them. `None` where none is left.
pub(crate) fn collapsed(site: &Site, feeding: &Feeding) -> (Vec<(Case, Range<usize>)>, Option<Feeding>) {
    let (mut failing, mut carried) = (Vec::new(), Vec::new());
    for branch in feeding.tree.branches() {
        let alone = power::feeding::feeding(site, feeding.tree.only(std::slice::from_ref(&branch)));
        match alone.collapse() {
            Some((case, _)) => failing.push((case, branch)),
            None => carried.push(branch),
        }
    }
    let rest = (!carried.is_empty()).then(|| power::feeding::feeding(site, feeding.tree.only(&carried)));
    (failing, rest)
}

/// The output that feeds a node; `None` where it is a bus port.
pub(crate) fn output_of<'s>(site: &'s Site, tree: &Tree, node: usize) -> Option<&'s Output> {
    match tree.outlet_of(node) {
        Source::Output(output) => site.output(output),
        Source::Port(..) => None,
    }
}

fn is_sounder(site: &Site, load: &Load) -> bool {
    matches!(load.consumer, Consumer::Device(id) if site.devices[id].kind == DeviceKind::Sounder)
}

/// True for a lamp that flashes in an alarm.
pub(crate) fn is_strobe(site: &Site, load: &Load) -> bool {
    let works = |id| site.device_part(id).is_some_and(|part| part.works == Some(Works::Strobe));
    matches!(load.consumer, Consumer::Device(id) if works(id))
}

/// True for a sounder or strobe on an output that is always on, without a relay or transistor between them that gives it its supply
/// later than by arming.
pub(crate) fn sounds_always(site: &Site, (tree, node): (&Tree, usize), load: &Load, output: &Output) -> bool {
    // What a break contact does in an alarm, and to a siren's own battery, is told by other rules.
    let waits = |circuit: &Circuit| {
        let switching = circuit.switching.as_ref();
        let makes = switching.is_some_and(|switching| switching.contact == SwitchContact::Make);
        let told = charges(site, load) && switching.is_some();
        told || makes && circuit.on_by_arming().is_none() || circuit.opened_by_alarm().is_some()
    };
    let signals = is_sounder(site, load) || is_strobe(site, load);
    signals && output.when == When::Always && !tree.circuit_of(site, node).is_some_and(waits)
}

/// True for anything but a sounder or load on an output that is on in alarm only; and for a sounder that charges a battery of
/// its own.
pub(crate) fn rests(site: &Site, load: &Load, output: &Output) -> bool {
    let waits = matches!(load.consumer, Consumer::Device(id) if site.devices[id].kind == DeviceKind::Load);
    let waits = waits || is_sounder(site, load) && !charges(site, load);
    !waits && output.when == When::Alarm && fed_once(site, load.consumer)
}

/// True for a load that charges a battery of its own.
pub(crate) fn charges(site: &Site, load: &Load) -> bool {
    matches!(load.consumer, Consumer::Device(id) if suits::charges(site, id))
}

/// False for a device with two supplies, which is another rule's: which of them is meant is not known.
pub(crate) fn fed_once(site: &Site, consumer: Consumer) -> bool {
    let Consumer::Device(id) = consumer else { return true };
    let device = &site.devices[id];
    usize::from(device.supply.is_some()) + device.fed_by.len() < 2
}

/// How many times the limit of its supply a device takes whose current is a slip, of its unit mostly: ours.
const OUT_OF_RANGE: f64 = 10.0;

/// The device that alone takes many times what its supply may give: nothing that follows from its current is a finding of
/// its own.
pub(crate) fn out_of_range(feeding: &Feeding) -> Option<(&Load, Amperes)> {
    feeding.overloads().find_map(|over| out_of_range_of(feeding, over))
}

/// The same of one of its limits that is passed.
pub(crate) fn out_of_range_of(feeding: &Feeding, over: Overload) -> Option<(&Load, Amperes)> {
    let volts = feeding.battery_volts.or(feeding.tree.volts).unwrap_or(Volts(12.0));
    let here = |node: usize| over.node == 0 || feeding.tree.way(node).contains(&over.node);
    feeding.tree.loads().filter(|(node, _)| here(*node)).find_map(|(_, load)| {
        let takes = load.takes(over.demand).at(volts);
        (takes.0 > OUT_OF_RANGE * over.limit.0).then_some((load, takes))
    })
}

/// The supplies whose least volts can be judged. An overloaded one too: what its cables lose is lost even where the
/// overload itself costs no volts.
pub(crate) fn solved(context: Context<'_>) -> impl Iterator<Item = &Feeding> {
    let is_solved = move |feeding: &&Feeding| match stage(context.site, feeding) {
        Stage::Overloaded => out_of_range(feeding).is_none(),
        Stage::Open => true,
        Stage::Broken | Stage::Misplaced | Stage::Collapsed(..) => false,
    };
    context.power.feedings.iter().filter(is_solved)
}

/// The supplies within their limits, of which what is left can be judged.
pub(crate) fn open(context: Context<'_>) -> impl Iterator<Item = &Feeding> {
    context.power.feedings.iter().filter(move |feeding| stage(context.site, feeding) == Stage::Open)
}

/// The branches of a supply with loads of which none gets less than its minimum.
pub(crate) fn fed_well(feeding: &Feeding) -> impl Iterator<Item = Range<usize>> {
    let branches = feeding.tree.branches().into_iter();
    branches.filter(|branch| feeding.starved(branch.clone()).is_empty())
}

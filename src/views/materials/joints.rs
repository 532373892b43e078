//! The joints of the house under no screw, each of which takes a connector.

use std::collections::{BTreeMap, BTreeSet};

use super::Others;
use crate::compiled::Compiled;
use crate::model::Site;
use crate::register::{ConductorUse, End, Point};
use crate::terms::Joining;
use crate::views::ends;
use crate::views::terminal_schedule::{Key, joined_with};

/// How a joint is made, and how many conductors it holds.
pub(super) type Joint = (Option<Joining>, usize);

/// How many joints there are of each kind that were not there before.
pub(super) fn count(compiled: &Compiled) -> BTreeMap<Joint, usize> {
    counted(joints(compiled).into_iter().filter(|of| !of.was_there).map(|of| of.joint))
}

fn counted(joints: impl Iterator<Item = Joint>) -> BTreeMap<Joint, usize> {
    let mut found = BTreeMap::new();
    joints.for_each(|joint| *found.entry(joint).or_insert(0) += 1);
    found
}

/// How many joints of each kind a work order makes: those that were none before, or with other conductors or otherwise, and those
/// in which a cable is landed anew.
pub(super) fn made_anew(old: &Compiled, new: &Compiled, others: &Others<'_>) -> BTreeMap<Joint, usize> {
    let called_now = |members: BTreeSet<Member>| -> BTreeSet<Member> {
        members.into_iter().map(|(label, at, end)| ((others.cable)(&label, end), at, end)).collect()
    };
    let before: BTreeSet<(Joint, BTreeSet<Member>)> =
        joints(old).into_iter().map(|of| (of.joint, called_now(of.members))).collect();
    let is_one = |(label, _, end): &Member| (others.is_anew)(label) && !(others.is_kept)(label, *end);
    let is_anew = |members: &BTreeSet<Member>| members.iter().any(is_one);
    let made = joints(new).into_iter().map(|of| (of.joint, of.members));
    counted(made.filter(|of| is_anew(&of.1) || !before.contains(of)).map(|(joint, _)| joint))
}

/// A conductor in a joint: its cable's label, its position or none for the shield, and which end of it.
type Member = (String, Option<usize>, End);

/// A joint of the house.
struct Made {
    joint: Joint,
    members: BTreeSet<Member>,
    /// Whether all that is in it was there before.
    was_there: bool,
}

fn joints(compiled: &Compiled) -> Vec<Made> {
    let ends = ends_of(compiled);
    // Conductors of pairs side by side have one key; the first of them stands for all.
    let place: BTreeMap<Key, usize> = ends.iter().enumerate().rev().map(|(at, end)| (end.key, at)).collect();
    // The first end of the joint that each end is in.
    let mut first: Vec<usize> = (0..ends.len()).collect();
    for (one, other) in ends.iter().flat_map(|end| joined_with(compiled, end.key)) {
        if let (Some(one), Some(other)) = (place.get(&one), place.get(&other)) {
            let (one, other) = (root(&first, *one), root(&first, *other));
            first.get_mut(one.max(other)).into_iter().for_each(|of| *of = one.min(other));
        }
    }
    let mut joints: BTreeMap<usize, Vec<&Loose<'_>>> = BTreeMap::new();
    for (at, end) in ends.iter().enumerate() {
        let at = place.get(&end.key).copied().unwrap_or(at);
        joints.entry(root(&first, at)).or_default().push(end);
    }
    let mut found = Vec::new();
    let several = |joint: &[&Loose<'_>]| joint.iter().any(|end| Some(end.key) != joint.first().map(|first| first.key));
    for joint in joints.values().filter(|joint| several(joint) && joint.iter().all(|end| end.is_free(compiled))) {
        // A device that hangs on a joint of more than two has a short wire of its own in it.
        let device = usize::from(joint.iter().any(|end| end.has_device()));
        let how = joint.iter().find_map(|end| end.joining(compiled));
        let members = joint.iter().filter_map(|end| {
            let label = compiled.wiring.cable_of(end.key.run)?.label.clone();
            Some((label, end.used.map(|used| used.position), end.key.end))
        });
        let was_there = joint.iter().all(|end| end.was_there(&compiled.site));
        found.push(Made { joint: (how, joint.len() + device), members: members.collect(), was_there });
    }
    found
}

fn root(first: &[usize], mut at: usize) -> usize {
    while let Some(of) = first.get(at).copied().filter(|of| *of != at) {
        at = of;
    }
    at
}

/// An end of a conductor in use, or of a shield.
struct Loose<'c> {
    key: Key,
    used: Option<&'c ConductorUse>,
}

fn ends_of(compiled: &Compiled) -> Vec<Loose<'_>> {
    let ends = compiled.wiring.cables.iter().flat_map(|cable| {
        let used = cable.conductors.iter().map(|used| (used.run, Some(used)));
        used.chain(cable.shield.as_ref().map(|_| (cable.run, None)))
    });
    let both = ends.flat_map(|(run, used)| {
        [End::Near, End::Far].map(|end| Loose { key: Key { run, function: used.map(|used| used.function), end }, used })
    });
    both.collect()
}

impl Loose<'_> {
    fn points(&self) -> &[Point] {
        self.used.map_or(&[], |used| used.points(self.key.end))
    }

    /// True where no screw holds it: of no board, and of no device under whose own terminal the supply goes on.
    fn is_free(&self, compiled: &Compiled) -> bool {
        let held = |point: &Point| match point {
            Point::Terminal(..) | Point::Socket(_) | Point::WayOut(..) | Point::Hop(_) | Point::Transformer(_) => true,
            Point::Device(..) | Point::Resistor(_) | Point::Terminator(_) | Point::Cable(_) | Point::Joint(..) => false,
        };
        let passed = |used| ends::passed(&compiled.site, &compiled.wiring, used, self.points()).is_some();
        !self.points().iter().any(held) && !self.used.is_some_and(passed)
    }

    /// Whether its cable was there before, the device that hangs on it, and the enclosure that it is joined in.
    fn was_there(&self, site: &Site) -> bool {
        let is_there =
            |point: &Point| if let Point::Device(id, _) = point { site.devices[*id].was_there() } else { true };
        let joined_in = match self.used {
            Some(used) => used.joined_in(site, self.key.end).map(|(board, _)| board),
            None => self.key.end.run(site, self.key.run).and_then(|run| site.ends_in(run)),
        };
        let in_new = joined_in.is_some_and(|board| !site.boards[board].existing);
        site.is_existing(self.key.run) && !in_new && self.points().iter().all(is_there)
    }

    fn has_device(&self) -> bool {
        let supply = self.used.is_some_and(|used| used.function.zone().is_none());
        supply && self.points().iter().any(|point| matches!(point, Point::Device(..)))
    }

    fn joining(&self, compiled: &Compiled) -> Option<Joining> {
        let site = &compiled.site;
        let run = match self.used {
            Some(used) => used.joined_in(site, self.key.end)?.1,
            // A shield is joined where its cable is.
            None => self.key.end.run(site, self.key.run)?,
        };
        site.joining(run)
    }
}

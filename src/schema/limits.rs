//! How much one site may hold, all of its files together.
//!
//! A spec may come from a stranger. The limits are far past any house, so that what is more is a script gone wrong, or
//! meant to stop the program; up to them, time and memory grow hardly faster than the text. Out of scope: how long a text
//! may be (`syntax`, `resolve/load`) and how much one cable path may hold (`resolve/lower/chains`).

use std::collections::BTreeSet;

use super::known::Known;
use super::nodes::{
    area, board, bus, cable, circuit, communicator, conduit, part, places, price, reading, register, site, spare,
    switching, zone,
};
use super::rules;
use super::spec::NodeSpec;
use crate::diag::Sink;
use crate::syntax::Node;

/// The most values of an argument that takes many.
pub(crate) const MOST_VALUES: usize = 1_000;

/// The most nodes of a kind in one site. Of `site`, `monitoring`, `upkeep`, `label-sheet`, `house-style`, `prices` and `register` a second is
/// reported as such.
static MOST: &[(&NodeSpec, usize)] = &[
    (&site::INCLUDE, 5_000),
    (&places::LEVEL, 100),
    (&places::ROOM, 2_000),
    (&places::DOOR, 2_000),
    (&places::WINDOW, 2_000),
    (&places::HATCH, 2_000),
    (&part::PART, 2_000),
    (&cable::CABLE, 500),
    (&board::PANEL, 250),
    (&board::POWER_SUPPLY, 250),
    (&board::STRIP, 250),
    (&board::JOINT_BOX, 500),
    (&bus::KEYPAD, 250),
    (&bus::MODULE, 250),
    (&bus::RECEIVER, 250),
    (&area::AREA, 500),
    (&area::WALK, 2_000),
    (&area::CROSS_ZONES, 2_000),
    (&zone::ZONE, 2_000),
    (&zone::LOOP_RUN, 10_000),
    (&zone::CONTACT, 10_000),
    (&zone::DETECTOR, 10_000),
    (&zone::FAULT, 1_000),
    (&zone::RESISTOR, 10_000),
    (&bus::BUS, 250),
    (&bus::BUS_RUN, 2_000),
    (&bus::TERMINATOR, 2_000),
    (&circuit::CIRCUIT, 2_000),
    (&circuit::CIRCUIT_RUN, 10_000),
    (&circuit::SOUNDER, 10_000),
    (&switching::LOAD, 10_000),
    (&circuit::FEED, 10_000),
    (&spare::SPARE_CABLE, 2_000),
    (&spare::SPARE_RUN, 2_000),
    (&conduit::CONDUIT, 500),
    (&communicator::COMMUNICATOR, 50),
    (&price::PRICE, 5_000),
    (&reading::MEASURED, 2_000),
    (&reading::LOOP_READING, 50_000),
    (&reading::DEVICE_READING, 50_000),
    (&reading::BATTERY_READING, 10_000),
    (&site::ACCEPT, 5_000),
    (&register::INPUT, 20_000),
    (&register::LABEL, 30_000),
    (&register::SPENT, 50_000),
];

/// The most nodes of a kind in one site; `None` where each of the nodes that it stands in has its own limit.
pub(crate) fn most(spec: &'static NodeSpec) -> Option<usize> {
    MOST.iter().find(|(of, _)| std::ptr::eq(*of, spec)).map(|(_, most)| *most)
}

/// Counts the nodes of a site as they are read.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    /// By position in the list above.
    counted: Vec<usize>,
    /// False once there was one too many.
    pub(crate) within: bool,
    /// The nodes that misspelt ones at the top of a file were probably meant to be.
    pub(crate) meant: BTreeSet<&'static str>,
    /// What the site defines, for helps.
    pub(crate) known: Known,
}

impl Tally {
    /// Nothing yet.
    pub(crate) fn new() -> Self {
        Self { counted: vec![0; MOST.len()], within: true, meant: BTreeSet::new(), known: Known::default() }
    }

    /// Counts a node. False where it is past the limit, which is reported once: then it is not read.
    pub(crate) fn admits(&mut self, node: &Node, spec: &'static NodeSpec, sink: &mut Sink) -> bool {
        let Some(at) = MOST.iter().position(|(of, _)| std::ptr::eq(*of, spec)) else { return true };
        let (Some((_, most)), Some(counted)) = (MOST.get(at), self.counted.get_mut(at)) else { return true };
        *counted += 1;
        if *counted == *most + 1 {
            sink.push(rules::node_too_many(
                node,
                *most,
                "one site",
                "Divide it into several sites, or take out what a script wrote by mistake.",
            ));
        }
        self.within &= *counted <= *most;
        *counted <= *most
    }
}

#[cfg(test)]
mod tests {
    use super::super::nodes::{REGISTER, TOP};
    use super::super::read_document;
    use super::super::spec::Times;
    use super::*;
    use crate::base::FileId;
    use crate::syntax;

    fn nodes(text: &str) -> Vec<Node> {
        syntax::parse(FileId::default(), text, &mut Sink::default()).nodes
    }

    fn slugs(sink: &Sink) -> Vec<&str> {
        sink.found().iter().map(|found| found.rule.slug).collect()
    }

    #[test]
    fn the_first_node_past_each_limit_is_told_and_no_other() {
        let nodes = nodes("x");
        for (spec, most) in MOST {
            let (mut tally, mut sink) = (Tally::new(), Sink::default());
            assert!((0..*most).all(|_| tally.admits(&nodes[0], spec, &mut sink)), "{}", spec.name);
            assert!(tally.within && sink.found().is_empty(), "{}", spec.name);
            assert!((0..3).all(|_| !tally.admits(&nodes[0], spec, &mut sink)), "{}", spec.name);
            assert!(!tally.within, "{}", spec.name);
            assert_eq!(slugs(&sink), ["node-too-many"], "{}", spec.name);
        }
    }

    #[test]
    fn a_node_holds_as_many_of_a_kind_and_as_many_values_as_its_limits_say() {
        let conductors = |count: usize| {
            format!("cable \"c\" conductors=2 size=(AWG)22 {{ {} }}", "conductor \"RD\"; ".repeat(count))
        };
        let terminals =
            |count: usize| format!("part \"p\" {{ basis \"sheet\"; terminals {}; }}", "\"A\" ".repeat(count));
        let found = |text: String| {
            let mut sink = Sink::default();
            let document = syntax::parse(FileId::default(), &text, &mut sink);
            read_document(&document, &mut Tally::new(), &mut sink);
            slugs(&sink).into_iter().map(str::to_owned).collect::<Vec<_>>()
        };
        assert_eq!(found(conductors(100)), [""; 0]);
        assert_eq!(found(conductors(103)), ["node-too-many"]);
        assert_eq!(found(terminals(MOST_VALUES)), [""; 0]);
        assert_eq!(found(terminals(MOST_VALUES + 3)), ["node-too-many"]);
    }

    #[test]
    fn every_node_that_may_stand_often_has_a_limit() {
        fn walk(spec: &'static NodeSpec, seen: &mut Vec<*const NodeSpec>, without: &mut Vec<&'static str>) {
            if seen.contains(&std::ptr::from_ref(spec)) {
                return;
            }
            seen.push(spec);
            for child in spec.children {
                if child.times == Times::Any && most(child.node).is_none() {
                    without.push(child.node.name);
                }
                walk(child.node, seen, without);
            }
        }
        let mut without: Vec<&str> =
            TOP.iter().chain(REGISTER).filter(|spec| most(spec).is_none()).map(|spec| spec.name).collect();
        let mut seen = Vec::new();
        TOP.iter().chain(REGISTER).for_each(|spec| walk(spec, &mut seen, &mut without));
        assert_eq!(without, ["site", "monitoring", "upkeep", "label-sheet", "house-style", "prices", "register"]);
        assert!(seen.len() > 50);
    }
}

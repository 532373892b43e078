//! The names that the files of a site define, before they are read: for the helps of what is missing.

use std::collections::BTreeMap;

use crate::quantity::Dimension;
use crate::syntax::{Document, Node, Value};

use super::nodes::TOP;
use super::rules::sample;
use super::spec::{Kind, Names, NodeSpec};

/// So many names of a kind are kept.
const MOST: usize = 6;

/// So many parts are kept with what they have.
const MOST_PARTS: usize = 500;

/// See the module's head.
#[derive(Debug, Default)]
pub(crate) struct Known {
    /// Names by kind, in the order of the text.
    names: BTreeMap<Names, Vec<String>>,
    /// Parts, in the order of the text.
    parts: Vec<KnownPart>,
    /// True where the site gives its lengths in metres.
    metric: bool,
    /// The properties that the nodes around the one that is read have and should not: probably its own.
    pub(crate) above: Vec<String>,
}

/// A part, as far as it tells what it may be mounted as.
#[derive(Debug)]
struct KnownPart {
    name: String,
    /// The node that it says it is mounted by, of a board.
    board: Option<String>,
    /// The nodes in its braces.
    has: Vec<String>,
}

impl KnownPart {
    fn of(name: &str, node: &Node) -> Self {
        let board = node.properties.iter().find(|property| property.name.value == "board");
        Self {
            name: name.to_owned(),
            board: board.and_then(|property| match &property.value.value {
                Value::Text(text) => Some(text.clone()),
                Value::Number { .. } | Value::Flag(_) | Value::Null => None,
            }),
            has: node.children.iter().flatten().map(|child| child.name.value.clone()).collect(),
        }
    }

    /// True where a node may mount it, as far as that can be told.
    fn fits(&self, node: &str) -> bool {
        if let Some(board) = &self.board {
            return board == node;
        }
        let any = |names: &[&str]| self.has.iter().any(|own| names.contains(&own.as_str()));
        match node {
            "contact" => any(&["contact"]) && !any(&["supply", "loop-fed", "bus-port", "input", "output"]),
            "detector" => any(&["contact", "loop-fed"]) && any(&["supply", "loop-fed"]),
            "sounder" => any(&["sound"]),
            "wireless" => any(&["radio"]) && !any(&["bus-port"]),
            "panel" => any(&["charger", "ac-port"]) && any(&["input", "bus-port"]),
            "power-supply" => any(&["output"]) && !any(&["input", "bus-port"]),
            "keypad" => any(&["bus-port"]) && !any(&["charger", "ac-port", "battery-port", "line-port", "radio"]),
            "module" => any(&["bus-port"]) && !any(&["line-port"]),
            "receiver" => any(&["bus-port"]) && any(&["radio"]),
            _ => false,
        }
    }
}

impl Known {
    /// Adds what a file defines.
    pub(crate) fn learn(&mut self, document: &Document) {
        for node in &document.nodes {
            let lengths = node.properties.iter().find(|property| property.name.value == "lengths");
            self.metric |= lengths.is_some_and(|lengths| lengths.value.value == Value::Text("m".to_owned()));
            if let Some(spec) = TOP.iter().find(|spec| spec.name == node.name.value) {
                self.add(node, spec);
            }
        }
    }

    fn add(&mut self, node: &Node, spec: &NodeSpec) {
        for (row, argument) in spec.arguments.iter().zip(&node.arguments) {
            if let (Kind::Name(kind), Value::Text(name)) = (row.kind, &argument.value.value)
                // Nothing starts at a keypad, a receiver, a strip or a joint box.
                && (kind != Names::Board || ["panel", "power-supply", "module"].contains(&spec.name))
            {
                if kind == Names::Part && self.parts.len() < MOST_PARTS {
                    self.parts.push(KnownPart::of(name, node));
                }
                let names = self.names.entry(kind).or_default();
                if names.len() < MOST && !names.contains(name) {
                    names.push(name.clone());
                }
            }
        }
        for child in node.children.iter().flatten() {
            if let Some(row) = spec.children.iter().find(|row| row.node.name == child.name.value) {
                self.add(child, row.node);
            }
        }
    }

    /// Some parts that may be what a node mounts, where that can be told from what they have; else some parts.
    pub(crate) fn parts_for(&self, node: &str) -> Vec<String> {
        let mut found: Vec<String> =
            self.parts.iter().filter(|part| part.fits(node)).map(|part| part.name.clone()).collect();
        found.dedup();
        found.truncate(MOST);
        if found.is_empty() { self.names(Names::Part).to_vec() } else { found }
    }

    /// A value of a kind, a length in the site's unit.
    pub(crate) fn sample(&self, kind: Kind) -> String {
        if self.metric && matches!(kind, Kind::Quantity([Dimension::Length], _)) {
            return "(m)4".to_owned();
        }
        sample(kind)
    }

    /// Some names of a kind.
    pub(crate) fn names(&self, kind: Names) -> &[String] {
        self.names.get(&kind).map(Vec::as_slice).unwrap_or_default()
    }
}

//! Register → blocks of text: a head of one line, and a line for each thing in its braces.

use std::collections::BTreeMap;
use std::fmt::Write;

use crate::base::wording::kdl_text;
use crate::register::{CableEntry, Known, Mounting, Register, State, Wire};

use super::VERSION;

/// What stands above everything in a new file.
pub(crate) const HEAD: &str = "\
// What is in the wall: every cable's label, its conductors, and the terminals that they are on.
// `loopwright compile` writes this file and keeps what is in it: commit it with the spec. Comments are kept.
// Of a cable that is marked dead, write off=#true when its conductors are off the terminals, and out=#true when it is
// out of the wall. Nothing has been pulled yet? Then the file may be deleted, and all is proposed afresh.
";

/// A node with what stands in its braces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Block {
    /// What it is, among the blocks of a file.
    pub(crate) id: String,
    /// The node without its braces.
    pub(crate) head: String,
    /// Each node in its braces, with what it is among them.
    pub(crate) lines: Vec<(String, String)>,
}

impl Block {
    /// The whole node.
    pub(crate) fn text(&self) -> String {
        if self.lines.is_empty() {
            return self.head.clone();
        }
        let lines = self.lines.iter().fold(String::new(), |text, (_, line)| text + "    " + line + "\n");
        format!("{} {{\n{lines}}}", self.head)
    }

    /// True for a node that stands apart from the one before it.
    pub(crate) fn apart(&self) -> bool {
        self.id.starts_with("label ")
    }
}

/// The register's nodes in the order of a new file.
pub(crate) fn blocks(register: &Register) -> Vec<Block> {
    let plain = |id: String, head: String| Block { id, head, lines: Vec::new() };
    let head = plain("register".into(), format!("register version={VERSION}"));
    let inputs = register.inputs.iter().map(|entry| {
        let (board, number, zone) = (kdl_text(&entry.board), entry.number, entry.zone);
        plain(format!("input {} {number}", entry.board), format!("input {number} board={board} zone={zone}"))
    });
    let spent = register
        .spent
        .iter()
        .map(|label| plain(format!("spent {}", label.value), format!("spent {}", kdl_text(&label.value))));
    std::iter::once(head).chain(inputs).chain(register.cables.iter().map(cable)).chain(spent).collect()
}

/// Blocks by what they are.
pub(crate) fn by_id(blocks: &[Block]) -> BTreeMap<&str, &Block> {
    blocks.iter().map(|block| (block.id.as_str(), block)).collect()
}

fn cable(entry: &CableEntry) -> Block {
    let mut head = format!("label {}", kdl_text(&entry.label));
    property(&mut head, "of", Some(&entry.of.to_string()));
    property(&mut head, "cable", Some(&entry.kind));
    property(&mut head, "room", entry.room.as_ref());
    property(&mut head, "from", entry.from.as_ref());
    property(&mut head, "run", entry.run.as_ref());
    match &entry.state {
        State::InUse => {}
        State::Dead { because, off } => {
            property(&mut head, "dead", Some(because));
            head.push_str(if *off { " off=#true" } else { "" });
        }
        State::Out => head.push_str(" out=#true"),
    }
    let mounted = entry.mounted.iter().map(mounting);
    let mut lines: Vec<(String, String)> = mounted.chain(entry.wires.iter().map(wire)).collect();
    number_doubles(&mut lines);
    Block { id: format!("label {}", entry.label), head, lines }
}

/// Two of one name are told apart by their order.
pub(crate) fn number_doubles<T>(lines: &mut [(String, T)]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for (id, _) in lines {
        let count = seen.entry(id.clone()).or_default();
        *count += 1;
        if *count > 1 {
            let _ = write!(id, " #{count}");
        }
    }
}

fn mounting(mounting: &Mounting) -> (String, String) {
    let (key, name) = match &mounting.known {
        Known::Opening(name) => ("opening", name),
        Known::Device(name) => ("device", name),
        Known::Board(name) => ("board", name),
        Known::Title(name) => ("title", name),
    };
    let mut line = "mounted".to_owned();
    property(&mut line, key, Some(name));
    property(&mut line, "part", mounting.part.as_ref());
    (format!("{key} {name}"), line)
}

fn wire(wire: &Wire) -> (String, String) {
    let mut line = format!("wire {} {}", wire.position, kdl_text(wire.does.word()));
    property(&mut line, "colour", wire.colour.map(|colour| colour.to_string()).as_ref());
    property(&mut line, "output", wire.output.as_ref());
    property(&mut line, "for", wire.kept_for.as_ref());
    if let Some(pin) = wire.pin {
        let _ = write!(line, " pin={pin}");
    }
    property(&mut line, "of", wire.of.as_ref().map(ToString::to_string).as_ref());
    property(&mut line, "near", wire.near.as_ref().map(ToString::to_string).as_ref());
    if let Some(near) = wire.near.as_ref().filter(|near| near.under > 1) {
        let _ = write!(line, " under={}", near.under);
    }
    property(&mut line, "far", wire.far.as_ref().map(ToString::to_string).as_ref());
    (format!("wire {}", wire.position), line)
}

fn property(line: &mut String, key: &str, value: Option<&String>) {
    if let Some(value) = value {
        let _ = write!(line, " {key}={}", kdl_text(value));
    }
}

//! A file as a plain list, a line a node, for `git diff`: what is said, without how it is laid out.
//!
//! Comments, blanks and ways of writing a value leave no trace, and where order is not significant it is fixed: so two texts
//! that say the same give the same list. A file may be any part of a site; nothing is looked up elsewhere, and what cannot
//! be read stands in the list as it is written.

use std::cmp::Ordering;
use std::fmt::Write;

use super::tree::{Argument, Document, Node, Property, Value};

/// Properties that come first, in this order; the others follow by name.
const FIRST: [&str; 9] = ["title", "type", "area", "part", "board", "input", "length", "room", "on"];

/// Nodes whose children have no order of their own.
const UNORDERED: [&str; 7] = ["level", "room", "site", "panel", "part", "sensing", "monitoring"];

/// The list of a document; `text` is what it was read from.
pub(crate) fn list(document: &Document, text: &str) -> String {
    let mut nodes: Vec<&Node> = document.nodes.iter().collect();
    nodes.sort_by(|a, b| by_name(a, b));
    let mut list = String::new();
    for node in nodes {
        tell(node, 0, &mut list);
    }
    for broken in &document.broken {
        for line in text.get(broken.span.start..broken.span.end).unwrap_or_default().lines() {
            let _ = writeln!(list, "not understood: {}", line.trim());
        }
    }
    list
}

/// By the node's name, then by its first argument, numbers by their value.
fn by_name(a: &Node, b: &Node) -> Ordering {
    let first = |node: &Node| node.arguments.first().map(|argument| argument.value.value.clone());
    a.name.value.cmp(&b.name.value).then_with(|| match (first(a), first(b)) {
        (Some(Value::Number { value: one, .. }), Some(Value::Number { value: other, .. })) => one.total_cmp(&other),
        (one, other) => one.map(|value| plain(&value)).cmp(&other.map(|value| plain(&value))),
    })
}

fn tell(node: &Node, depth: usize, list: &mut String) {
    list.push_str(&"  ".repeat(depth));
    list.push_str(&node.name.value);
    for Argument { value, annotation, .. } in &node.arguments {
        list.push(' ');
        list.push_str(&with_unit(&value.value, annotation.as_ref().map(|unit| unit.value.as_str())));
    }
    let mut properties: Vec<&Property> = node.properties.iter().collect();
    let rank = |name: &str| FIRST.iter().position(|first| *first == name).unwrap_or(FIRST.len());
    properties.sort_by_key(|property| (rank(&property.name.value), property.name.value.as_str()));
    for (nth, Property { name, value, annotation, .. }) in properties.into_iter().enumerate() {
        list.push_str(if nth == 0 { ": " } else { ", " });
        let value = with_unit(&value.value, annotation.as_ref().map(|unit| unit.value.as_str()));
        let _ = write!(list, "{} {value}", name.value);
    }
    list.push('\n');
    let mut children: Vec<&Node> = node.children.iter().flatten().collect();
    if node.name.value == "part" {
        // The contacts of a part have an order, its other nodes have none.
        children.sort_by(|a, b| a.name.value.cmp(&b.name.value));
    } else if UNORDERED.contains(&node.name.value.as_str()) {
        children.sort_by(|a, b| by_name(a, b));
    }
    for child in children {
        tell(child, depth + 1, list);
    }
}

/// "38 ft".
fn with_unit(value: &Value, unit: Option<&str>) -> String {
    unit.map_or_else(|| plain(value), |unit| format!("{} {unit}", plain(value)))
}

/// A value without the way in which it was written; a text of several words in quotation marks.
fn plain(value: &Value) -> String {
    match value {
        Value::Text(text) => {
            let word = !text.is_empty() && text.chars().all(|c| c.is_alphanumeric() || "-_./+".contains(c));
            if word { text.clone() } else { format!("“{}”", text.replace(['\n', '\r'], " ")) }
        }
        Value::Number { value, .. } => value.to_string(),
        Value::Flag(true) => "yes".to_owned(),
        Value::Flag(false) => "no".to_owned(),
        Value::Null => "null".to_owned(),
    }
}

//! kdl's document → our tree: exact spans in the file, finite numbers.

use kdl::{KdlDocument, KdlEntry, KdlIdentifier, KdlNode, KdlValue};

use super::faults::Faults;
use super::tree::{Argument, Node, Property, Value, semicolon_behind};
use crate::base::{Span, Spanned};

/// Turns the nodes of a piece into ours. `seen` is what the parser saw of the file's text, from `offset` on.
pub(crate) fn nodes(document: &KdlDocument, text: &str, (seen, offset): (&str, usize), faults: &Faults) -> Vec<Node> {
    let converter = Converter { text, seen, offset, faults };
    document.nodes().iter().map(|node| converter.node(node)).collect()
}

struct Converter<'a> {
    text: &'a str,
    seen: &'a str,
    offset: usize,
    faults: &'a Faults,
}

impl Converter<'_> {
    fn span(&self, start: usize, end: usize) -> Span {
        self.faults.span(self.offset + start, self.offset + end)
    }

    fn identifier(&self, identifier: &KdlIdentifier) -> Spanned<String> {
        let (start, length) = (identifier.span().offset(), identifier.span().len());
        Spanned::new(identifier.value().to_owned(), self.span(start, start + length))
    }

    fn node(&self, node: &KdlNode) -> Node {
        let start = node.span().offset();
        // kdl's span of a node takes in the blanks before its end.
        let written = self.seen.get(start..start + node.span().len()).unwrap_or("").trim_end();
        let mut arguments = Vec::new();
        let mut properties = Vec::new();
        for entry in node.entries() {
            let (value, annotation, span) = self.entry(entry);
            match entry.name() {
                Some(name) => properties.push(Property { name: self.identifier(name), value, annotation, span }),
                None => arguments.push(Argument { value, annotation, span }),
            }
        }
        Node {
            name: self.identifier(node.name()),
            annotation: node.ty().map(|ty| self.identifier(ty)),
            arguments,
            properties,
            children: node.children().map(|c| c.nodes().iter().map(|n| self.node(n)).collect()),
            span: self.span(start, start + written.len()),
            semicolon: semicolon_behind(self.text, self.offset + start + written.len()),
        }
    }

    fn entry(&self, entry: &KdlEntry) -> (Spanned<Value>, Option<Spanned<String>>, Span) {
        let (start, end) = (entry.span().offset(), entry.span().offset() + entry.span().len());
        let written = entry.format().map_or("", |f| f.value_repr.as_str());
        let value = match entry.value() {
            KdlValue::String(text) => Value::Text(text.clone()),
            #[allow(clippy::cast_precision_loss)] // the integer is kept beside its double
            KdlValue::Integer(integer) => Value::Number {
                written: written.to_owned(),
                value: *integer as f64,
                integer: i64::try_from(*integer).ok(),
            },
            KdlValue::Float(value) => Value::Number { written: written.to_owned(), value: *value, integer: None },
            KdlValue::Bool(flag) => Value::Flag(*flag),
            KdlValue::Null => Value::Null,
        };
        // A value has no span of its own in kdl; it is the end of its entry.
        let value = Spanned::new(value, self.span(end.saturating_sub(written.len()), end));
        (value, entry.ty().map(|ty| self.identifier(ty)), self.span(start, end))
    }
}

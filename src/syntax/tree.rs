//! Our own tree: nodes with exact byte spans for names, values, type annotations and property names.

use super::characters::is_space;
use crate::base::{Span, Spanned};

/// A file's top-level nodes, and the pieces that could not be read.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Document {
    /// Nodes in the order of the text; those behind a slashdash are left out.
    pub(crate) nodes: Vec<Node>,
    /// Pieces that gave a diagnostic instead of a node.
    pub(crate) broken: Vec<Broken>,
}

/// A piece of text that is no node. What it may have defined is unknown, so nothing is concluded from absences.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Broken {
    /// The piece.
    pub(crate) span: Span,
    /// Every word and string in it: a reference to one of these is not reported as unknown.
    pub(crate) words: Vec<String>,
}

/// A node: `(type)name argument… key=value… { children }`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node {
    /// Its name.
    pub(crate) name: Spanned<String>,
    /// Its type annotation.
    pub(crate) annotation: Option<Spanned<String>>,
    /// Arguments in order.
    pub(crate) arguments: Vec<Argument>,
    /// Properties in order, duplicates kept.
    pub(crate) properties: Vec<Property>,
    /// The nodes in its braces; `None` without braces.
    pub(crate) children: Option<Vec<Node>>,
    /// From the name (or annotation) to the last entry or closing brace, without trailing blanks.
    pub(crate) span: Span,
    /// The byte behind the `;` that ends the node, where one does: it goes with the node.
    pub(crate) semicolon: Option<usize>,
}

impl Node {
    /// The node with the `;` that ends it.
    pub(crate) fn with_its_end(&self) -> Span {
        Span::new(self.span.file, self.span.start, self.semicolon.unwrap_or(self.span.end))
    }
}

/// Where the `;` ends that stands behind a byte, with nothing but blanks between.
pub(super) fn semicolon_behind(text: &str, end: usize) -> Option<usize> {
    let rest = text.get(end..)?.trim_start_matches(is_space).strip_prefix(';')?;
    Some(text.len() - rest.len())
}

/// A value in argument position.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Argument {
    /// The value; its span is that of the value alone.
    pub(crate) value: Spanned<Value>,
    /// The type annotation, without parentheses.
    pub(crate) annotation: Option<Spanned<String>>,
    /// Annotation and value together.
    pub(crate) span: Span,
}

/// `key=value`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Property {
    /// The key.
    pub(crate) name: Spanned<String>,
    /// The value; its span is that of the value alone.
    pub(crate) value: Spanned<Value>,
    /// The type annotation of the value, without parentheses.
    pub(crate) annotation: Option<Spanned<String>>,
    /// From the key to the end of the value.
    pub(crate) span: Span,
}

/// A KDL value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    /// Any kind of string.
    Text(String),
    /// A number as written (`0x1F`, `4.70`) and its finite value.
    Number {
        /// As written.
        written: String,
        /// As a double; finite.
        value: f64,
        /// As an integer, where it is one.
        integer: Option<i64>,
    },
    /// `#true` or `#false`.
    Flag(bool),
    /// `#null`.
    Null,
}

impl Value {
    /// "a string", "a number", "#true or #false", "#null".
    pub(crate) fn noun(&self) -> &'static str {
        match self {
            Self::Text(_) => "a string",
            Self::Number { .. } => "a number",
            Self::Flag(_) => "#true or #false",
            Self::Null => "#null",
        }
    }
}

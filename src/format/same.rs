//! Whether two texts say the same: the same nodes, and every word, mark and comment in the same order.

use crate::syntax::characters::{is_newline, is_space};
use crate::syntax::token::{Kind, Token};
use crate::syntax::tree::{Argument, Property};
use crate::syntax::{Layout, Node};

/// True where two texts differ in white space only.
pub(super) fn same(old: (&str, &Layout), new: (&str, &Layout)) -> bool {
    words(old).eq(words(new)) && nodes(old.1, new.1)
}

/// Every token that is no white space; what stands at the end of a comment's line counts for nothing.
fn words<'a>((text, layout): (&'a str, &'a Layout)) -> impl Iterator<Item = (Kind, &'a str)> {
    let words = layout.tokens.iter().filter(|token| !matches!(token.kind, Kind::Space | Kind::Newline));
    words.map(move |token: &Token| {
        let written = token.text(text);
        let comment = token.kind == Kind::LineComment;
        (token.kind, if comment { written.trim_end_matches(|c| is_space(c) || is_newline(c)) } else { written })
    })
}

/// True where the same pieces were read, and the same nodes from them. A piece that was not read has its tokens only.
fn nodes(old: &Layout, new: &Layout) -> bool {
    let pieces = |layout: &Layout| -> Vec<bool> { layout.pieces.iter().map(|(_, nodes)| nodes.is_some()).collect() };
    let nodes = |layout: &'_ Layout| -> Vec<Node> {
        layout.pieces.iter().filter_map(|(_, nodes)| nodes.clone()).flatten().collect()
    };
    pieces(old) == pieces(new) && all_alike(&nodes(old), &nodes(new))
}

fn all_alike(old: &[Node], new: &[Node]) -> bool {
    old.len() == new.len() && old.iter().zip(new).all(|(one, other)| alike(one, other))
}

/// True for two nodes that differ in their places only.
fn alike(one: &Node, other: &Node) -> bool {
    let Node { name, annotation, arguments, properties, children, span: _, semicolon: _ } = one;
    let same_argument =
        |(one, other): (&Argument, &Argument)| one.annotation == other.annotation && one.value == other.value;
    let same_property = |(one, other): (&Property, &Property)| {
        one.name == other.name && one.annotation == other.annotation && one.value == other.value
    };
    *name == other.name
        && *annotation == other.annotation
        && arguments.len() == other.arguments.len()
        && properties.len() == other.properties.len()
        && arguments.iter().zip(&other.arguments).all(same_argument)
        && properties.iter().zip(&other.properties).all(same_property)
        && match (children, &other.children) {
            (Some(one), Some(other)) => all_alike(one, other),
            (None, None) => true,
            _ => false,
        }
}

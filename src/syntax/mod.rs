//! Text → tree. Never fails: what cannot be read becomes a diagnostic and a [`tree::Broken`] piece.
//!
//! The text is guarded (size, nesting) and cut at top-level nodes before the kdl parser sees any of it, and each
//! piece is parsed by itself, so that good nodes survive and every bad one is reported. kdl's types stay in here.

pub mod tree;

pub use tree::{Argument, Broken, Document, Node, Property, Value};

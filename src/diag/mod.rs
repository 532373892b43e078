//! Diagnostics: the rule that speaks, the places involved, the words, and how they are drawn.
//!
//! A [`Diagnostic`] can only be made from a registered [`Rule`]; its severity follows from the rule's [`Basis`]:
//! physics and contradictions are errors, published limits warnings, practice is a note. Renderers: terminal
//! (miette's drawing is used there and nowhere else), short, JSON; [`render`](render::render) is the way in.

pub mod counts;
mod excerpt;
pub mod json;
pub mod neutral;
pub mod render;
pub mod rule;
pub mod short;
pub mod sink;
pub mod terminal;
pub mod wrap;

pub use counts::Counts;
pub use render::{Format, render};
pub use rule::{Basis, Rule, Severity};
pub use sink::{Diagnostic, Label, Sink};
pub use terminal::Look;

//! Diagnostics: the rule that speaks, the places involved, the words, and how they are drawn.
//!
//! A [`Diagnostic`] can only be made from a registered [`Rule`]; its severity follows from the rule's [`Basis`]:
//! physics and contradictions are errors, published limits warnings, practice is a note. Renderers: terminal
//! (miette's drawing is used there and nowhere else), short, JSON; [`render`](render::render) is the way in.

pub(crate) mod annotations;
pub(crate) mod counts;
mod excerpt;
pub(crate) mod fix;
pub(crate) mod json;
pub(crate) mod neutral;
pub mod render;
pub(crate) mod rule;
pub(crate) mod sarif;
pub(crate) mod short;
pub(crate) mod sink;
pub(crate) mod terminal;
pub(crate) mod wrap;

pub(crate) use counts::Counts;
pub use fix::{Certainty, Edit, Fix};
pub use render::{Format, render};
pub use rule::{Basis, Rule, Severity};
pub use sink::{Diagnostic, Label, Sink};
pub use terminal::Look;

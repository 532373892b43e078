//! What every stage may use: byte spans, source files in memory, typed ids, wording helpers.
//!
//! Nothing here knows the language, the model or any diagnostic. Out of scope: reading files (that is `cli`).

pub mod arena;
pub mod markup;
pub mod natural;
pub mod source;
pub mod span;
pub mod wording;

pub use arena::{Arena, Id};
pub use source::{SourceFile, Sources};
pub use span::{FileId, Span, Spanned};

//! What every stage may use: byte spans, source files in memory, typed ids, wording helpers.
//!
//! Nothing here knows the language, the model or any diagnostic. Out of scope: reading files (that is `cli`).

pub(crate) mod arena;
mod digest;
pub(crate) mod markup;
pub(crate) mod memo;
pub(crate) mod natural;
pub(crate) mod source;
pub(crate) mod span;
pub(crate) mod unseen;
pub(crate) mod uri;
pub(crate) mod wording;

pub use arena::{Arena, Id};
pub(crate) use digest::digest;
pub(crate) use source::line_starts;
pub use source::{SourceFile, Sources};
pub use span::{FileId, Span, Spanned};

//! loopwright compiles a plain-text spec of a house's alarm wiring into diagnostics and the printed paper the job
//! needs. The folder list is the pipeline:
//!
//! text → [`syntax`] (tree) → [`schema`] (checked against the table of the language) → [`resolve`] (the [`model`]
//! of what is in the wall) → [`register`] (labels and landings) → [`calc`] (figures) → [`events`] (what can be reported) → [`checks`] → [`views`] (one a document, with what
//! [`draw`] makes of their drawings) → [`emit`] (Markdown, HTML, CSV, JSON in memory) → [`session`] (facade) → [`server`]
//! (for editors) → [`cli`] (the only place with disk, clock and terminal).

// What is public is what tests, benches and the program itself ask for; all else the compiler finds when it is unused.
#![warn(unreachable_pub)]
// A new kind of board, device or conductor does not compile until every place has decided.
#![warn(clippy::wildcard_enum_match_arm)]

pub mod base;
pub mod calc;
pub(crate) mod checks;
pub mod cli;
pub mod compiled;
pub mod diag;
pub mod diff;
pub(crate) mod draw;
pub mod emit;
pub mod events;
pub(crate) mod format;
pub(crate) mod labels;
pub(crate) mod materials;
pub mod model;
pub mod profiles;
pub mod quantity;
pub mod record;
pub mod register;
pub(crate) mod register_file;
pub mod resolve;
pub mod schema;
pub mod server;
pub mod session;
pub(crate) mod start;
pub(crate) mod syntax;
pub mod terms;
pub mod views;
pub mod words;

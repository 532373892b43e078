//! The spec language as a table, and the reader that checks a tree against it.
//!
//! The table drives everything that must agree with it: reading, unknown-name errors with their did-you-mean,
//! and the generated reference. Order in the table is order in the reference. What a name refers to is not
//! decided here (that is `resolve`); what a value must look like is.

pub(crate) mod grammar;
pub(crate) mod known;
pub(crate) mod limits;
pub(crate) mod meant;
pub mod nodes;
pub(crate) mod read;
mod reading;
pub mod reference;
pub(crate) mod rules;
pub mod spec;
mod synonyms;

pub(crate) use read::{read_document, read_register};
pub(crate) use reading::{Datum, Reading};
pub(crate) use spec::{Kind, Names};

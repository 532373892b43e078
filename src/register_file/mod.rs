//! `register.kdl`, the register as a text beside `site.kdl`: read, judged, and rewritten with its comments kept.
//!
//! [`load`] reads it, [`findings`] says what the register and the spec have to say to each other, [`rewrite`] makes the
//! text of its next state. A register that cannot be read whole is no register: nothing is proposed over it. Out of
//! scope: what labels and landings are given (that is `register`), and the disk (that is `cli`).

pub(crate) mod findings;
pub(crate) mod load;
mod print;
mod read;
pub(crate) mod rewrite;
pub(crate) mod rules;

pub(crate) use load::{Found, fetch, load};
pub(crate) use rewrite::rewrite;

pub(crate) use crate::resolve::load::REGISTER_FILE as FILE;

/// How long a register may be, in bytes. The program writes it, in one file for all of a site's cables, so it may be
/// longer than what people write.
pub(crate) const LARGEST: usize = 8 * 1024 * 1024;

/// The version of the file's form that is written. Older ones are read, newer ones are not.
pub(crate) const VERSION: i64 = 1;

#[cfg(test)]
mod tests;

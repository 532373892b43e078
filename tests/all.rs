//! The one integration binary: each folder beside this file is a module of it.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::disallowed_methods)]

mod cli;

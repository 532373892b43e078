//! The integration tests, in one binary.

// A test may fail by panicking; clippy.toml's leave for tests does not reach helper functions of this crate.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod outside;
mod tidy;

//! The one integration binary: each folder or file beside this one is a module of it.

// A test may fail by panicking, and it reads and writes files of its own.
#![allow(clippy::pedantic)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::disallowed_methods)]

mod alder_mill;
mod bus;
mod cases;
mod checks;
mod cli;
mod demos;
mod diff;
mod documents;
mod format;
mod git;
mod golden;
mod json_schema;
mod larch_bungalow;
mod loops;
mod ngspice;
mod outside;
mod packet;
mod pages;
mod power;
mod readings;
mod readme;
mod register;
mod secrets;
mod slips;
mod standby;
mod start;
mod tidy;
mod timing;
mod told;
mod tour;
mod walkthrough;
mod words;

//! The bus calculation against published tables, an outside solver and laws of circuits.
//!
//! A *plan* is a made-up bus, known both as spec text and as what stands on it. From a plan the tests lay out the two
//! conductors with their ground by themselves; the calculation knows only their difference.

mod laws;
mod mill;
mod ngspice;
mod plan;
mod published;

//! Electrical arithmetic on the model: numbers with their trail, and nothing else.
//!
//! Knows no spans, no sentences for people, no diagnostics. All arithmetic is SI. Worst cases are exact corners, not
//! samples: every result here is monotonic in each of its inputs, so its least value comes from the ends that make it
//! least, and its greatest from the others.
//!
//! Terms: a *spread* is least, nominal and greatest value of one quantity; a *state* is one way a loop can be (at
//! rest, a contact in alarm, a cable cut); a *reading* is what the board makes of a state.

pub mod ambient;
pub(crate) mod as_built;
pub(crate) mod band;
pub(crate) mod bundle;
pub mod bus;
pub mod conductor;
pub(crate) mod contacts;
pub(crate) mod detection;
pub mod diagnose;
mod fault;
pub mod halving;
pub(crate) mod hole;
pub mod loops;
pub(crate) mod meter;
pub mod network;
pub(crate) mod pair;
pub mod power;
pub(crate) mod remedy;
pub mod sound;
pub(crate) mod spread;
pub(crate) mod state;
pub mod timing;
pub mod trail;
pub(crate) mod two_wire;
pub(crate) mod unseen;
pub(crate) mod wear;

pub(crate) use band::{Reading, Verdict};
pub use loops::{LoopReadings, StateReading};
pub(crate) use network::{Element, Network};
pub use spread::Spread;
pub use state::State;

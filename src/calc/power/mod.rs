//! Powered devices: what every output and bus port feeds, and the volts that arrive.
//!
//! Each supply of a board that stands on mains or battery is a *tree* of runs with *loads* ([`tree`], found in the site by [`trees`]); a module that is
//! fed by its bus goes on feeding from its own outputs, so that every load is in exactly one tree. A tree is solved
//! ([`solve`]) in eight *cases*: at rest or in alarm, on mains or at the end of the battery, with cold or hot wire. In
//! alarm everything is in alarm at once. What the battery, the charger and the transformer must do follows from the
//! currents at the roots ([`standby`], [`transformer`]); what is wrong with a supply is found by [`judge`], and what would remedy it by
//! [`remedy`], and which output is made for what by [`suits`]. Out of scope: words.

pub(crate) mod case;
pub(crate) mod feeding;
pub(crate) mod judge;
pub(crate) mod own_supply;
pub(crate) mod path;
pub(crate) mod remedy;
pub(crate) mod solve;
pub(crate) mod standby;
pub(crate) mod suits;
pub(crate) mod switched;
pub(crate) mod transformer;
pub(crate) mod tree;
pub(crate) mod trees;

pub use case::{CASES, Case, Demand, Supply, Wire};
pub use feeding::{Feeding, Power, of_site};
pub(crate) use solve::Collapse;
pub use tree::{Consumer, Load, Node, Tree};

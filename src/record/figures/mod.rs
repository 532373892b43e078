//! What is calculated: readings of loops, buses, supplies and batteries, and what the compiler found. No facts of the
//! wall, so a comparison does not see them here.

pub(crate) mod buses;
pub(crate) mod findings;
pub(crate) mod growth;
pub(crate) mod power;
pub(crate) mod states;

use super::item::Item;

impl Item for states::State {}
impl Item for buses::BusFigures {}
impl Item for power::BoardPower {}
impl Item for findings::Finding {}
impl Item for growth::Growth {}

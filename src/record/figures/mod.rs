//! What is calculated: readings of loops, buses, supplies and batteries, and what the compiler found. No facts of the
//! wall, so a comparison does not see them here.

pub mod buses;
pub mod findings;
pub mod power;
pub mod states;

use super::item::Item;

impl Item for states::State {}
impl Item for buses::BusFigures {}
impl Item for power::BoardPower {}
impl Item for findings::Finding {}

//! Drawings: words and numbers → a scene in millimetres → SVG.
//!
//! A *scene* is a list of marks on paper, y growing downwards. A *mark* has a shape and a *role*, which says what it
//! stands for; how roles look stands in one table. A drawing is a file here: it takes what is to be drawn as plain text
//! and decides where everything goes. Nothing else knows coordinates, and nothing else writes SVG.
//!
//! What is not known is not drawn. Out of scope: what stands in a drawing (`views`), and where it is shown (`emit`).

pub(crate) mod bus_line;
pub(crate) mod chain;
mod code;
pub(crate) mod device_sketch;
pub(crate) mod discharge;
pub(crate) mod enclosure;
pub(crate) mod face;
mod ink;
pub(crate) mod label_sheet;
mod legend;
pub(crate) mod loop_sketch;
mod placing;
pub(crate) mod plan;
pub(crate) mod riser;
mod role;
mod scene;
pub(crate) mod sheet;
mod steps;
pub(crate) mod supply_tree;
pub(crate) mod svg;
#[cfg(test)]
pub(crate) mod tests;
mod text;
pub(crate) mod way_to_service;

pub(crate) use scene::{Link, Point, Scene, Size};

//! The packet: every document over a full, a small, an empty and a hostile site.

mod agreement;
mod bus;
mod dead;
mod device_sketches;
mod documents;
mod drawings;
mod enclosures;
mod ends;
mod figures;
mod joints;
mod loops;
mod naughty;
mod older;
mod pages;
mod paths;
mod power;
mod power_supply;
mod programming;
mod read_back;
mod reserve;
mod riser;
pub mod sites;
mod sources;
mod tables;
mod template_check;
mod two_ports;
mod work_order;

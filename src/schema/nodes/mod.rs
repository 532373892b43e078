//! The table of the language, one file a topic, in the order of the reference.

pub mod board;
pub mod bus;
pub mod cable;
pub mod circuit;
pub mod communicator;
pub mod part;
pub mod places;
pub mod reading;
pub mod site;
pub mod wireless;
pub mod zone;

use super::spec::NodeSpec;

/// The nodes that may stand at the top of a file, in the order of the reference.
pub static TOP: &[&NodeSpec] = &[
    &site::SITE,
    &site::INCLUDE,
    &places::LEVEL,
    &part::PART,
    &cable::CABLE,
    &board::PANEL,
    &board::STRIP,
    &zone::AREA,
    &zone::ZONE,
    &bus::BUS,
    &circuit::CIRCUIT,
    &communicator::COMMUNICATOR,
    &communicator::MONITORING,
    &reading::MEASURED,
    &site::ACCEPT,
];

//! The resolved site as plain data: what is in the wall.
//!
//! References are typed ids. `None` where a reference is wanted means that it could not be resolved and was
//! reported: whoever meets it stays silent. Equality ignores spans. Nothing here is serialisable: views are.
//! Every arena is in canonical order (by name or number), whatever the order of files and nodes.

pub(crate) mod area;
mod bare;
pub(crate) mod board;
pub(crate) mod cable;
mod chain;
pub(crate) mod communicator;
pub(crate) mod conduit;
pub(crate) mod device;
mod identifier;
pub(crate) mod index;
mod input;
pub(crate) mod measured;
mod named;
pub(crate) mod part;
pub(crate) mod place;
pub(crate) mod plan;
mod ports;
pub(crate) mod price;
pub(crate) mod run;
pub(crate) mod site;
pub(crate) mod source;
mod storey;
pub(crate) mod switching;
pub mod terminal;
pub(crate) mod two_wire;
mod watch;
pub(crate) mod zone;

pub use area::{Area, CrossZones, Walk};
pub(crate) use board::BatteryWritten;
pub use board::{Battery, Board, BoardKind, Earth, KeyInUse, OtherBattery, Transformer};
pub(crate) use cable::{CableType, Conductor};
pub use communicator::{Communicator, Hop, HopRef, Monitoring};
pub use conduit::Conduit;
pub use device::{Device, DeviceKind, Near, OutputRef};
pub(crate) use measured::{Measured, MeasuredLoop};
pub use part::{
    AcPort, BandEdges, BatteryPort, Charger, ContactData, Coverage, FaultContact, LinePort, OtherTerminal, Sound, Take,
};
pub(crate) use part::{Band, BusPort, Draw, Input, MarkWritten, Output, Part, RadioData, Sensing, SupplyNeed};
pub use place::{Level, Opening, OpeningKind, Room};
pub use plan::{Hung, Point};
pub use price::{Price, Prices};
pub use run::{Bus, Circuit, Mounted, Owner, Reserve, Run, Spare};
pub use site::{Accept, Building, HouseStyle, LabelSheet, Logo, Revision, Site, Upkeep};
pub use source::Source;
pub(crate) use switching::Fed;
pub use switching::{Drive, OwnSupply, Rating, Switch, SwitchKind, SwitchRef, Switching};
pub(crate) use terminal::{Role, Terminal};
pub use two_wire::{Listed, LoopFed, LoopFeed, Setting};
pub use zone::{Loop, Zone};

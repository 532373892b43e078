//! The resolved site as plain data: what is in the wall.
//!
//! References are typed ids. `None` where a reference is wanted means that it could not be resolved and was
//! reported: whoever meets it stays silent. Equality ignores spans. Nothing here is serialisable: views are.
//! Every arena is in canonical order (by name or number), whatever the order of files and nodes.

pub mod board;
pub mod cable;
mod chain;
pub mod communicator;
pub mod device;
mod input;
pub mod measured;
pub mod part;
pub mod place;
mod ports;
pub mod run;
pub mod site;
pub mod source;
pub mod terminal;
mod watch;
pub mod zone;

pub use board::{Battery, Board, BoardKind, Transformer};
pub use cable::{CableType, Conductor};
pub use communicator::{Communicator, Hop, Monitoring};
pub use device::{Device, DeviceKind, OutputRef};
pub use measured::{Measured, MeasuredLoop};
pub use part::{
    Band, BandEdges, BusPort, Charger, ContactData, Draw, Input, LinePort, Output, Part, RadioData, Sensing,
    SupplyNeed, Take,
};
pub use place::{Level, Opening, OpeningKind, Room};
pub use run::{Bus, Circuit, Mounted, Owner, Run};
pub use site::{Accept, Area, Building, Revision, Site};
pub use source::Source;
pub use terminal::{Role, Terminal};
pub use zone::{Loop, Zone};

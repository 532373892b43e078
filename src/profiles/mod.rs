//! Published lists and limits as data, each with its document and edition.

pub mod bus;
pub mod conductors;
pub mod events;
pub mod guards;
pub mod jackets;
pub mod limits;
pub mod standby;

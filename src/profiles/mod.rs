//! Published lists and limits as data, each with its document and edition.

pub(crate) mod bus;
pub(crate) mod conductors;
pub(crate) mod events;
pub(crate) mod guards;
pub(crate) mod jackets;
pub(crate) mod limits;
pub mod standby;

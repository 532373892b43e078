//! Views → files: Markdown by handlebars, HTML by pulldown-cmark, drawings, CSV, JSON, all in a bundle in memory.
//!
//! Which documents there are stands in [`crate::views::DOCUMENTS`]; nothing here knows any of them but what asks for its
//! name. handlebars and pulldown-cmark are used nowhere else.

#![allow(clippy::wildcard_enum_match_arm, reason = "events of pulldown-cmark, and places in its text")]

pub(crate) mod bundle;
pub(crate) mod calendar;
mod chapter;
pub mod escape;
pub(crate) mod html;
mod joined;
mod links;
mod live;
pub mod markdown;
pub(crate) mod marks;
mod packet;
mod page;
mod picture;
mod rule_pages;
mod sheet;
mod summary;
pub(crate) mod table;
mod unbroken;
mod work_order;

pub use bundle::Bundle;
pub(crate) use chapter::chapter;
pub(crate) use live::{live, without_packet};
pub use packet::packet;
pub(crate) use packet::packet_since;
pub(crate) use summary::summary;
pub use work_order::{work_order, work_order_of_wiring};

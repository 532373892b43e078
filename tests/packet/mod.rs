//! The packet: every document over a full, a small, an empty and a hostile site.

mod documents;
mod figures;
mod loops;
mod pages;
pub mod sites;
mod tables;
mod template_check;
mod work_order;

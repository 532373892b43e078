//! The git side against the `git` program itself, in temporary repositories, offline and without the user's settings.

mod hooks;
#[cfg(unix)]
mod hostile;
mod partial;
mod portfolio;
pub mod remodel;
pub mod repository;
mod revisions;
mod textconv;

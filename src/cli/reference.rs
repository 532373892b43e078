//! `loopwright reference`: the spec language, whole or one node of it.

use super::screen::Screen;
use super::{Exit, Stop};
use crate::base::wording::did_you_mean;
use crate::schema::reference;

/// Prints the reference, or what it says of one node name.
pub(super) fn run(screen: &mut Screen, node: Option<&str>) -> Result<Exit, Stop> {
    let text = match node {
        None => reference::markdown(),
        Some(name) => reference::of(name).ok_or_else(|| unknown(name))?,
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

fn unknown(name: &str) -> Stop {
    let stop = Stop::new(format!("there is no node `{name}`"));
    let names = reference::names();
    match did_you_mean(name, names.iter().copied()) {
        Some(near) => stop.help(format!("did you mean `{near}`?")),
        None => stop.help("`loopwright reference` prints all of them"),
    }
}

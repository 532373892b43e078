//! `loopwright reference`: the spec language as a tour and a list, or one node of it.

use super::prose;
use super::screen::Screen;
use super::{Exit, Stop};
use crate::base::wording::did_you_mean;
use crate::diag::{Format, json};
use crate::emit;
use crate::schema::{grammar, reference};

/// Prints the reference: all of it or the tour, as Markdown or as a page. The tour alone is set for a terminal; of the rest
/// the lines are broken where they are wider than it.
pub(super) fn run(screen: &mut Screen, tour: bool, html: bool) -> Result<Exit, Stop> {
    let (title, markdown) = if tour {
        ("A tour of the spec language", reference::TOUR.to_owned())
    } else {
        ("The spec language", reference::markdown())
    };
    let text = match screen.format {
        _ if html => emit::chapter(title, concat!("loopwright ", env!("CARGO_PKG_VERSION")), &markdown),
        Format::Human(look) if tour => prose::set(look, &markdown),
        Format::Human(look) => look.fit(&markdown),
        _ => markdown,
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

/// Prints what the reference says of one node name.
pub(super) fn node(screen: &mut Screen, name: &str) -> Result<Exit, Stop> {
    let text = reference::of(name).ok_or_else(|| unknown(name))?;
    let text = match screen.format {
        Format::Human(look) => look.fit(&text),
        Format::Short | Format::Json => text,
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

/// Prints the highlighting grammar.
pub(super) fn grammar(screen: &mut Screen) -> Result<Exit, Stop> {
    screen.print(&json::print(&grammar::json()))?;
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

//! Lines of ANSI/SIA DC-05, read and written.

use super::loops::{Asked, NoAnswer};
use super::read;
use crate::events::line::{self, Line, Qualifier, Unreadable};
use crate::resolve::load::FileSource;
use crate::views::event_line::{self, EventLine};

/// A line in words.
///
/// # Errors
/// [`Unreadable`] says what is wrong with the line.
pub fn event(text: &str) -> Result<EventLine, Unreadable> {
    let (line, checked) = line::read(text)?;
    Ok(event_line::of(line, checked, None))
}

/// A line in words, with the zone and the area as the site has them.
///
/// # Errors
/// [`Unreadable`] says what is wrong with the line.
pub fn event_of(files: &dyn FileSource, text: &str) -> Result<Asked<EventLine>, Unreadable> {
    let (line, checked) = line::read(text)?;
    Ok(match read(files) {
        Ok(made) => {
            let answer = Ok(event_line::of(line, checked, Some(&made.compiled)));
            Asked { outcome: made.outcome(), answer }
        }
        Err(outcome) => Asked { outcome: *outcome, answer: Err(NoAnswer::NoSite) },
    })
}

/// The line of an event, with 0000 in place of the account and its check digit.
pub fn event_line(code: u32, area: u32, number: u32, restored: bool) -> String {
    let qualifier = if restored { Qualifier::Restore } else { Qualifier::New };
    Line { qualifier, code, area, number }.with_blank_account()
}

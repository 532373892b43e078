//! `loopwright diff`: what changed between two revisions of a site, and the work that it takes.

use super::arguments::DiffForm;
use super::screen::Screen;
use super::{Exit, Stop, revision};
use crate::diag::{Format, neutral, render};
use crate::session::{self, Compared, WorkOrder};

/// Compares the two sides that the arguments mean, and prints the result.
pub(super) fn run(screen: &mut Screen, sides: &[String], form: DiffForm, wiring: bool) -> Result<Exit, Stop> {
    if form == DiffForm::JsonSchema {
        screen.print(&WorkOrder::schema())?;
        return Ok(Exit::Clean);
    }
    if wiring && !matches!(form, DiffForm::Markdown | DiffForm::Html) {
        return Err(Stop::new("--wiring is a part of a work order, which is asked for by --as")
            .help("Add --as markdown or --as html."));
    }
    let (old, new) = revision::sides(sides)?;
    let Compared { old: before, new: after, order } = session::compare((&old, &old.named), (&new, &new.named));
    old.whole()?;
    new.whole()?;
    let Some(order) = order else {
        let (named, outcome) = if before.site.is_none() { (old.named, before) } else { (new.named, after) };
        let found = render(Format::Short, &outcome.sources, &outcome.diagnostics, render::LIMIT);
        screen.complain(&found);
        return Err(Stop::new(format!("{named} cannot be compared: there is no site to be read in it")));
    };
    let form = if matches!(screen.format, Format::Json) { DiffForm::Json } else { form };
    let text = match form {
        DiffForm::Text => match screen.format {
            Format::Human(look) => look.fit(&neutral::lines(&session::plain(&order))),
            Format::Short | Format::Json => neutral::lines(&session::plain(&order)),
        },
        DiffForm::Markdown => session::print(&order, wiring).0,
        DiffForm::Html => session::print(&order, wiring).1,
        DiffForm::Json | DiffForm::JsonSchema => order.json(),
    };
    screen.print(&text)?;
    Ok(if before.failed() || after.failed() { Exit::Faults } else { Exit::Clean })
}

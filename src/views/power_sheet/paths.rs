//! The ways to the monitoring service when the mains fails.

use serde::Serialize;

use super::{battery, way_drawing};
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::power::path::{self, Link, Lives};
use crate::compiled::Compiled;
use crate::model::{Board, Communicator, Site};
use crate::profiles::standby;
use crate::quantity::Seconds;
use crate::views::{Drawings, Shown};
use crate::words::Paper;

/// A way to the service.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    /// Its place on the page, and that of its drawing; no drawing where the latter is empty.
    mark: String,
    drawn: String,
    way: String,
    lasts: String,
    first: String,
    enough: &'static str,
    drawings: Vec<Shown>,
}

/// The ways, by name.
pub(crate) fn rows(compiled: &Compiled, drawings: &mut Drawings) -> Vec<Row> {
    let asked = standby::of_site(&compiled.site).standby.time();
    let site = &compiled.site;
    let row = |(id, line): (Id<Communicator>, &Communicator)| {
        let enough = |time: Seconds| if time >= asked { "yes" } else { "no" };
        let (first, enough) = match path::lives(site, &compiled.power, id) {
            Lives::Until(links, time) => (names(site, &links), enough(time)),
            Lives::AsThePanel(panel) => {
                (String::new(), panel.map_or("yes", |(_, time)| time.map_or("not known", enough)))
            }
            Lives::NotKnown => (String::new(), ""),
        };
        let drawings = drawings.show(way_drawing::of(compiled, id));
        Row {
            mark: mark(site, id),
            drawn: if drawings.is_empty() { String::new() } else { drawn_mark(site, id) },
            way: line.title.clone(),
            lasts: lasts(compiled, id),
            first,
            enough,
            drawings,
        }
    };
    site.communicators.entries().map(row).collect()
}

/// How long a way lives without mains.
pub(crate) fn lasts(compiled: &Compiled, id: Id<Communicator>) -> String {
    match path::lives(&compiled.site, &compiled.power, id) {
        Lives::Until(_, time) if time.0 > 0.0 => time.to_string(),
        Lives::Until(..) => "ends with the mains".to_owned(),
        Lives::AsThePanel(Some((panel, time))) => as_the_panel(&compiled.site, panel, time),
        Lives::AsThePanel(None) => "as long as the panel".to_owned(),
        Lives::NotKnown => "not known: the spec names no powered device on the way".to_owned(),
    }
}

/// How long a way lives that lives as long as its panel.
pub(crate) fn as_the_panel(site: &Site, panel: Id<Board>, time: Option<Seconds>) -> String {
    let Some(time) = time else { return "as long as the panel: for how long is not known".to_owned() };
    if time.0 > 0.0 {
        return format!("as long as the panel: {}", battery::about(time));
    }
    let called = Paper.board(site, panel);
    match site.boards[panel].battery {
        None => format!("ends with the mains: {called} has no battery"),
        Some(_) => {
            format!("as long as the panel: no time is sure with the battery of {called}, see its hours of standby")
        }
    }
}

/// What gives up first, by name.
pub(crate) fn names(site: &Site, links: &[Link<'_>]) -> String {
    let name = |link: &Link<'_>| match link {
        Link::Hop(hop) => hop.name.value.clone(),
        Link::Board(board) => Paper.board(site, *board),
    };
    list(&links.iter().map(name).collect::<Vec<_>>(), "and")
}

/// The position of a way among those of the site, from 1.
pub(crate) fn number(site: &Site, id: Id<Communicator>) -> usize {
    site.communicators.entries().take_while(|(other, _)| *other != id).count() + 1
}

/// The place of a way's row: "way-1".
pub(crate) fn mark(site: &Site, id: Id<Communicator>) -> String {
    format!("way-{}", number(site, id))
}

/// The place of a way in its drawing: "way-1-drawn".
pub(crate) fn drawn_mark(site: &Site, id: Id<Communicator>) -> String {
    format!("{}-drawn", mark(site, id))
}

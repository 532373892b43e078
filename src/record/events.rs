//! Every event that the site can report. They follow from the rest, so none is a fact.

use super::item::record;
use super::names::Names;
use crate::compiled::Compiled;
use crate::events::{About, Report};
use crate::profiles::handling;
use crate::terms::EventGroup;

record! {
    /// An event that the site can report to the monitoring service.
    Event {
        /// What it is about: "zone", "emergency-key", "board", "output", "circuit", "bus", "communicator", "area" or "site".
        about: &'static str,
        /// Number of the zone.
        zone: Option<u32>,
        /// Name of the board, output, circuit, bus, communicator or area; of an emergency key, which one.
        name: Option<String>,
        /// Name of the board that the output or the key belongs to.
        of_board: Option<String>,
        /// The code of ANSI/SIA DC-05.
        code: u32,
        /// What it means, in our own words; absent where the list has no such code.
        meaning: Option<&'static str>,
        /// What is sent: 1 for new or an opening, 3 for restored or a closing.
        qualifiers: Vec<String>,
        /// The area in two digits, 00 for none.
        area: String,
        /// The number in three digits; absent where it is a user's or the board gives it.
        number: Option<String>,
        /// The letters of SIA DC-03, in the order of the qualifiers; from memory of its appendix, and empty where we know none.
        letters: Vec<String>,
        /// The group that it is handled with, see `event-handling`.
        group: &'static str,
    }

    /// How a group of events is handled.
    Handled {
        /// The group.
        group: &'static str,
        /// What the service is to do.
        action: String,
        /// True where the spec says so; else it is a proposal of common practice.
        given: bool,
    }
}

/// The events, as they stand in the site.
pub(crate) fn events(names: &Names<'_>, compiled: &Compiled) -> Vec<Event> {
    compiled.events.iter().map(|report| of_report(names, report)).collect()
}

/// The handling of every group that something is reported in, in the order of the language.
pub(crate) fn handled(compiled: &Compiled) -> Vec<Handled> {
    let reported = |group: &&EventGroup| compiled.events.iter().any(|report| report.group() == **group);
    let of_group = |group: &EventGroup| {
        let given = compiled.site.handling_of(*group);
        Handled {
            group: group.word(),
            given: given.is_some(),
            action: given.unwrap_or_else(|| handling::usual(*group).to_owned()),
        }
    };
    EventGroup::ALL.iter().filter(reported).map(of_group).collect()
}

fn of_report(names: &Names<'_>, report: &Report) -> Event {
    let site = names.site;
    let (about, zone, name, of_board) = named(names, report.about);
    Event {
        about,
        zone,
        name,
        of_board,
        code: report.code,
        meaning: report.meaning(),
        qualifiers: report.sent.qualifiers().iter().map(|qualifier| qualifier.digit().to_string()).collect(),
        area: format!("{:02}", report.area.map_or(0, |area| site.areas[area].number)),
        number: report.number.digits(),
        letters: sent_letters(report).into_iter().map(str::to_owned).collect(),
        group: EventGroup::word(report.group()),
    }
}

fn sent_letters(report: &Report) -> Vec<&'static str> {
    report.sent.qualifiers().iter().filter_map(|qualifier| report.letters(*qualifier)).collect()
}

/// What kind of thing it is about, its zone's number, its name, and the board it belongs to.
fn named(names: &Names<'_>, about: About) -> (&'static str, Option<u32>, Option<String>, Option<String>) {
    let site = names.site;
    let board = |id| Some(names.board(id).text);
    match about {
        About::Zone(id) => ("zone", Some(site.zones[id].number.value), None, None),
        About::Key(id, key) => ("emergency-key", None, Some(key.word().to_owned()), board(id)),
        About::Board(id) => ("board", None, board(id), None),
        About::Output(output) => {
            let name = site.output(output).map(|output| output.name.value.clone());
            ("output", None, name, board(output.board))
        }
        About::Circuit(id) => ("circuit", None, Some(names.circuit(id).text), None),
        About::Bus(id) => ("bus", None, Some(site.buses[id].name.value.clone()), None),
        About::Way(id) => ("communicator", None, Some(names.communicator(id).text), None),
        About::Area(id) => ("area", None, Some(names.area(id).text), None),
        About::Site => ("site", None, None, None),
    }
}

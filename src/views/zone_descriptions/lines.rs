//! The rows of the list as lines, so that a work order can tell the service which of them differ.

use super::handling::Handling;
use super::others::{Blank, OtherRow};
use super::ways::{Cause, Way};
use super::zones::{KeyRow, Row};
use super::{AreaRow, ZoneDescriptions};
use crate::compiled::Compiled;
use crate::views::sheet_lines::Line;

/// The table of the zones.
pub(in crate::views) const ZONES: &str = "Zones";
/// The table of the events that are no zone's alarm.
pub(in crate::views) const EVENTS: &str = "Events";
/// Its column that says whose number is sent, and what it says of zones.
pub(in crate::views) const NUMBER: &str = "number";
/// What that column says where the number is a zone's.
pub(in crate::views) const OF_ZONE: &str = "the zone's";

/// Events that nobody raises to try them: for these an output or a bus would have to be shorted or cut.
pub(in crate::views) const UNTRIED: [&str; 3] = ["312", "331", "332"];

/// Every row that the service is to have.
pub(in crate::views) fn lines(compiled: &Compiled) -> Vec<Line> {
    // An example, what the form cuts (a remark of each zone has it) and blanks tell the service nothing new; codes and letters
    // follow from the format.
    let ZoneDescriptions {
        local: _,
        width,
        format,
        letters: _,
        codes: _,
        spoken: _,
        example: _,
        example_words: _,
        duress: _,
        test_every,
        ways,
        causes,
        supervision: _,
        rows,
        keys,
        others,
        numbers,
        areas,
        cut: _,
        handling,
        proposed: _,
        blanks: _,
    } = ZoneDescriptions::of(compiled);
    let width = if width.is_empty() { "not given".to_owned() } else { format!("{width} characters") };
    let every = if test_every.is_empty() { "none".to_owned() } else { format!("every {test_every}") };
    let mut lines = vec![
        Line::new("Form", "Report format", vec![("", format.to_owned())]),
        Line::new("Form", "Description", vec![("", width)]),
        Line::new("Form", "Test report", vec![("", every)]),
    ];
    lines.extend(rows.into_iter().map(|row| zone(row, &handling)));
    lines.extend(keys.into_iter().map(key));
    lines.extend(others.into_iter().map(event));
    lines.extend(numbers.into_iter().map(number));
    lines.extend(handling.into_iter().map(handled));
    // What happens to a way is a row with a cell of each.
    let titles: Vec<String> = ways.iter().map(|way| way.title.clone()).collect();
    lines.extend(ways.into_iter().map(way));
    lines.extend(causes.into_iter().map(|found| cause(found, &titles)));
    lines.extend(areas.into_iter().map(area));
    lines
}

fn zone(row: Row, handling: &[Handling]) -> Line {
    let Row { number, description, area, code, meaning, letters, group, remark } = row;
    let action = handling.iter().find(|handling| handling.group == group);
    let cells = vec![
        ("description on the form", description),
        ("area", area),
        ("code", code),
        ("letters", letters),
        ("meaning", meaning),
        ("handled as", group.to_owned()),
        ("what the service is to do", action.map(|action| action.action.clone()).unwrap_or_default()),
        ("remark", remark),
    ];
    Line::new(ZONES, number, cells)
}

fn key(row: KeyRow) -> Line {
    let KeyRow { key, keypad, number, code, meaning, group } = row;
    let cells =
        vec![(NUMBER, number), ("code", code), ("meaning", meaning.to_owned()), ("handled as", group.to_owned())];
    Line::new("Emergency keys", format!("{key}, {keypad}"), cells)
}

fn event(row: OtherRow) -> Line {
    let OtherRow { code, meaning, about, sent, number, group } = row;
    let said = format!("{code} {meaning}");
    let cells = vec![("sent", sent), ("about", about), (NUMBER, number.to_owned()), ("handled as", group.to_owned())];
    Line::new(EVENTS, code, cells).called(said)
}

fn number(row: Blank) -> Line {
    let Blank { about, codes } = row;
    Line::new("Numbers that the board gives", about, vec![("codes", codes)])
}

/// From where a group is reported, the lines of zones and events say.
fn handled(row: Handling) -> Line {
    let Handling { group, events: _, who: _, action, basis } = row;
    let cells = vec![("what the service is to do", action), ("basis", basis.to_owned())];
    Line::new("Who is sent to what", group, cells)
}

fn way(row: Way) -> Line {
    let Way { title, over, lives, missed, seen } = row;
    let cells = vec![
        ("goes over", over.to_owned()),
        ("without mains", lives),
        ("silence is noticed within", missed),
        ("what the service sees when it fails", seen),
    ];
    Line::new("Ways of the report", title, cells)
}

fn cause(row: Cause, titles: &[String]) -> Line {
    let Cause { cause, ways } = row;
    let said: Vec<String> = titles.iter().zip(ways).map(|(title, becomes)| format!("{title}: {becomes}")).collect();
    Line::new("Ways of the report", cause, vec![("", said.join("; "))])
}

/// The zones of an area have it in their own lines.
fn area(row: AreaRow) -> Line {
    let AreaRow { number, title, zones: _ } = row;
    Line::new("Areas", number, vec![("", title)])
}

//! The rows of the sheet as lines, so that a work order can have programmed what differs.

use super::outputs;
use super::{AreaRow, BoardRow, CrossRow, KeyRow, Sheet, TypeRow, WayRow, WirelessRow, ZoneRow, sheet};
use crate::events;
use crate::model::Site;
use crate::record::Kind;
use crate::register::Wiring;
use crate::views::sheet_lines::Line;

/// The table of the areas.
pub(in crate::views) const AREAS: &str = "area";
/// The zones that confirm each other.
pub(in crate::views) const CONFIRMING: &str = "confirming";
/// The table of what hangs on a bus.
pub(in crate::views) const BOARDS: &str = "board";
/// The emergency keys.
pub(in crate::views) const KEYS: &str = "key";
/// The types of zone.
pub(in crate::views) const TYPES: &str = "type";
/// The zones, wired and wireless.
pub(in crate::views) const ZONES: &str = "zone";
/// The form of the reports, and the test report.
pub(in crate::views) const REPORTS: &str = "reports";
/// The outputs.
pub(in crate::views) const OUTPUTS: &str = "output";

/// Every row that is keyed in.
pub(in crate::views) fn lines(site: &Site, wiring: &Wiring) -> Vec<Line> {
    let Sheet {
        areas,
        buses: _,
        boards,
        types,
        zones,
        wireless,
        reserved,
        keys,
        outputs,
        ways,
        format,
        test_every,
        duress,
    } = sheet(site, wiring);
    let mut lines = Vec::new();
    if duress {
        lines.push(
            Line::new("code", "duress", Vec::new())
                .called("code under duress (event 121), which is not one up or down from another code"),
        );
    }
    for row in areas {
        area(row, &mut lines);
    }
    lines.extend(boards.into_iter().map(board));
    lines.extend(keys.into_iter().map(key));
    lines.extend(types.into_iter().map(kind));
    let is_sent = !ways.is_empty();
    let event = |number: &str| {
        let zone = site.zones.iter().find(|zone| zone.number.value.to_string() == number);
        zone.filter(|_| is_sent).and_then(events::code).map(|code| code.to_string()).unwrap_or_default()
    };
    lines.extend(zones.into_iter().map(|row| zone(row, event)));
    lines.extend(wireless.into_iter().map(|row| by_radio(row, event)));
    lines.push(
        Line::new("reserved", "kept for later, switched off", vec![("", none_or(reserved))])
            .called("zones kept for later, switched off"),
    );
    lines.extend(outputs.into_iter().map(output));
    lines.extend(ways.into_iter().map(way));
    if is_sent {
        let agreed = |said: String| if said.is_empty() { "as agreed with the service".to_owned() } else { said };
        let every = if test_every.is_empty() { test_every } else { format!("every {test_every}") };
        lines.push(Line::new(REPORTS, "form of the reports", vec![("", agreed(format.to_owned()))]));
        lines.push(Line::new(REPORTS, "test report", vec![("", agreed(every))]));
    }
    lines
}

fn none_or(said: String) -> String {
    if said.is_empty() { "none".to_owned() } else { said }
}

/// The zones of an area have it in their own rows.
fn area(row: AreaRow, lines: &mut Vec<Line>) {
    let AreaRow { name, number, title, entry, exit, abort, trips, sounders, zones: _, cross_zones } = row;
    // The panel knows it by its number: one that takes the number of another has its place.
    let (key, said) = match number.as_str() {
        "" => (name, format!("area {title}")),
        number => (number.to_owned(), format!("area {number} {title}")),
    };
    let cells = vec![
        ("number", number),
        ("name", title),
        ("entry delay", entry),
        ("exit delay", exit),
        ("abort window", abort),
        ("alarms of a zone until it is shut out", trips),
        ("sounders stop after", sounders),
    ];
    lines.push(Line::new(AREAS, key, cells).called(said));
    for row in cross_zones {
        let CrossRow { zones, window } = row;
        let said = format!("rule: zones {zones} confirm each other");
        lines.push(Line::new(CONFIRMING, zones, vec![("within", window)]).called(said));
    }
}

fn board(row: BoardRow) -> Line {
    let BoardRow { name, bus, address, title, kind, room, inputs } = row;
    let cells = vec![
        ("bus", bus),
        ("address", address),
        ("kind", kind.to_owned()),
        ("where", room),
        ("its inputs are the panel's", inputs),
    ];
    Line::new(BOARDS, name, cells).called(title).about(Kind::Board)
}

fn key(row: KeyRow) -> Line {
    let KeyRow { keypad, key, number } = row;
    let said = format!("emergency key {key} of {keypad}");
    Line::new(KEYS, said, vec![("number that it reports", number)])
}

/// The zones of a type have it in their own rows.
fn kind(row: TypeRow) -> Line {
    let TypeRow { word, does, zones: _ } = row;
    Line::new(TYPES, word, Vec::new()).called(format!("type of zone {word} ({does}): find the board's own"))
}

fn zone(row: ZoneRow, event: impl Fn(&str) -> String) -> Line {
    let ZoneRow { number, description, kind, area, at, wiring } = row;
    of_zone([number, description, kind, area], [("sensed by", at), ("set for", wiring)], event)
}

fn by_radio(row: WirelessRow, event: impl Fn(&str) -> String) -> Line {
    let WirelessRow { number, description, kind, area, detector, receiver } = row;
    of_zone([number, description, kind, area], [("detector", detector), ("heard by", receiver)], event)
}

/// A zone with what is its own and with what it is sensed by.
fn of_zone(own: [String; 4], by: [(&'static str, String); 2], event: impl Fn(&str) -> String) -> Line {
    let [number, description, _, _] = &own;
    let (key, said, event) = (number.clone(), format!("zone {number} {description}"), event(number));
    let cells = ["number", "description", "type", "area"].into_iter().zip(own).chain(by).chain([("event", event)]);
    Line::new(ZONES, key, cells.collect()).called(said).about(Kind::Zone)
}

fn output(row: outputs::Row) -> Line {
    let outputs::Row { output, feeds, by } = row;
    let head = if by.starts_with(outputs::ALWAYS) { "" } else { "on by" };
    Line::new(OUTPUTS, output, vec![("what hangs there", feeds), (head, by)])
}

fn way(row: WayRow) -> Line {
    let WayRow { name, title, over, by, supervised } = row;
    let said = format!("way to the monitoring service, {title}");
    let cells =
        vec![("name", title), ("over", over.to_owned()), ("from", by), ("its silence is noticed within", supervised)];
    Line::new("way", name, cells).called(said).about(Kind::Communicator)
}

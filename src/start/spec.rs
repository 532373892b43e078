//! The rows of a table as text of a spec. What is not known is not written: that is what the checks ask for.

use std::collections::BTreeSet;
use std::fmt::Write;

use super::kind::Watch;
use super::names::fresh;
use super::table::{LONGEST_DESCRIPTION, PANEL, Row, Table, Zone};
use crate::base::wording::{cut, kdl_text};

/// Inputs of an expander.
const EXPANDER: usize = 12;

/// Wires that a screw of the panel takes.
const SCREW: usize = 2;

/// The room that no table has.
const PANEL_ROOM: &str = "panel-place";

/// What everything in a table is called in the spec.
struct Names {
    /// Titles of rooms and their names, in order.
    rooms: Vec<(String, String)>,
    /// For each row the name of its opening.
    openings: Vec<String>,
}

fn names(table: &Table) -> Names {
    let mut taken = BTreeSet::from([PANEL_ROOM.to_owned()]);
    let mut rooms: Vec<(String, String)> = Vec::new();
    for row in &table.rows {
        if !rooms.iter().any(|(title, _)| *title == row.room) {
            rooms.push((row.room.clone(), fresh(&row.room, "room", &mut taken)));
        }
    }
    let mut taken = BTreeSet::new();
    let openings = table.rows.iter().map(|row| fresh(&row.opening, "opening", &mut taken)).collect();
    Names { rooms, openings }
}

impl Names {
    fn room(&self, row: &Row) -> &str {
        self.rooms.iter().find(|(title, _)| *title == row.room).map_or("", |(_, name)| name)
    }
}

/// Levels, rooms and openings.
pub(super) fn places(table: &Table) -> String {
    let names = names(table);
    let mut text = "// One level, because a table of openings has no storeys: split it where the house has more. A room may have a kind=,\n// and a rect with its measures: then it is drawn.\nlevel \"ground\" title=\"Ground floor\" {\n".to_owned();
    for (title, name) in &names.rooms {
        let _ = write!(text, "    room {} title={}", kdl_text(name), kdl_text(title));
        let openings = table.rows.iter().zip(&names.openings).filter(|(row, _)| row.room == *title);
        let mut any = false;
        for (row, opening) in openings {
            if let Watch::Opening { node, .. } = row.kind.watch {
                text.push_str(if any { "" } else { " {\n" });
                let _ = writeln!(text, "        {node} {} title={}", kdl_text(opening), kdl_text(&row.opening));
                any = true;
            }
        }
        text.push_str(if any { "    }\n" } else { "\n" });
    }
    let _ = writeln!(
        text,
        "\n    // Where does the panel hang? If it is one of the rooms above, name that in boards.kdl instead."
    );
    let _ = writeln!(text, "    room {} title=\"Where the panel hangs\"\n}}", kdl_text(PANEL_ROOM));
    text
}

/// The output that feeds a zone's detectors.
fn supply(table: &Table, zone: &Zone) -> Option<&'static str> {
    zone.rows.iter().filter_map(|row| table.rows.get(*row)).find_map(|row| match row.kind.watch {
        Watch::Detector { supply, .. } => supply,
        Watch::Opening { .. } | Watch::Button => None,
    })
}

/// The number of each zone with its place among all inputs: zones that are on the panel by the table first, then those with a
/// supply, because only the panel has that.
fn inputs(table: &Table) -> Vec<u32> {
    let mut numbers: Vec<u32> = table.zones.keys().copied().collect();
    numbers.sort_by_key(|number| {
        let zone = table.zones.get(number);
        let given = zone.and_then(|zone| given(table, zone));
        (given.is_none(), zone.and_then(|zone| supply(table, zone)).is_none())
    });
    numbers
}

/// The input of the panel that a zone is on by the table.
fn given(table: &Table, zone: &Zone) -> Option<u32> {
    zone.rows.iter().filter_map(|row| table.rows.get(*row)).find_map(|row| row.cable.input)
}

/// The panel, a strip for an output that more cables want than its screws take, and an expander for every dozen zones that
/// the panel has no input for.
pub(super) fn boards(table: &Table) -> String {
    let mut text = format!("panel \"main\" title=\"Panel\" part=\"control-16\" room={}\n", kdl_text(PANEL_ROOM));
    let fed: Vec<&str> =
        inputs(table).iter().take(PANEL).filter_map(|number| supply(table, table.zones.get(number)?)).collect();
    for output in ["aux", "fire"] {
        let cables = fed.iter().filter(|fed| **fed == output).count();
        if cables > SCREW {
            let _ = write!(
                text,
                "\n// More cables want this output than its screws take.\nstrip \"{output}-strip\" title=\"Supply strip, {output}\" board=\"main\" output=\"{output}\" ways={cables}\n"
            );
        }
    }
    let expanders = table.zones.len().saturating_sub(PANEL).div_ceil(EXPANDER);
    if expanders == 0 {
        return text;
    }
    text.push_str("\n// More zones than the panel has inputs. Each expander may hang where its zones are: then write the room and the length.\nbus \"data\" board=\"main\" {\n");
    for expander in 1..=expanders {
        let _ = writeln!(text, "    run \"bus-4\" room={} {{", kdl_text(PANEL_ROOM));
        let _ = writeln!(
            text,
            "        module \"expander-{expander}\" title=\"Expander {expander}\" part=\"expander-12\" address={expander}"
        );
        text.push_str(if expander == expanders { "        terminator (ohm)120\n    }\n" } else { "    }\n" });
    }
    text.push_str("}\n");
    text
}

/// The zones, each with its loop: a run to each place, one behind the other.
pub(super) fn zones(table: &Table) -> String {
    let names = names(table);
    let mut text = "// Each run is a cable from the place before it. Write its length=, measured along the way that it takes, with slack; and\n// put the runs into the order in which the cable passes.\n".to_owned();
    let inputs = inputs(table);
    let on_panel: BTreeSet<u32> = inputs.iter().copied().take(PANEL).collect();
    // In a house that has its alarm already the table goes by the panel's inputs. Without gaps they come by themselves.
    let has_gaps = (1..).zip(&on_panel).any(|(input, number)| input != *number);
    // Where the table says inputs, those are the ones.
    let says = table.zones.values().any(|zone| given(table, zone).is_some());
    let mut said = BTreeSet::new();
    for (number, zone) in &table.zones {
        let place = inputs.iter().position(|at| at == number).unwrap_or_default();
        let board = match (given(table, zone), place.checked_sub(PANEL)) {
            (Some(input), _) => format!("main\" input={input}"),
            (None, None) if !says && has_gaps && (1..=PANEL).contains(&(*number as usize)) => {
                format!("main\" input={number}")
            }
            (None, None) => "main\"".to_owned(),
            (None, Some(past)) => format!("expander-{}\"", 1 + past / EXPANDER),
        };
        let description = description(table, zone, &mut said);
        zone_text(&mut text, table, &names, (*number, &description), zone, &board);
    }
    text
}

/// What a zone is called by its first thing: with the room where that says no more than its kind, or another is called so.
fn called(table: &Table, first: &Row) -> String {
    let opening = first.opening.to_lowercase();
    let is_bare = first.kind.words.first().is_some_and(|word| opening == *word || opening == format!("{word}s"));
    let is_alike = table.rows.iter().any(|row| row.opening.to_lowercase() == opening && row.room != first.room);
    if is_bare {
        format!("{} {opening}", first.room)
    } else if is_alike && !opening.contains(&first.room.to_lowercase()) {
        format!("{}, {}", first.opening, first.room)
    } else {
        first.opening.clone()
    }
}

/// A zone's own description, or one after its first thing that no zone before it has: whoever reads the form must know which it is.
fn description(table: &Table, zone: &Zone, said: &mut BTreeSet<String>) -> String {
    let others = zone.rows.len().saturating_sub(1);
    let others = if others > 0 { format!(" and {others} more") } else { String::new() };
    let first =
        zone.rows.first().and_then(|at| table.rows.get(*at)).map(|first| called(table, first)).unwrap_or_default();
    let with = |behind: &str| cut(&first, LONGEST_DESCRIPTION - behind.len()) + behind;
    let numbered = (2..).map(|number| with(&format!(" {number}{others}")));
    let mut derived = std::iter::once(with(&others)).chain(numbered).filter(|text| !said.contains(text));
    let description = zone.description.clone().or_else(|| derived.next()).unwrap_or_default();
    said.insert(description.clone());
    description
}

/// `board`: its name with the quote behind it, and the input where one is written.
fn zone_text(
    text: &mut String,
    table: &Table,
    names: &Names,
    (number, description): (u32, &str),
    zone: &Zone,
    board: &str,
) {
    let rows: Vec<(&Row, &String)> =
        zone.rows.iter().filter_map(|at| Some((table.rows.get(*at)?, names.openings.get(*at)?))).collect();
    let Some((first, _)) = rows.first() else { return };
    // A door makes its zone wait; what one detector needs, its cable must carry past all before it.
    let kind = rows
        .iter()
        .map(|(row, _)| row.kind)
        .find(|kind| kind.zone == "entry-exit")
        .map_or(first.kind.zone, |kind| kind.zone);
    let powered = |row: &Row| matches!(row.kind.watch, Watch::Detector { supply: Some(_), .. });
    let cable = rows.iter().find(|(row, _)| powered(row)).map_or(first.kind.cable, |(row, _)| row.kind.cable);
    let resistor = rows.iter().find_map(|(row, _)| row.cable.resistor.as_deref()).unwrap_or("\"2k2\"");
    let _ = writeln!(text, "\nzone {number} {} type=\"{kind}\" area=\"house\" {{", kdl_text(description));
    let _ = writeln!(text, "    loop \"end-of-line\" board=\"{board} {{");
    for (nth, (row, opening)) in rows.iter().enumerate() {
        let title = kdl_text(&row.opening);
        let (room, device) = match row.kind.watch {
            Watch::Opening { contact, .. } => (None, format!("contact \"{contact}\" on={}", kdl_text(opening))),
            Watch::Detector { part, supply } => {
                // An expander has no output: the check then says what else can feed it.
                let supply = supply
                    .filter(|_| board.starts_with("main\""))
                    .map(|output| format!(" supply=\"{output}\""))
                    .unwrap_or_default();
                (Some(names.room(row)), format!("detector \"{part}\" title={title}{supply}"))
            }
            Watch::Button => (Some(names.room(row)), format!("contact \"panic-button\" title={title}")),
        };
        let room = room.map(|room| format!(" room={}", kdl_text(room))).unwrap_or_default();
        let length = row.cable.length.as_ref().map(|length| format!(" length={length}")).unwrap_or_default();
        let existing = if row.cable.existing { " existing=#true" } else { "" };
        let _ = writeln!(text, "        run \"{cable}\"{length}{room}{existing} {{\n            {device}");
        if nth + 1 == rows.len() {
            let _ = writeln!(text, "            resistor {resistor}");
        }
        text.push_str("        }\n");
    }
    text.push_str("    }\n}\n");
}

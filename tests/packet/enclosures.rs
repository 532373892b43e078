//! The drawings of enclosures and the terminal schedule say the same: every drawing is read back and held against the
//! rows of the CSV, and each of its lines against the row that it leads to.

use loopwright::compiled::Compiled;
use loopwright::views::DOCUMENTS;
use roxmltree::{Document, Node};

use super::sites::{empty_site, full_site, hostile_site, of_files, packet, site};
use super::{joints, older};
use crate::alder_mill::AlderMill;
use crate::demos;

/// Text of a drawing whose lines stand right below each other.
#[derive(Debug)]
struct Paragraph {
    /// What it is: "letters", "purpose", "name", "place", "marking".
    class: String,
    x: f64,
    /// The base lines of its first and last line.
    top: f64,
    y: f64,
    said: String,
    /// The row that it leads to.
    row: String,
}

/// What a drawing says of the wires of a board.
#[derive(Debug, Default)]
struct Said {
    /// Mark, letters and purpose of every wire, with the row that they lead to.
    wires: Vec<(String, [String; 3])>,
    /// Cable or lead, letters, and where it goes.
    ends: Vec<[String; 3]>,
}

/// Blanks do not count: lines break at them, and behind hyphens without one.
fn closed(said: &str) -> String {
    said.chars().filter(|sign| !sign.is_whitespace()).collect()
}

fn paragraphs(svg: &str) -> Vec<Paragraph> {
    let drawing = Document::parse(svg).unwrap();
    let number = |node: &Node, name: &str| node.attribute(name).unwrap().parse::<f64>().unwrap();
    let mut found: Vec<Paragraph> = Vec::new();
    let mut goes_on = false;
    for node in drawing.descendants().filter(|node| node.attribute("class").is_some()) {
        if node.tag_name().name() != "text" {
            goes_on = false;
            continue;
        }
        let (class, x, y) = (node.attribute("class").unwrap(), number(&node, "x"), number(&node, "y"));
        let said = closed(node.text().unwrap_or_default());
        match found.last_mut() {
            Some(before) if goes_on && before.class == class && before.x == x && (y - before.y - 4.0).abs() < 0.015 => {
                before.said.push_str(&said);
                before.y = y;
            }
            _ => {
                let to = node.parent_element().and_then(|parent| parent.attribute("href")).unwrap_or_default();
                let row = to.strip_prefix("terminal-schedule.html#").unwrap_or_default().to_owned();
                found.push(Paragraph { class: class.to_owned(), x, top: y, y, said, row });
            }
        }
        goes_on = true;
    }
    found
}

/// Reads a part of a drawing back.
fn read(svg: &str, said: &mut Said) {
    let all = paragraphs(svg);
    let marks: Vec<&Paragraph> = all.iter().filter(|text| text.class == "marking").collect();
    // The letters at the terminals; those behind a cable stand further right.
    let column = all.iter().filter(|text| text.class == "letters").map(|text| text.x).fold(f64::MAX, f64::min);
    let mut wire: Option<(&Paragraph, [String; 3])> = None;
    let mut wires = Vec::new();
    // Name, letters and place of what stands behind a cable or a lead.
    let mut end: Option<[String; 3]> = None;
    let mut ends = Vec::new();
    for text in &all {
        let said = || text.said.clone();
        match text.class.as_str() {
            "letters" if text.x == column => wires.extend(wire.replace((text, [String::new(), said(), String::new()]))),
            "purpose" => match &mut wire {
                Some((of, [_, _, purpose])) if (of.y - text.y).abs() < 0.015 => *purpose = said(),
                _ => wires.extend(wire.replace((text, [String::new(), String::new(), said()]))),
            },
            "name" => ends.extend(end.replace([said(), String::new(), String::new()])),
            "letters" => match &mut end {
                Some([_, letters, place]) if letters.is_empty() && place.is_empty() => *letters = said(),
                Some([name, ..]) => {
                    let next = [name.clone(), said(), String::new()];
                    ends.extend(end.replace(next));
                }
                None => panic!("letters without a cable: {text:?}"),
            },
            "place" => end.as_mut().unwrap_or_else(|| panic!("nothing goes to {text:?}"))[2] = said(),
            _ => {}
        }
    }
    for [name, letters, place] in
        ends.into_iter().chain(end).filter(|[_, letters, place]| !(letters.is_empty() && place.is_empty()))
    {
        said.ends.extend(letters.split(',').map(|letters| [name.clone(), letters.to_owned(), place.clone()]));
    }
    for (at, [_, letters, purpose]) in wires.into_iter().chain(wire) {
        // A mark stands at the upper edge of its terminal, as high as the first wire there.
        let mark = marks.iter().rev().find(|mark| mark.top < at.y + 1.0).map(|mark| mark.said.clone());
        said.wires.push((at.row.clone(), [mark.unwrap_or_default(), letters, purpose]));
    }
}

/// What the rows of all boards want to be said.
fn wanted(made: &Compiled) -> (Vec<[String; 3]>, Vec<[String; 3]>) {
    let document = DOCUMENTS.iter().find(|document| document.name == "terminal-schedule").unwrap();
    let (mut wires, mut ends) = (Vec::new(), Vec::new());
    for row in document.table.unwrap()(made).rows {
        let [board, _, mark, state, cable, conductor, purpose, goes, end] = row.try_into().unwrap();
        if board.is_empty() {
            continue;
        }
        let is_nothing = ["free", "stays empty", "not in the spec"].contains(&state.as_str());
        // "GN" of "GN green", "WH no. 2" of "WH no. 2 white", "GNYE, 14 AWG" of "GNYE green/yellow, 14 AWG".
        let letters = match conductor.split_once(' ') {
            Some((code, rest)) if code.chars().all(|sign| sign.is_ascii_uppercase()) => {
                let number = rest.strip_prefix("no. ").and_then(|rest| rest.split([' ', ',']).next());
                let number = number.map(|number| format!(" no. {number}")).unwrap_or_default();
                format!("{code}{number}{}", rest.find(',').map_or("", |comma| &rest[comma..]))
            }
            _ if is_nothing => state.clone(),
            _ => conductor,
        };
        let mark = if mark.is_empty() { state } else { mark };
        wires.push([&mark, &letters, &purpose].map(|said| closed(said)));
        // Where a conductor goes nowhere, its cable says nothing of it.
        if !is_nothing && (!goes.is_empty() || end.is_empty()) {
            let letters = if end.is_empty() { String::new() } else { letters };
            ends.push([&cable, &letters, &goes].map(|said| closed(said)));
        }
    }
    (wires, ends)
}

/// True where a text is drawn whole, or cut and marked so.
fn is(drawn: &str, whole: &str) -> bool {
    drawn == whole || drawn.strip_suffix('…').is_some_and(|start| whole.starts_with(start))
}

/// Takes each of the wanted out of the drawn; none of either may be left.
fn same(name: &str, mut drawn: Vec<[String; 3]>, wanted: Vec<[String; 3]>) {
    for one in wanted {
        let found = drawn.iter().position(|drawn| drawn.iter().zip(&one).all(|(drawn, whole)| is(drawn, whole)));
        let Some(found) = found else { panic!("{name}: {one:?} is not drawn, but {drawn:#?}") };
        drawn.swap_remove(found);
    }
    assert!(drawn.is_empty(), "{name}: drawn and on no row: {drawn:#?}");
}

#[test]
fn every_row_at_a_board_is_drawn_and_nothing_else() {
    let sites = [
        ("full", full_site()),
        ("empty", empty_site()),
        ("hostile", hostile_site()),
        ("alder-mill", of_files(&AlderMill::new().files())),
        ("larch-bungalow", of_files(&demos::files("larch-bungalow"))),
        ("garden-flat", of_files(&demos::files("garden-flat"))),
        ("joined in an enclosure", joints::in_enclosure()),
        ("joined in a box", joints::in_box()),
        ("own supply in mid-bus", super::own_supply::in_mid_bus()),
        ("own supply at the end", super::own_supply::at_the_end()),
        ("star", older::star()),
        ("two-wire", site(&older::fed("return"))),
        ("dead", super::dead::without_zone_2(false)),
        ("dead and off", super::dead::without_zone_2(true)),
    ];
    for (name, made) in sites {
        let mut said = Said::default();
        let mut rows = Vec::new();
        let files = packet(&made).files;
        for (file, bytes) in files.iter().filter(|(file, _)| file.starts_with("enclosure-")) {
            let before = said.wires.len();
            read(std::str::from_utf8(bytes).unwrap(), &mut said);
            let board = file.trim_start_matches("enclosure-").trim_end_matches(".svg").split('-').next().unwrap();
            for (row, wire) in &said.wires[before..] {
                assert!(row.starts_with(&format!("board-{board}-")), "{name}, {file}: {row}");
                rows.push((row.clone(), wire.clone()));
            }
        }
        let schedule = std::str::from_utf8(&files["terminal-schedule.md"]).unwrap();
        for (row, [_, letters, purpose]) in &rows {
            let line = schedule.lines().find(|line| line.contains(&format!("](#{row})")));
            let line = closed(&line.unwrap_or_else(|| panic!("{name}: no row {row}")).replace('\\', ""));
            assert!(line.contains(&format!("](enclosures.md#{row})")), "{name}: {line} does not lead to its drawing");
            let code = letters.split([',', '…']).next().unwrap();
            assert!(line.contains(code), "{name}: {letters} is not on {line}");
            // A joint's row tells what both of its conductors do.
            let purpose = purpose.trim_end_matches('…').trim_end_matches(",out").trim_end_matches(",back");
            assert!(line.contains(purpose), "{name}: {purpose} is not on {line}");
        }
        let (wires, ends) = wanted(&made);
        assert_eq!(said.wires.is_empty(), name == "empty");
        same(name, said.wires.into_iter().map(|(_, wire)| wire).collect(), wires);
        same(name, said.ends, ends);
    }
}

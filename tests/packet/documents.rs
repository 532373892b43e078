//! What stands on the sheets.

use std::collections::{BTreeMap, BTreeSet};

use loopwright::resolve::load::MemoryFiles;
use loopwright::session;
use loopwright::views::DOCUMENTS;

use super::sites::{FULL, empty_site, full_site, hostile_site, markdown, packet, schedule};
use crate::golden;
use loopwright::compiled::Compiled;

/// The rows of a document's table by the names of its columns.
fn rows(made: &Compiled, name: &str) -> Vec<BTreeMap<&'static str, String>> {
    let document = DOCUMENTS.iter().find(|document| document.name == name).unwrap();
    let table = document.table.unwrap()(made);
    table.rows.into_iter().map(|row| table.columns.iter().copied().zip(row).collect()).collect()
}

/// What the schedule says about one terminal: cable, conductor, function, goes to.
fn at(made: &Compiled, board: &str, mark: &str) -> Vec<String> {
    rows(made, "terminal-schedule")
        .into_iter()
        .filter(|row| row["board"] == board && row["terminal"] == mark)
        .map(|row| {
            [&row["cable"], &row["conductor"], &row["function"], &row["goes to"]].map(String::as_str).join(" | ")
        })
        .collect()
}

#[test]
fn terminals_tell_what_is_under_them() {
    let made = full_site();
    assert_eq!(at(&made, "Main panel", "I2"), ["Z2 | GN green | zone 2 loop, out | Motion, hall"]);
    // A return that two loops share.
    assert_eq!(
        at(&made, "Main panel", "R1"),
        [
            "Z1 | RD red | zone 1 loop, back | on by Z1-2 to Side window (Hall)",
            "Z2 | WH white | zone 2 loop, back | Motion, hall",
        ]
    );
    // The strip stands between the output and the detector.
    assert_eq!(
        at(&made, "Main panel", "A+"),
        [
            "link | short wire | supply + of output aux | Supply strip, terminal in+",
            "link | short wire | supply + of output aux | Main panel, terminal C2",
        ]
    );
    // The relay's contact stands in the positive, the transistor in the negative, and a dry contact in neither.
    assert_eq!(at(&made, "Main panel", "C2"), ["link | short wire | relay-2, common | Main panel, terminal A+"]);
    assert_eq!(
        at(&made, "Main panel", "M2"),
        [
            "FLASH-1 | BK black | supply + from aux through relay-2 | Strobe (Landing), terminal +; from there a short wire to Relay of 12 V (Landing), terminal +"
        ]
    );
    assert_eq!(
        at(&made, "Main panel", "T1"),
        ["ARMED-LIGHT-1 | RD red | supply − from aux through transistor light-1 | Indicator (Hall), terminal -"]
    );
    assert_eq!(
        at(&made, "Main panel", "C1"),
        ["GATE-1 | BK black | contact, common of relay-1 | Gate operator's input (Hall), terminal input"]
    );
    assert_eq!(at(&made, "Main panel", "K1"), [" |  | relay-1, break contact | "]);
    assert_eq!(at(&made, "Supply strip", "1+"), ["Z2 | RD red | supply + from aux | Motion, hall, terminal +"]);
    assert_eq!(at(&made, "Supply strip", "4-"), [" |  | supply − of way 4 | "]);
    // Two home runs of one series loop, and the resistor at the board.
    assert_eq!(
        at(&made, "Main panel", "I3"),
        [
            "Z3 | BK black | zone 3 loop, out | Reed contact, Store window; on the free lead of the resistor in series, not under this screw",
            "resistor | lead | zone 3 | in series between this terminal and the cable: 2.2 kΩ ±5 % (red red red gold)",
        ]
    );
    assert_eq!(
        at(&made, "Main panel", "LT"),
        ["LINE-1 | RD red | line from the street, tip | the line's jack, position 5"]
    );
    // The bus: in from the cable, on by links, the terminator at its end.
    assert_eq!(
        at(&made, "Receiver", "A"),
        [
            "link | short wire | bus data A | Expander, terminal A",
            "terminator | lead | end of the bus | across to terminal B: 120 Ω ±5 % (brown red brown gold)",
        ]
    );
}

#[test]
fn no_conductor_and_no_terminal_is_missing() {
    for made in [full_site(), hostile_site()] {
        let rows = rows(&made, "terminal-schedule");
        // What lies across has a lead at both of its terminals, what stands in series at one.
        let leads: usize = made.wiring.fitted.iter().map(|fitted| if fitted.in_series() { 1 } else { 2 }).sum();
        let landed = made.wiring.terminals.values().map(Vec::len).sum::<usize>() + leads;
        let under_screws = |row: &&BTreeMap<_, String>| {
            row["state"] == "in use" && !["", "joint", "no terminal"].contains(&row["terminal"].as_str())
        };
        assert_eq!(rows.iter().filter(under_screws).count(), landed);
        for (id, _) in made.site.boards.entries() {
            for terminal in loopwright::model::terminal::terminals(&made.site, id) {
                assert!(rows.iter().any(|row| row["terminal"] == terminal.mark));
            }
        }
    }
}

#[test]
fn the_far_end_has_its_path_and_joints_and_spares_are_listed() {
    let schedule = schedule(&full_site());
    for wanted in [
        "| **Z2** | RD red | supply + from aux | Motion, hall, terminal + |",
        "| zone 2 loop | GN → Motion, hall: tamper, then alarm → resistor 2.2 kΩ ±5 % (red red red gold) → WH |",
        "| Z2 | BU blue, YE yellow | *spare* | park it here, marked |",
        "| **Z1-2** | no. 1, no. 2 | zone 1 loop | no. 1 → Reed contact, Side window (Hall): alarm → resistor",
        "across GN and WH: Smoke, landing: alarm; resistor 2.2 kΩ",
        "| Z3: RD red | Z3-2: BK black | zone 3 loop |",
        "| **4-** | *free* |  | *supply − of way 4* |  |",
    ] {
        assert!(schedule.contains(wanted), "{wanted}\n\n{schedule}");
    }
}

#[test]
fn labels_fit_and_differ() {
    for made in [full_site(), hostile_site()] {
        let rows = rows(&made, "wire-labels");
        assert_eq!(rows.len(), made.wiring.cables.len() + made.wiring.dead.len());
        let in_use = rows.iter().filter(|row| row["state"] != "dead");
        let ends = in_use.flat_map(|row| [(&row["label"], &row["near end"]), (&row["label"], &row["far end"])]);
        let (texts, count) = ends.fold((BTreeSet::new(), 0), |(mut texts, count), end| {
            texts.insert(end);
            (texts, count + 1)
        });
        assert_eq!(texts.len(), count, "two ends have one text: {rows:#?}");
    }
    let rows = rows(&full_site(), "wire-labels");
    let line = |label: &str| -> Vec<String> {
        let row = rows.iter().find(|row| row["label"] == label).unwrap();
        vec![row["near end"].clone(), row["far end"].clone()]
    };
    assert_eq!(line("Z2"), ["to Motion, hall", "from Main panel"]);
    assert_eq!(line("DATA-3"), ["to Expander", "from Hall keypad"]);
    assert_eq!(line("Z1-2"), ["to Side window", "from Front door"]);
}

#[test]
fn the_cover_counts_and_tells_what_is_open() {
    let cover = markdown(&full_site(), "index") + &markdown(&full_site(), "overview");
    for wanted in [
        "**Full house** · revision **C** of 2027-02-03 · for: everyone",
        " · for: everyone · Strip added",
        "| [Terminal schedule](terminal-schedule.md) ([table](terminal-schedule.csv)) | installer |",
        "| zones, wired | 4 |",
        "| cables | 16, 530 ft in all |",
        "| loads on outputs | 4 |",
        "| Main panel: relays and transistors | 3 | 3 | 0 |",
        "| 22 AWG pair, CL2R | 8 | 349 ft |",
        "open warning",
        "open note",
        "| accepted thing | it is meant |",
        "| Day the battery of Main panel was put in | |",
        "Figures held against the data sheets of the parts bought: Smoke detector, generic",
        "The authority having jurisdiction, the equipment's own instructions and local amendments prevail.",
    ] {
        assert!(cover.contains(wanted), "{wanted}\n\n{cover}");
    }
    assert!(markdown(&empty_site(), "overview").contains("None."));
}

#[test]
fn every_sheet_tells_its_place_and_its_readers_and_lies_as_it_should() {
    let files = packet(&full_site()).files;
    let text = |name: String| String::from_utf8(files[&name].clone()).unwrap();
    let cover = text("index.md".into());
    for (number, document) in (1..).zip(DOCUMENTS) {
        let name = document.name;
        let (markdown, page) = (text(format!("{name}.md")), text(format!("{name}.html")));
        let head = markdown.lines().nth(2).unwrap();
        let readers = head.split_once(" · for: ").unwrap_or_else(|| panic!("{head}")).1.split(" · ").next().unwrap();
        assert!(!readers.is_empty());
        let listed = cover.lines().find(|line| line.starts_with(&format!("| {number} |")));
        let on_cover = |line: &str| line.contains(&format!("({name}.md)")) && line.contains(&format!("| {readers} |"));
        assert!(number == 1 || listed.is_some_and(on_cover), "{name}: {listed:?}");
        if name == "label-sheets" {
            assert!(page.contains("@page label-sheets { size: 215.9mm 279.4mm; margin: 0; }\n"));
            continue;
        }
        // The foot of the page is a CSS string: "sheet 5 of 11" is in it as it is.
        let foot = page.lines().find(|line| line.contains("@bottom-center { content:")).unwrap();
        assert!(foot.contains(&format!("sheet {number} of {}\"", DOCUMENTS.len())), "{foot}");
        let across = ["floor-plan", "riser", "coverage-plan", "loop-figures"];
        let across = across.contains(&name);
        assert!(page.contains(if across { "  size: landscape;" } else { "  size: portrait;" }), "{name}");
    }
}

#[test]
fn the_same_bytes_come_out_twice() {
    let text = FULL.as_bytes().to_vec();
    let parts = include_str!("../pages/example.kdl").as_bytes().to_vec();
    let files = MemoryFiles([("site.kdl".to_owned(), text), ("../parts/example.kdl".to_owned(), parts)].into());
    let (one, other) = (session::compile(&[], &files), session::compile(&[], &files));
    assert_eq!(one.diagnostics, other.diagnostics);
    assert_eq!(one.bundle, other.bundle);
    assert_eq!(packet(&full_site()), packet(&full_site()));
    for (path, bytes) in packet(&full_site()).files {
        let text = String::from_utf8(bytes).unwrap();
        assert!(!text.contains(env!("CARGO_MANIFEST_DIR")), "{path}");
        assert!(text.ends_with('\n') || path.ends_with(".json"), "{path}");
    }
}

/// What the spec says of heights and zones reaches the person who needs it.
#[test]
fn heights_and_remarks_are_printed() {
    let made = full_site();
    let schedule = schedule(&made);
    assert!(schedule.contains("- Motion, hall: 7.5 ft above the floor"), "{schedule}");
    assert!(
        schedule.contains("keypad · in Hall, Ground floor · Keypad · 4.8 ft above the floor · address 1"),
        "{schedule}"
    );
    let sheet = markdown(&made, "commissioning-sheet");
    assert!(sheet.contains("| **2** | a ladder \\| is needed |"), "{sheet}");
}

/// One procedure: a fire detector's supply passes its own terminal.
#[test]
fn a_supply_passes_its_detector_and_is_not_teed() {
    let mill = super::sites::of_files(&crate::alder_mill::AlderMill::new().files());
    let schedule = schedule(&mill);
    let out = "| **Z13** | RD red | supply + from fire | Smoke, hall (Front hall), terminal +; with Z13-2: RD red under the same terminal |";
    let on = "| **Z13-2** starts | RD red | supply + from fire | Smoke, hall (Front hall), terminal +; with Z13: RD red under the same terminal |";
    assert!(schedule.contains(out) && schedule.contains(on), "{schedule}");
    assert!(!schedule.contains("joined to Z13-2: RD"), "{schedule}");
    assert!(markdown(&mill, "cautions-of-the-alarm").contains("one conductor in and one out under the same screw"));
    // Switching off is said in the same words on every sheet.
    for sheet in ["loop-sheet", "bus-sheet", "commissioning-sheet", "safety-notes"] {
        let page = markdown(&mill, sheet);
        assert!(
            page.contains("take one lead off the battery and cap it, then unplug the transformer"),
            "{sheet}: {page}"
        );
    }
}

/// The power sheet and the commissioning sheet agree: nothing is on the siren's output at rest.
#[test]
fn an_output_in_alarm_only_has_no_volts_at_rest() {
    let mill = super::sites::of_files(&crate::alder_mill::AlderMill::new().files());
    let row = |sheet: &str, starts: &str| {
        let page = markdown(&mill, sheet);
        let page = page.split_once("\n## Supplies\n").map_or(page.as_str(), |(_, rest)| rest);
        page.lines().find(|line| line.starts_with(starts)).map(str::to_owned).unwrap_or_default()
    };
    let power = row("power-sheet", "| Siren under the hoist beam");
    assert!(power.contains("0 mA / 350 mA | – |"), "{power}");
    let siren = row("commissioning-sheet", "| output siren of Panel");
    assert!(siren.contains("siren of Panel | – | – |"), "{siren}");
    let aux = row("commissioning-sheet", "| output aux of Panel");
    assert!(aux.contains(" to 14.46 V |  |"), "{aux}");
    let page = markdown(&mill, "commissioning-sheet");
    let lost = page.split_once("\n## Mains loss\n").unwrap().1;
    // At the board's own terminals nothing is lost but what a meter may be wrong.
    let row = "| output siren of Panel | terminals of output siren of Panel | at most 0.12 V less than the battery | |";
    assert!(lost.contains(row), "{lost}");
}

/// Everything that is printed of the full house: Markdown, tables, the record.
#[test]
fn the_full_house_is_printed_as_before() {
    let bundle = packet(&full_site());
    let printed = bundle.files.iter().filter(|(name, _)| {
        [".md", ".csv"].iter().any(|ending| name.ends_with(ending)) || name.as_str() == "site.json"
    });
    let differs =
        golden::compare_folder("tests/packet/full", printed.map(|(name, text)| (name.as_str(), text.as_slice())));
    if let Err(differs) = differs {
        panic!("{differs}");
    }
}

//! The bus sheet.

use loopwright::views::DOCUMENTS;

use super::sites::{FULL, empty_site, full_site, markdown, packet, site};
use loopwright::compiled::Compiled;

fn plain(made: &Compiled) -> String {
    markdown(made, "bus-sheet").replace('\u{a0}', " ")
}

#[test]
fn the_bus_sheet_follows_the_cable() {
    let sheet = plain(&full_site());
    for wanted in [
        "| [1](#bus-1-p1) | [**Main panel**](#bus-1-p1-drawn) |  | Plant room |  |  | 0 | 120 Ω built in | 1 |",
        "| [2](#bus-1-p2) | [**Hall keypad**](#bus-1-p2-drawn) | **1** | Hall | DATA-1 | 30 | 30 |  | 1 |",
        "| [2a](#bus-1-p3) | [**Low keypad**](#bus-1-p3-drawn) | **4** | Hall | DATA-2 | 2 | 32 |  | 1 |",
        "| [3](#bus-1-p4) | [**Expander, Receiver**](#bus-1-p4-drawn) | **2, 3** | Landing | DATA-3 | 30 | 60 | 120 Ω ±5 % (brown red brown gold) | 2 |",
        "| longest stub | **2 ft** | at most 7.6 ft | 5.6 ft |",
        "| unit loads | **5** | at most 32 of 12 kΩ | 27 | TIA-485-A, quoted;",
        "| if | at Main panel | at Expander, Receiver |",
        "| no terminator at Main panel |",
    ] {
        assert!(sheet.contains(wanted), "{wanted}\n\n{sheet}");
    }
    assert!(plain(&empty_site()).contains("The site has no data bus."));
}

/// Data against minus: what stands on the sheets is what holds without TIA-485-A.
#[test]
fn a_bus_that_is_not_differential_has_no_figures_of_one() {
    let off = "rate=(baud)19200 built-in-terminator=#false differential=#false";
    let text = FULL.replace("rate=(baud)19200", off).replace("terminator (ohm)120", "");
    let made = site(&text);
    let sheet = plain(&made);
    for wanted in [
        "**Not differential:**",
        "| length between the ends | **60 ft** | by the boards' sheets |",
        "| no. | board | +, − | V mains: rest, alarm | V battery's end | shift |",
    ] {
        assert!(sheet.contains(wanted), "{wanted}\n\n{sheet}");
    }
    let (_, figures) = sheet.split_once("**Not differential:**").unwrap();
    let (_, figures) = figures.split_once("data terminals.").unwrap();
    for none in ["Ohms between A and B", "mV", "485", "12 kΩ", "longest stub", "terminators |"] {
        assert!(!figures.contains(none), "{none}\n\n{figures}");
    }
    let commissioning = markdown(&made, "commissioning-sheet");
    assert!(
        !commissioning.contains("Buses, A to B") && commissioning.contains("Everything on, on mains"),
        "{commissioning}"
    );
}

#[test]
fn a_row_is_a_place_and_the_farthest_has_least() {
    let made = full_site();
    let document = DOCUMENTS.iter().find(|document| document.name == "bus-sheet").unwrap();
    let table = document.table.unwrap()(&made);
    let at = |row: usize, column: &str| -> f64 {
        let column = table.columns.iter().position(|name| *name == column).unwrap();
        table.rows[row][column].parse().unwrap()
    };
    assert_eq!(table.rows.len(), 4);
    let from = table.columns.iter().position(|name| *name == "from first end").unwrap();
    assert_eq!(table.rows[3][from], "60 ft", "in the house's own unit");
    for column in ["idle V least", "supply V mains idle", "supply V mains alarm", "supply V battery alarm"] {
        assert!(at(3, column) < at(1, column) && at(1, column) < at(0, column), "{column}");
    }
    assert!(at(3, "minus shift V most") > at(1, "minus shift V most"));
    // All draw in alarm: 90 + 90 + 30 + 60 mA through 30 ft of 20 AWG, both ways, at 35 °C; then 90 mA through the rest.
    let first = 2.0 * 30.0 * 10.15e-3 * 1.059;
    assert!((at(1, "supply V mains alarm") - (13.8 - 0.27 * first)).abs() < 2e-3);
    assert!((at(3, "supply V mains alarm") - (13.8 - 0.27 * first - 0.09 * first)).abs() < 2e-3);
    assert!((at(3, "minus shift V most") - 0.36 * first / 2.0).abs() < 2e-3);
}

#[test]
fn a_bus_with_nothing_on_it_and_one_without_bias_are_printed_too() {
    let bare = FULL.replace("bus \"data\"", "part \"plain\" { basis \"sheet\"; bus-port \"x\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)1; }\npanel \"second\" part=\"plain\" room=\"hall\"\nbus \"none\" board=\"second\"\nbus \"data\"");
    assert!(plain(&site(&bare)).contains("Not computed: a length"));
    let unbiased = bare.replace("bus \"none\" board=\"second\"", "bus \"none\" board=\"second\" { run \"bus-cable\" length=(ft)9 room=\"hall\" { keypad \"k\" part=\"keypad-a\" address=1; }; }");
    let sheet = plain(&site(&unbiased));
    assert!(sheet.contains("not known: no board gives its bias resistors"), "{sheet}");
    assert!(sheet.contains("rate not written"));
}

/// What one module takes, nobody knows: so the volts at the others are not known either.
#[test]
fn beside_a_module_of_unknown_draw_no_volts_are_printed() {
    let draw = "basis \"sheet\" ref=\"invented\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"";
    let spec = FULL.replacen("bus \"data\"", &format!("part \"mystery\" {{ {draw}; }}\nbus \"data\""), 1);
    let spec = spec.replacen("keypad \"keys\"", "module \"riddle\" part=\"mystery\" address=9; keypad \"keys\"", 1);
    assert!(spec.contains("riddle"), "{spec}");
    let document = DOCUMENTS.iter().find(|document| document.name == "bus-sheet").unwrap();
    let table = document.table.unwrap()(&site(&spec));
    let column = |name: &str| table.columns.iter().position(|column| *column == name).unwrap();
    let (supply, idle) = (column("supply V mains idle"), column("idle V least"));
    assert!(table.rows.iter().all(|row| row[supply].is_empty() && !row[idle].is_empty()), "{:?}", table.rows);
}

#[test]
fn the_site_data_has_the_same_figures() {
    let json: serde_json::Value = serde_json::from_slice(&packet(&full_site()).files["site.json"]).unwrap();
    let figures = &json["buses"][0]["figures"];
    let number = |value: &serde_json::Value| value.as_f64().unwrap();
    assert!((number(&figures["length"]) - 18.288).abs() < 1e-3);
    assert!((number(&figures["longest-stub"]) - 0.6096).abs() < 1e-3);
    assert_eq!(figures["unit-loads"], 5);
    let places = figures["places"].as_array().unwrap();
    let positions: Vec<&str> = places.iter().map(|place| place["position"].as_str().unwrap()).collect();
    assert_eq!(positions, ["1", "2", "2a", "3"]);
    assert_eq!(places[0]["terminators"][0]["built-in"], true);
    assert_eq!(places[3]["boards"][1], "radio");
    let least = places.iter().map(|place| number(&place["idle-volts"]["least"])).fold(f64::INFINITY, f64::min);
    assert!((least - number(&figures["idle-volts-least"])).abs() < 1e-6);
    assert!((least - 0.2 - number(&figures["idle-margin-volts"])).abs() < 1e-5);
    assert!(number(&places[3]["supply-volts"]["battery-alarm"]) < number(&places[3]["supply-volts"]["mains-alarm"]));
}

/// A joint box takes nothing of a bus's drivers: 0, and no sign before it.
#[test]
fn a_place_without_a_board_has_no_unit_loads() {
    let bus = "bus \"data\" board=\"main\" rate=(baud)19200 {\n";
    let boxed = format!("{bus}    run \"bus-cable\" length=(ft)3 into=\"bus-box\"\n");
    let new =
        FULL.replace(bus, &boxed) + "joint-box \"bus-box\" title=\"Bus box\" room=\"plant\" joined-by=\"crimp\"\n";
    let sheet = plain(&site(&new));
    let row = sheet.lines().find(|line| line.contains("Bus box")).unwrap();
    assert!(row.ends_with("| 0 |"), "{row}");
}

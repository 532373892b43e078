//! What a work order has told, programmed and tried, held against the sheets of both revisions.

use loopwright::compiled::Compiled;
use loopwright::emit;
use loopwright::register::Register;
use loopwright::views::value;
use loopwright::views::work_order::{Remarks, Sides, Step, WorkOrder};

use super::sites::{FULL, markdown, site, site_after};

/// The work order from one text to the next, the second after the first one's register.
fn kept(old: &str, new: &str) -> WorkOrder {
    let (old, register) = site_after(old, &Register::default());
    order(&old, &site_after(new, &register).0)
}

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    WorkOrder::of(&Sides::of(old, new), &Remarks::default())
}

fn texts(steps: &[Step]) -> String {
    steps.iter().map(|step| format!("{}\n", step.text)).collect()
}

/// The full house with something else in it.
fn with(old: &str, new: &str) -> String {
    assert!(FULL.contains(old), "{old}");
    FULL.replace(old, new)
}

#[test]
fn firm_and_note_stand_on_a_work_order() {
    let order = kept(FULL, &with("length=(ft)38", "length=(ft)40"));
    for (text, page) in [emit::work_order(&order), emit::work_order_of_wiring(&order)] {
        for said in [&text, &page] {
            assert!(said.contains("Weir and Daughter") && said.contains("Ask us before a wall is closed."), "{text}");
        }
        assert!(page.contains("--accent: #1f3d5c"), "the colour of the firm");
    }
}

#[test]
fn a_loop_has_one_range_on_every_sheet() {
    let order = kept(FULL, &with("length=(ft)38", "length=(ft)40"));
    let line = order.measure.iter().find(|line| line.zone == "1").unwrap();
    let (_, range) = line.ohms.split_once(" (").unwrap();
    let range = range.trim_end_matches(')');
    let sheet = markdown(&site(&with("length=(ft)38", "length=(ft)40")), "commissioning-sheet");
    let row = sheet.lines().find(|line| line.starts_with("| **1** | Front door |")).unwrap();
    assert!(row.contains(&format!("| {range} |")), "{range} in {row}");
}

#[test]
fn every_detector_that_was_out_of_service_is_tried() {
    let gas = with("zone 5 \"Shed door\" type=\"perimeter\"", "zone 5 \"Gas by radio\" type=\"gas\"");
    let order = kept(&gas, &gas.replace("length=(ft)38", "length=(ft)40"));
    assert!(texts(&order.off).contains("zones 4 and 5"), "{}", texts(&order.off));
    for zone in ["Zone 4 ", "Zone 5 "] {
        assert!(texts(&order.walk).contains(zone), "{zone} in {}", texts(&order.walk));
    }
}

/// Changes of one text that a demo or the full house may hold, each where it stands first.
const CHANGES: [(&str, &str); 24] = [
    ("entry=(s)", "entry=(s)1"),
    ("exit=(s)", "exit=(s)1"),
    ("abort=(s)", "abort=(s)1"),
    ("sounder-cut-off=(min)", "sounder-cut-off=(min)1"),
    ("swinger-shutdown=2", "swinger-shutdown=1"),
    ("type=\"perimeter\"", "type=\"interior\""),
    ("type=\"perimeter\"", "type=\"perimeter\" event=133"),
    ("type=\"entry-exit\"", "type=\"day-night\""),
    ("follows=#true", ""),
    ("address=2", "address=12"),
    ("address=3", "address=13"),
    ("inputs-from=5", "inputs-from=9"),
    ("format=\"sia-dc-05\"", "format=\"sia-dc-03\""),
    ("test-every=(day)", "test-every=(day)1"),
    ("duress=#true", ""),
    ("description-width=24", "description-width=9"),
    ("service=\"copper\"", "service=\"voip\""),
    ("jack=\"line-seizure\"", "jack=\"bridged\""),
    ("emergency-key \"fire\" number=95", "emergency-key \"medical\" number=96"),
    ("cross-zones 2 3 window=(s)60", "cross-zones 2 3 window=(s)90"),
    ("zone 5 \"", "zone 65 \""),
    ("zone 1 \"", "zone 1 \"Other "),
    ("area \"house\" title=\"House\"", "area \"garden\" title=\"Garden\" entry=(s)40\narea \"house\" title=\"House\""),
    ("reserved=#true", "reserved=#true note=\"later\""),
];

/// Columns that only gather what stands in the zones' own rows.
const GATHERED: [(&str, &str); 3] =
    [("programming-sheet", "zones"), ("zone-descriptions", "zones"), ("zone-descriptions", "from")];

/// The rows of a sheet's tables: head of the first column, and each column's head with its cell.
fn rows(site: &Compiled, sheet: &str) -> Vec<(String, Vec<(String, String)>)> {
    let text = markdown(site, sheet).replace("**", "").replace('\\', "");
    let cells = |line: &str| -> Vec<String> {
        let inner = line.trim().trim_start_matches('|').trim_end_matches('|');
        inner.split('|').map(|cell| cell.trim().to_owned()).collect()
    };
    let lines: Vec<&str> = text.lines().collect();
    let (mut rows, mut heads) = (Vec::new(), Vec::new());
    for (at, line) in lines.iter().enumerate().filter(|(_, line)| line.starts_with('|')) {
        if lines.get(at + 1).is_some_and(|next| next.starts_with("| --")) {
            heads = cells(line);
        } else if !line.starts_with("| --") {
            rows.push((heads[0].clone(), heads.iter().cloned().zip(cells(line)).collect()));
        }
    }
    rows
}

/// Rows that are made of others, or that say at length what a step says in a word.
const MADE: [&str; 3] = ["How an event is sent", "Letters", "No code under duress is set"];

/// What of a sheet's new rows the old row most like it does not have, and some text does not have either.
fn untold(sheet: &str, old: &Compiled, new: &Compiled, told: &str) -> Vec<String> {
    let before = rows(old, sheet);
    let mut untold = Vec::new();
    let fresh = rows(new, sheet).into_iter().filter(|row| !before.contains(row));
    for (table, row) in fresh.filter(|(_, row)| !MADE.iter().any(|made| row[0].1.starts_with(made))) {
        let alike = |other: &Vec<(String, String)>| row.iter().filter(|cell| other.contains(cell)).count();
        let had = before.iter().filter(|(other, _)| *other == table).map(|(_, had)| had).max_by_key(|had| alike(had));
        for (head, cell) in &row {
            let gathered = GATHERED.contains(&(sheet, head.as_str()));
            let known = had.is_some_and(|had| had.contains(&(head.clone(), cell.clone())));
            // The table of single values says more of each than the value.
            let value = if head == "value" { cell.split([',', ':']).next().unwrap() } else { cell };
            if !(gathered || known || cell.is_empty() || cell == "☐" || told.contains(value)) {
                untold.push(format!("{sheet}, {table}: {head} {cell}"));
            }
        }
    }
    untold
}

/// Whatever differs on the programming sheet is programmed, and whatever differs on the service's list is told.
#[test]
fn every_row_that_differs_stands_in_the_work_order() {
    let (mut tried, mut left) = (0, Vec::new());
    for (from, to) in CHANGES.into_iter().filter(|(from, _)| FULL.contains(from)) {
        let (old, register) = site_after(FULL, &Register::default());
        let text = FULL.replacen(from, to, 1);
        let (new, _) = site_after(&text, &register);
        let order = order(&old, &new);
        let program = texts(&order.program);
        left.extend(untold("programming-sheet", &old, &new, &program).into_iter().map(|row| format!("{to}: {row}")));
        let service = value(&order.service).to_string().replace("\\\"", "\"");
        left.extend(untold("zone-descriptions", &old, &new, &service).into_iter().map(|row| format!("{to}: {row}")));
        tried += 1;
    }
    assert!(left.is_empty(), "{left:#?}");
    assert!(tried >= 20, "{tried} changes of the full house");
}

/// The work order of the full house with something else in it.
fn changed(from: &str, to: &str) -> WorkOrder {
    kept(FULL, &with(from, to))
}

#[test]
fn an_area_that_is_added_renumbers_others_and_all_their_zones_are_told() {
    let text = "area \"garden\" title=\"Garden\"\narea \"house\" title=\"House\"";
    let order = changed("area \"house\" title=\"House\"", text);
    let service = value(&order.service);
    let zones = service.as_array().unwrap().iter().filter(|line| line["list"] == "Zones");
    let zones: Vec<&str> = zones.map(|line| line["zone"].as_str().unwrap()).collect();
    assert_eq!(zones, ["1", "2", "3", "4", "5"]);
    let back = texts(&order.walk);
    assert_eq!(back.matches("; have the service read back number, words, area and code").count(), 5, "{back}");
    assert!(texts(&order.program).contains("zone 1 Front door: area 1 → 2"), "{}", texts(&order.program));
}

#[test]
fn what_is_set_otherwise_is_tried() {
    for (from, to, tried) in [
        (
            "part=\"receiver-a\" address=3",
            "part=\"receiver-a\" address=9",
            "Receiver: answers at its address and hears",
        ),
        ("part=\"receiver-a\" address=3", "part=\"receiver-a\" address=9", "Zone 5 Shed door"),
        ("address=2 inputs-from=5", "address=2 inputs-from=9", "Expander: answers at its address"),
        ("address=2 inputs-from=5", "address=2 inputs-from=9", "Zone 4 Landing smoke"),
        ("cross-zones 2 3 window=(s)60", "cross-zones 2 3 window=(s)90", "trip one and then another within 90 s"),
        (
            "emergency-key \"fire\" number=95",
            "emergency-key \"medical\"",
            "Emergency key medical of Low keypad: pressed",
        ),
        ("entry=(s)30", "entry=(s)45", "by a watch, from the keypad's first beep: entry delay 45 s"),
        (
            "type=\"perimeter\" area=\"house\" {\n    wireless",
            "type=\"perimeter\" event=133 {\n    wireless",
            "Zone 5 Shed door",
        ),
        ("zone 5 \"Shed", "zone 6 \"Shed", "Zone 6 Shed door"),
    ] {
        let walk = texts(&changed(from, to).walk);
        assert!(walk.contains(tried), "{to}: {tried} in {walk}");
    }
    let without = FULL.replace(" duress=#true", "");
    let walk = texts(&kept(&without, FULL).walk);
    assert!(walk.contains("Heard at the service, as its list has it now: 121 duress"), "{walk}");
}

/// A load with other conductors at its terminals, and a sounder off which a cable is taken.
#[test]
fn what_had_its_terminals_opened_is_tried() {
    let one = with("run \"pair\" length=(ft)63", "run \"quad\" length=(ft)63");
    let two = one.replace("run \"quad\" length=(ft)63", "run \"quad\" pairs=2 length=(ft)63");
    let order = kept(&one, &two);
    assert!(order.pull.is_empty(), "{:?}", order.pull);
    assert!(texts(&order.walk).contains("does what drives it asks"), "{}", texts(&order.walk));
    let on = "sounder \"sounder\"; run \"pair\" length=(ft)9 room=\"hall\" { sounder \"sounder\" title=\"Second\"; };";
    let walk = texts(&kept(&with("sounder \"sounder\";", on), FULL).walk);
    assert!(walk.contains(" sounds"), "{walk}");
}

#[test]
fn a_way_to_the_service_that_was_touched_is_tried_before_the_test_ends() {
    let heard = "a test report heard at the service; alarm heard by it alone; trouble heard when it is cut";
    let phones = "House phones on line: each has its dial tone; with one off the hook";
    for (from, to, line) in [
        ("run \"quad\" length=(ft)15 room=\"hall\"\n", "run \"pair\" length=(ft)15 room=\"hall\"\n", true),
        ("service=\"copper\"", "service=\"voip\"", true),
        ("format=\"sia-dc-05\"", "format=\"sia-dc-03\"", false),
        ("length=(ft)38", "length=(ft)40", false),
    ] {
        let walk = texts(&changed(from, to).walk);
        assert_eq!(walk.contains(&format!("line: {heard}")), line || from.starts_with("format"), "{to}: {walk}");
        assert_eq!(walk.contains(phones), line, "{to}: {walk}");
        let off = walk.find("take the system off test").unwrap_or(walk.len());
        assert!(walk.find(heard).is_none_or(|at| at < off), "{walk}");
    }
    let exchanged = kept(FULL, &super::order_tests::other_panel());
    assert!(texts(&exchanged.walk).contains(heard), "another board is on the line");
    let sheet = markdown(&site(FULL), "commissioning-sheet");
    assert!(sheet.contains("| way | alarm heard by it alone | trouble heard when it is cut |"));
    let none = FULL.split_once("communicator \"line\"").unwrap();
    let none = format!("{}communicator \"net\"{}", none.0, none.1.split_once("communicator \"net\"").unwrap().1);
    let walk = texts(&kept(FULL, &none).walk);
    assert!(walk.contains("House phones on line: each has its dial tone, with the board off the line"), "{walk}");
}

#[test]
fn what_a_pulled_cable_brings_is_measured() {
    let anew = |from: &str, to: &str| {
        let (old, register) = site_after(FULL, &Register::default());
        order(&old, &site_after(&with(from, to), &register).0)
    };
    let order = anew("run \"pair\" length=(ft)33", "run \"quad\" length=(ft)33");
    assert!(order.supplies.iter().any(|row| row.at.contains("Smoke, landing")), "{:?}", order.supplies);
    assert!(order.buses.is_empty(), "{:?}", order.buses);
    let run = "run \"bus-cable\" length=(ft)30 room=\"landing\"";
    let order = anew(run, "run \"quad\" length=(ft)30 room=\"landing\"");
    assert_eq!(order.buses.iter().map(|row| row.bus.as_str()).collect::<Vec<_>>(), ["data"]);
    let sheet = markdown(&site(&with(run, "run \"quad\" length=(ft)30 room=\"landing\"")), "commissioning-sheet");
    let row = sheet.lines().find(|line| line.starts_with("| data | ")).unwrap();
    assert!(row.contains(&order.buses[0].ohms), "one range on both: {row}");
}

#[test]
fn the_household_is_told_what_it_will_notice() {
    let paper = |from: &str, to: &str| texts(&changed(from, to).paper);
    let told = "Tell everybody who has a code what is different now: ";
    let said = paper("entry=(s)30", "entry=(s)45");
    assert!(said.contains(&format!("{told}area 1 House (entry delay 30 s → 45 s)")), "{said}");
    let said = paper("zone 1 \"Front", "zone 1 \"Street");
    assert!(said.contains(&format!("{told}zone 1 (new, gone, or with another number, name or area)")), "{said}");
    let said = paper("emergency-key \"fire\" number=95; ", "");
    assert!(said.contains("emergency key fire of Low keypad is gone"), "{said}");
    assert!(!paper("inputs-from=5", "inputs-from=9").contains(told), "nobody notices that");
}

/// Each end that gets a label takes one, also of a cable that stays.
#[test]
fn labels_to_bring_are_those_of_the_steps() {
    for (from, to) in
        [("title=\"Store\"", "title=\"Archive\""), ("run \"pair\" length=(ft)33", "run \"quad\" length=(ft)33")]
    {
        let order = changed(from, to);
        let steps = order.places.iter().flat_map(|place| &place.steps).filter(|step| step.kind == "label").count();
        let brought = order.buy.iter().find(|item| item.what.contains("label")).unwrap();
        assert!(steps > 0 && brought.count == steps.to_string(), "{brought:?} for {steps} steps");
    }
}

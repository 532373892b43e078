//! The shopping list: what is on it, what is not, and that it says the same as the other sheets and the comparison.

use std::collections::BTreeMap;

use loopwright::compiled::Compiled;
use loopwright::diag::{Format, render};
use loopwright::resolve::load::MemoryFiles;
use loopwright::session;
use loopwright::views::readers::{Reader, SHARES};
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};
use loopwright::views::{DOCUMENTS, value};

use super::joints::{in_box, in_enclosure};
use super::sites::{FULL, empty_site, full_site, markdown, packet, site};
use crate::pages::HEADER;

/// One more room.
const DEN: &str = "level \"up\" storey=1 { room \"den\" title=\"Den\"; }\n";

/// The rows of a document's table.
fn rows(site: &Compiled, name: &str) -> Vec<Vec<String>> {
    let document = DOCUMENTS.iter().find(|document| document.name == name).unwrap();
    document.table.unwrap()(site).rows
}

/// What is on the list: (kind, what) → (how many, spare).
fn list(site: &Compiled) -> BTreeMap<(String, String), (usize, usize)> {
    let number = |text: &str| if text.is_empty() { 0 } else { text.parse().unwrap() };
    let row = |row: Vec<String>| ((row[0].clone(), row[1].clone()), (number(&row[2]), number(&row[4])));
    rows(site, "materials").into_iter().map(row).collect()
}

fn count(site: &Compiled, what: &str) -> usize {
    list(site).iter().find(|((_, of), _)| of == what).map_or(0, |(_, (count, _))| *count)
}

/// A resistor's price has tenths of a cent; 45 with 5 spare at 0.035, and a strip.
#[test]
fn prices_are_added_up_to_the_last_digit() {
    let prices = "prices currency=\"EUR\" { price \"reed\" 3.15; price \"Terminal strip, 4 ways\" 7.3; price \"pair\" 58; price \"nothing\" 1 }";
    let made = site(&format!("{FULL}{prices}"));
    let row = |kind: &str, what: &str| {
        let row = rows(&made, "costs").into_iter().find(|row| row[0] == kind && row[1] == what).unwrap();
        [row[2].clone(), row[4].clone(), row[5].clone()]
    };
    assert_eq!(row("contacts", "Reed contact"), ["4", "3.15", "12.60"]);
    assert_eq!(row("boxes and strips", "Terminal strip, 4 ways"), ["1", "7.30", "7.30"]);
    assert_eq!(row("cable", "22 AWG pair, CL2R"), ["1", "58.00", "58.00"]);
    assert_eq!(row("detectors", "Motion detector"), ["1", "no price", ""]);
    let sheet = markdown(&made, "costs");
    assert!(sheet.contains("contacts 12.60") && sheet.contains("; **in all 77.90 EUR**."), "{sheet}");
    let without = rows(&made, "costs").iter().filter(|row| row[4] == "no price").count();
    assert!(sheet.contains(&format!("Without a price: {without} lines of the list")), "{sheet}");
    assert!(sheet.contains("Prices of what is not on the list: nothing."), "{sheet}");
    let plain = markdown(&site(FULL), "costs");
    assert!(plain.contains("The spec has no prices") && !plain.contains("What it costs"), "{plain}");
    // What the goods are bought for is on no sheet of the electrician or the owner.
    for share in SHARES.iter().filter(|share| share.reader != Reader::Installer) {
        for document in share.sheets {
            let text = markdown(&made, document.name);
            assert!(!text.contains("12.60") && !text.contains("77.90"), "{}: {text}", document.name);
        }
    }
}

/// Cable that no box holds has no price by the box; and of two things of one name neither is taken for the other.
#[test]
fn a_price_of_a_box_is_none_of_a_reel_and_one_of_two_lines_is_of_neither() {
    let twins = "part \"pair\" title=\"Pair of buttons\" senses=\"button\" { basis \"sheet\" ref=\"invented\"; contact form=\"NO\" }
zone 1 \"Buttons\" type=\"panic-audible\" {
    loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)20 room=\"den\" { contact \"pair\"; resistor \"2k2\" } }
}
spare-cable \"long\" board=\"board-a\" { run \"quad\" length=(ft)600 room=\"den\" }
prices currency=\"EUR\" { price \"pair\" 61; price \"quad\" 80; price \"Wrap label for a cable\" 0.1 }
";
    let made = site(&format!("{HEADER}{DEN}{twins}"));
    let rows = rows(&made, "costs");
    let priced =
        |what: &str| rows.iter().find(|row| row[1] == what).map(|row| [&row[2][..], &row[3], &row[4]]).unwrap();
    assert_eq!(priced("Pair of buttons"), ["1", "piece", "no price"]);
    assert_eq!(priced("22 AWG pair, CL2R"), ["1", "box of 500 ft", "no price"]);
    assert_eq!(priced("22 AWG, 4 conductors, CL2R, on a reel"), ["1", "reel of 600 ft or more", "no price"]);
    let sheet = markdown(&made, "costs");
    assert!(sheet.contains("Prices that fit two lines of the list, and so are taken for neither: pair."), "{sheet}");
    assert!(sheet.contains("Prices of what is not on the list: quad."), "{sheet}");
    let without = rows.iter().filter(|row| row[4] == "no price").count();
    assert!(sheet.contains(&format!("Without a price: {without} lines of the list")), "{sheet}");
}

#[test]
fn a_price_that_is_no_number_is_one_finding_with_its_place() {
    for (price, slug) in [
        ("\"n/a\"", "value-wrong-kind"),
        ("-3", "value-out-of-range"),
        ("0.00001", "value-out-of-range"),
        ("1e3", "value-out-of-range"),
    ] {
        let text = format!("{HEADER}prices {{ price \"reed\" 3.15; price \"quad\" {price}; price \"pair\" 5 }}\n");
        let parts = include_str!("../pages/example.kdl");
        let files = [("site.kdl", text.as_str()), ("../parts/example.kdl", parts)];
        let files = MemoryFiles(files.map(|(path, text)| (path.to_owned(), text.as_bytes().to_vec())).into());
        let outcome = session::check(&files);
        let said = render(Format::Short, &outcome.sources, &outcome.diagnostics, 100);
        let errors: Vec<&str> = said.lines().filter(|line| line.contains(": error: ")).collect();
        let place = text.lines().last().unwrap().find(price).unwrap() + 1;
        let line = text.lines().count();
        assert_eq!(errors.len(), 1, "{said}");
        assert!(errors[0].starts_with(&format!("site.kdl:{line}:{place}: error: ")), "{said}");
        assert!(errors[0].contains(slug), "{said}");
    }
}

/// Kinds that are used up or bought by the box: a comparison does not count them as goods.
const USED_UP: [&str; 4] = ["fuses and earth", "connectors", "labels", "cable"];

#[test]
fn a_comparison_with_an_empty_site_buys_what_the_list_has() {
    let fault = format!(
        "{HEADER}{DEN}power-supply \"yard\" title=\"Yard supply\" part=\"supply-a\" room=\"den\" {{
    battery capacity=(Ah)7 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)40 outlet=\"den\"
}}
zone 1 \"Yard supply\" type=\"trouble\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"den\" {{ fault \"yard\"; resistor \"2k2\"; }}
    }}
}}
"
    );
    let fixed = FULL.replace("contact \"reed\" on=\"front\"", "contact \"reed\" on=\"front\" fixed=#true");
    assert_ne!(fixed, FULL);
    let supply = site(&fault);
    assert_eq!(count(&supply, "Power supply A"), 1, "its fault contact is no second one");
    let [all, without] = [site(FULL), site(&fixed)];
    assert_eq!(count(&all, "Reed contact"), count(&without, "Reed contact") + 1, "what is cast in is not bought");
    for made in [all, without, supply, full_site()] {
        let order = WorkOrder::of(&Sides::of(&empty_site(), &made), &Remarks::default());
        let order = value(&order);
        let bought = order["buy"].as_array().unwrap().iter().map(|item| {
            let text = |field: &str| item[field].as_str().unwrap().to_owned();
            (text("what"), text("count"))
        });
        // Cable is told by its length there, and what is used up by what is more than before.
        let (used_up, listed): (Vec<_>, Vec<_>) =
            list(&made).into_iter().partition(|((kind, _), _)| USED_UP.contains(&kind.as_str()));
        let is_used_up = |what: &str| used_up.iter().any(|((_, name), _)| name == what);
        let bought: BTreeMap<String, String> =
            bought.filter(|(what, _)| !what.contains(", for ") && !is_used_up(what)).collect();
        let listed = listed.into_iter();
        let listed: BTreeMap<String, String> =
            listed.map(|((_, what), (count, _))| (what, count.to_string())).collect();
        assert_eq!(bought, listed);
        assert!(listed.len() > 3);
    }
}

#[test]
fn every_cable_that_is_pulled_is_cut_from_one_box_and_has_two_labels() {
    let existing = FULL.replace("length=(ft)61", "length=(ft)61 existing=#true");
    for made in [full_site(), site(&existing)] {
        let labels = rows(&made, "wire-labels");
        assert_eq!(count(&made, "Wrap label for a cable"), 2 * labels.len());
        let pulled = labels.iter().filter(|row| ["in use", "spare"].contains(&row[10].as_str()));
        let mut pulled: Vec<String> = pulled.map(|row| format!("{} {}", row[0], row[4])).collect();
        let sheet = markdown(&made, "materials").replace(['\\', '*'], "");
        let plan = sheet.split_once("| cable | box |").unwrap().1.lines().filter(|line| line.starts_with("| "));
        let mut cut: Vec<String> = plan
            .skip(1)
            .flat_map(|line| line.split(" | ").nth(2).unwrap().split(", ").map(str::to_owned).collect::<Vec<_>>())
            .collect();
        pulled.sort();
        cut.sort();
        assert_eq!(cut, pulled);
    }
}

#[test]
fn a_connector_is_bought_for_each_joint() {
    let connectors = |made: &Compiled| -> Vec<(String, usize)> {
        let connectors = list(made).into_iter().filter(|((kind, _), _)| kind == "connectors");
        connectors.map(|((_, what), (count, _))| (what, count)).collect()
    };
    // One pair that goes on in two: two joints of three.
    assert_eq!(connectors(&in_enclosure()), [("Sleeve for a soldered joint, for 3 conductors".to_owned(), 2)]);
    assert_eq!(connectors(&in_box()), [("Crimp connector, for 3 conductors".to_owned(), 2)]);
    let through = site(&format!(
        "{HEADER}{DEN}zone 1 \"Windows\" type=\"panic-audible\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"button\" }}
        run \"pair\" length=(ft)20 room=\"den\" {{ contact \"button\"; resistor \"2k2\" }}
    }}
}}
"
    ));
    // A button closes: it lies across the pair, and both cables are under its terminals.
    assert_eq!(connectors(&through), []);
    let series = site(&format!(
        "{HEADER}{DEN}zone 1 \"Windows\" type=\"perimeter\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\" title=\"One\" }}
        run \"pair\" length=(ft)20 room=\"den\" {{ contact \"reed\" title=\"Other\"; resistor \"2k2\" }}
    }}
}}
"
    ));
    // The contact stands in one side; the other side passes it.
    assert_eq!(connectors(&series), [("Connector, for 2 conductors".to_owned(), 1)]);
    // Two pairs side by side come in, two cables go on, and the device has a short wire: five in each of two joints.
    let tee = |pairs: u32| {
        site(&format!(
            "{HEADER}{DEN}cable \"six\" conductors=6 size=(AWG)22
circuit \"c\" board=\"board-a\" output=\"aux\" {{
    run \"six\" length=(ft)20 room=\"lobby\" pairs={pairs} {{
        load \"lamp\" title=\"One\"
        run \"six\" length=(ft)20 room=\"den\" {{ load \"lamp\" title=\"Two\" }}
        run \"six\" length=(ft)20 room=\"den\" {{ load \"lamp\" title=\"Three\" }}
    }}
}}
"
        ))
    };
    assert_eq!(connectors(&tee(2)), [("Connector, for 5 conductors".to_owned(), 2)]);
    assert_eq!(connectors(&tee(1)), [("Connector, for 4 conductors".to_owned(), 2)]);
}

#[test]
fn spares_are_one_in_ten_and_a_few_at_least() {
    let many = "detector \"motion\" title=\"M\" supply=\"aux\"; ";
    let made = site(&format!(
        "{HEADER}{DEN}{}",
        (1..=4)
            .map(|zone| format!(
                "zone {zone} \"Z{zone}\" type=\"interior\" {{ loop \"end-of-line\" board=\"board-a\" input={zone} {{ run \"quad\" length=(ft)9 room=\"den\" {{ {many} resistor \"2k2\" }} }} }}\n"
            ))
            .collect::<String>()
    ));
    let resistors: Vec<_> = list(&made).into_iter().filter(|((kind, _), _)| kind == "resistors").collect();
    assert_eq!(resistors.len(), 1);
    assert_eq!(resistors[0].0.1, "Resistor 2k2: 2.2 kΩ ±5 % (red red red gold)");
    assert_eq!(resistors[0].1, (4, 2));
    assert_eq!(list(&made)[&("labels".to_owned(), "Wrap label for a cable".to_owned())], (8, 5));
}

#[test]
fn a_box_that_the_spec_does_not_say_is_assumed_and_said_so() {
    let made = site(&format!(
        "{HEADER}{DEN}cable \"reel\" title=\"Reel\" conductors=2 size=(AWG)22 box=(ft)100
spare-cable \"a\" board=\"board-a\" {{ run \"pair\" length=(ft)300 room=\"den\" }}
spare-cable \"b\" board=\"board-a\" {{ run \"pair\" length=(ft)300 room=\"den\" }}
spare-cable \"c\" board=\"board-a\" {{ run \"pair\" length=(ft)200 room=\"den\" }}
spare-cable \"d\" board=\"board-a\" {{ run \"reel\" length=(ft)140 room=\"den\" }}
"
    ));
    let sheet = markdown(&made, "materials");
    for row in [
        "| **22 AWG pair, CL2R**: 800 ft, in boxes of *500 ft* | 1 | **A-1** 300 ft, **C-1** 200 ft | 500 ft | 0 ft |",
        "|  | 2 | **B-1** 300 ft | 300 ft | 200 ft |",
        "| **Reel**: 140 ft, in boxes of 100 ft | reel | longer than a box: **D-1** 140 ft | 140 ft |  |",
        "|  | 22 AWG pair, CL2R | 2 | box of 500 ft |  | 3 cables, 800 ft; the box is assumed |",
        "|  | Reel, on a reel | 1 | reel of 140 ft or more |  | 1 cable, 140 ft; longer than a box of 100 ft |",
    ] {
        let found = sheet.contains(row) || sheet.contains(&row.replacen("|  |", "| **cable** |", 1));
        assert!(found, "{row}\n{sheet}");
    }
}

/// A supply whose transformer is on two leads that are no cable.
pub const BARE: &str = "part \"mains-a\" title=\"Supply\" { basis \"sheet\" ref=\"invented\"; ac-port a=\"AC1\" b=\"AC2\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(mA)1000; draw idle=(mA)25; }
power-supply \"bare\" title=\"Bare supply\" part=\"mains-a\" room=\"lobby\" { transformer volts=(V)16.5 rating=(VA)75; }
";

/// What was there before is used again: neither bought nor mounted.
#[test]
fn what_was_there_is_neither_bought_nor_mounted() {
    let zone = "joint-box \"old\" title=\"Old box\" room=\"lobby\" joined-by=\"screw\" existing=#true
zone 1 \"Lobby\" type=\"perimeter\" { loop \"end-of-line\" board=\"board-a\" {
    run \"pair\" length=(ft)20 into=\"old\" existing=#true {
        run \"pair\" length=(ft)9 room=\"lobby\" existing=#true { contact \"reed\" title=\"Old reed\" existing=#true }
        run \"pair\" length=(ft)9 room=\"lobby\" { contact \"reed\" title=\"New reed\"; resistor \"2k2\" }
    }
} }
panel \"shed\" title=\"Old panel\" part=\"control-a\" room=\"lobby\" existing=#true {
    battery capacity=(Ah)7 count=2 wired=\"parallel\" fuse=(A)4 existing=#true { another capacity=(Ah)9 }
    transformer volts=(V)16.5 rating=(VA)40 existing=#true
    earth size=(AWG)14 to=\"water pipe\" existing=#true
}
circuit \"bells\" board=\"shed\" output=\"siren\" {
    run \"pair\" length=(ft)9 room=\"lobby\" existing=#true { sounder \"sounder\" title=\"Old bell\" existing=#true }
}
";
    let made = packet(&site(&format!("{HEADER}{BARE}{zone}")));
    let text = |name: &str| String::from_utf8(made.files[name].clone()).unwrap();
    let (list, order) = (text("materials.md"), text("installation-order.md"));
    assert!(list.contains("| Reed contact | 1 |") && !list.contains("Joint box"), "{list}");
    // One panel of the two is bought, and of three batteries the one that is not like the others.
    for bought in ["| Control board | 1 |", "| Battery, 12 V 9 Ah | 1 |"] {
        assert!(list.contains(bought), "{bought}: {list}");
    }
    assert!(list.contains("\n- Bare supply: from AC1 and AC2 to transformer 16.5 V, 75 VA\n"), "{list}");
    for there in ["7 Ah", "40 VA", "Earth", "Fuse", "| Sounder"] {
        assert!(!list.contains(there), "{there}: {list}");
    }
    for step in [
        "*inspect* Old reed (Lobby): it is there; try it with a meter",
        "*inspect* Old box (joint box): it is there; see that it opens",
        "*inspect* Old panel (Control board): it is there; see that it opens and that its terminals are those of the terminal schedule",
        "*inspect* transformer 16.5 V, 40 VA of Old panel is there: unplug it or, where a screw holds its plug, switch off the breaker of its outlet, where that is not done yet",
        "*inspect* battery 2 × 7 Ah and 9 Ah side by side of Old panel is there: take one lead off each battery and cap it, where that is not done yet",
        "*isolate* Old panel: take one lead off each battery and cap it",
        "*isolate* Old panel: then unplug the transformer or, where a screw holds its plug, switch off the breaker of its outlet; the board must be dark",
        "*check* Old bell (Lobby): it is there; see that it works, by its test, once the power is on",
        "☐ New reed (Lobby)",
    ] {
        assert!(order.contains(step), "{step}: {order}");
    }
    // Written down later, nothing is bought and nothing goes; exchanged, it is.
    let of_panel = [
        "room=\"lobby\" existing=#true {\n    battery",
        "fuse=(A)4 existing=#true",
        "(VA)40 existing=#true",
        "bell\" existing=#true",
    ];
    let before = of_panel.iter().fold(zone.to_owned(), |text, flag| {
        assert!(text.contains(flag), "{flag}");
        text.replace(flag, &flag.replace(" existing=#true", ""))
    });
    let made = |zone: &str| site(&format!("{HEADER}{zone}"));
    let order_of = |old: &Compiled, new: &Compiled| WorkOrder::of(&Sides::of(old, new), &Remarks::default());
    let order = order_of(&made(&before), &made(zone));
    assert!(
        order.buy.is_empty() && order.back.is_empty() && order.after.is_empty(),
        "{:?} {:?}",
        order.buy,
        order.back
    );
    // What the house had stays in it, also where the spec says no more of it.
    let less = zone.replace("    earth size=(AWG)14 to=\"water pipe\" existing=#true\n", "").replace("fuse=(A)4 ", "");
    let order = order_of(&made(zone), &made(&less));
    let steps: Vec<_> = order.places.iter().flat_map(|place| &place.steps).collect();
    assert!(
        steps.len() == 2 && steps.iter().all(|step| step.text.ends_with("write it into the spec again")),
        "{steps:?}"
    );
    let larger = zone.replace("capacity=(Ah)7", "capacity=(Ah)12");
    let order = order_of(&made(zone), &made(&larger));
    assert_eq!((order.buy[0].count.as_str(), order.back[0].what.as_str()), ("2", "Battery, 12 V 7 Ah"));
}

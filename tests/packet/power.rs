//! The power sheet: hand-worked figures, an empty house, what nobody knows.

use loopwright::views::DOCUMENTS;

use super::sites::{empty_site, full_site, hostile_site, markdown, schedule, site};
use loopwright::compiled::Compiled;

/// Copper of 1 mm² and 58 m has 1 Ω at 20 °C (IEC 60028), so this pair has 2 Ω, 1.882 Ω at 5 °C. A conductor of that size may
/// have 18.1 Ω/km (IEC 60228): 2.0996 Ω, and 2.223 Ω at 35 °C.
const WORKED: &str = r#"site "worked" title="Worked" lengths="m" {
    revision "A" date="2027-01-01"
}
include "../parts/example.kdl"
level "l" title="Level" { room "r" title="Room"; }
cable "round" conductors=2 size=(mm2)1
part "horn" title="Horn" { basis "generic"; supply min=(V)9 max=(V)15 idle=(mA)0 alarm=(mA)500; }
part "worked-board" {
    basis "generic"
    output "bell" positive="S+" negative="S-" volts=(V)13.8 limit=(mA)1000 when="alarm"
    output "aux" positive="A+" negative="A-" volts=(V)13.8 limit=(mA)800
    draw idle=(mA)100 alarm=(mA)200
    charger current=(mA)400 cut-off=(V)10.5
}
panel "p" title="Board" part="worked-board" room="r" {
    battery capacity=(Ah)7
    transformer volts=(V)16.5 rating=(VA)40
}
circuit "loud" board="p" output="bell" {
    run "round" length=(m)58 room="r" label="LOUD" { sounder "horn" title="Horn in the room"; }
}
"#;

fn sheet(made: &Compiled) -> String {
    markdown(made, "power-sheet")
}

/// Volts: 0.5 A × 2.223 Ω = 1.112 V in the heat, 0.941 V in the cold. Charge: 0.1 A × 24 h + 0.7 A × 5 min = 2.458 Ah,
/// × 1.25 = 3.07 Ah. Time of 7 Ah, new: the alarm takes 5 min of the 9.01 h that 0.7 A would last (Peukert 1.15), what is
/// left of 70 h is 69.35 h; at 5 °C 88 % of it. From empty 7 Ah × 1.2 ÷ 0.4 A = 21 h. 16.5 V × 1.1 A ÷ 0.62 = 29.3 VA.
/// Advised: 2.476 Ah last 24 h at 0.1 A and 5 min at 0.7 A; × 1.25, which stands for ageing, ÷ 0.88 is 3.52 Ah.
#[test]
fn the_sheet_says_what_was_worked_out_by_hand() {
    let sheet = sheet(&site(WORKED));
    for wanted in [
        "| output bell (in alarm only) | 0 mA | 500 mA | 1 A | 500 mA, 50 % | `▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒░░░░░░░░░░░░░░░░░░░░` |",
        "| output aux | 0 mA | 0 mA | 800 mA | 800 mA, 100 % |",
        "| the board itself | 100 mA | 200 mA |",
        "| **all together** | **100 mA** | **700 mA** |",
        "| time asked for | **24 h at rest, then 5 min in alarm** | profile figures for any house: common practice |",
        "| charge that takes | **2.46 Ah** | 100 mA × 24 h + 700 mA × 5 min |",
        "| battery asked for | **3.08 Ah: size 3.4 Ah** |",
        "| battery advised | **3.52 Ah: size 4 Ah** |",
        "| battery fitted | **7 Ah** | enough, also old and in the cold |",
        "| charged again | **at least 21.0 h** |",
        "| transformer | **40 VA fitted, 30 VA needed** |",
        "new, 25 °C | **69.3 h** | yes |",
        "new, 5 °C | **60.9 h** | yes |",
        "everything in alarm from the start: new, 25 °C | **9.0 h** | yes |",
        "### output bell: 13.80 V on mains, 10.50 V at the end of the battery",
        "| Horn in the room | LOUD, 58.0 m | 0 mA / 500 mA | – | 12.69–12.86 | – | **9.39–9.56** | 9–15 | **0.39** |",
    ] {
        assert!(sheet.contains(wanted), "{wanted}\n\n{sheet}");
    }
}

#[test]
fn a_board_without_battery_says_what_is_asked_for() {
    let sheet = sheet(&site(&WORKED.replace("battery capacity=(Ah)7", "")));
    assert!(sheet.contains("| battery fitted | **none** | the spec names none |"), "{sheet}");
    assert!(sheet.contains("13.80 V on mains, no battery") && !sheet.contains("how long the battery"), "{sheet}");
}

#[test]
fn two_batteries_count_together() {
    let sheet = sheet(&site(&WORKED.replace("capacity=(Ah)7", "capacity=(Ah)7 count=2 wired=\"parallel\"")));
    assert!(
        sheet.contains("| battery fitted | **2 × 7 Ah side by side: 12 V, 14 Ah** |")
            && sheet.contains("**at least 42.0 h**"),
        "{sheet}"
    );
}

#[test]
fn an_empty_house_has_no_supply_and_what_is_not_known_is_named() {
    assert!(sheet(&empty_site()).contains("No board has a supply of its own."));
    let full = sheet(&full_site());
    assert!(full.contains("Not counted, for no sheet says what they take: router."), "{full}");
    // The one whose draw is given is counted, and so is the detector behind the circuit.
    assert!(
        full.contains("| adapter | a cable that is not in the spec; volts at the output | 2 W |")
            && full.contains("| Smoke, landing | SMOKE-FEED-1, 33 ft |"),
        "{full}"
    );
}

#[test]
fn every_load_has_a_row_in_the_table() {
    for made in [full_site(), hostile_site(), site(WORKED)] {
        let document = DOCUMENTS.iter().find(|document| document.name == "power-sheet").unwrap();
        let table = document.table.unwrap()(&made);
        let loads: usize = made.power.feedings.iter().map(|feeding| feeding.tree.loads().count()).sum();
        assert_eq!(table.rows.len(), loads);
        assert!(loads > 0);
    }
}

/// What an output feeds by a cable that the spec does not have is counted, and says so.
#[test]
fn a_hop_has_words_where_it_has_no_cable_and_no_minimum() {
    let made = full_site();
    let sheet = markdown(&made, "power-sheet");
    let row = sheet.lines().find(|line| line.starts_with("| adapter |")).unwrap();
    assert!(row.starts_with("| adapter | a cable that is not in the spec; volts at the output | 2 W |"), "{row}");
    assert!(row.ends_with("| not given | **–** |"), "{row}");
    assert!(!sheet.contains("****"), "{sheet}");
    let schedule = schedule(&made);
    let told = "Fed from this board by a cable that is not in the spec, which takes room under the output's screws: adapter from output aux.";
    assert!(schedule.contains(told), "{schedule}");
}

/// 10.5 V less 0.3 V of the board and 0.15 V of the output's own switch; another output holds its volts by its sheet.
#[test]
fn what_is_lost_on_battery_is_told_as_it_is_counted() {
    let lossy = WORKED
        .replace("cut-off=(V)10.5", "cut-off=(V)10.5 drop=(mV)300")
        .replace("limit=(mA)1000", "limit=(mA)1000 drop=(mV)150");
    let heading = |spec: &str| {
        let sheet = sheet(&site(spec));
        sheet.lines().find(|line| line.starts_with("### output bell")).unwrap().to_owned()
    };
    assert_eq!(
        heading(&lossy),
        "### output bell: 13.80 V on mains, 10.05 V at the end of the battery, with 0.45 V lost in the board"
    );
    let own = lossy.replace(" drop=(mV)300", "");
    assert!(
        heading(&own).ends_with("10.35 V at the end of the battery, with 0.15 V lost in the board"),
        "{}",
        heading(&own)
    );
    let held = lossy.replace("drop=(mV)150", "least=(V)12");
    assert!(heading(&held).ends_with("12.00 V at the end of the battery, by its sheet"), "{}", heading(&held));
}

/// A repeater of the bus gives more volts at its second port than come to it at its first, as its outputs may.
#[test]
fn a_port_that_gives_more_volts_than_come_to_it_raises_them() {
    let house = |volts: &str| {
        format!(
            r#"site "ports" title="Ports" lengths="ft" {{ revision "A" date="2027-01-01"; }}
include "../parts/example.kdl"
level "base" {{ room "lobby" title="Lobby"; room "shed" title="Shed"; }}
part "rep" title="Repeater" {{
    basis "sheet" ref="invented"
    bus-port "in" plus="+" minus="-" a="A" b="B"
    bus-port "out" plus="P" minus="M" a="OA" b="OB" terminator=(ohm)120 volts=(V){volts} limit=(mA)200
    draw idle=(mA)30 min=(V)9
}}
panel "main" title="Main panel" part="control-a" room="lobby" {{
    battery capacity=(Ah)12 installed="2027-01-01"
    transformer volts=(V)16.5 rating=(VA)75 outlet="lobby"
}}
bus "data" board="main" rate=(baud)9600 {{
    run "bus-cable" length=(ft)120 room="shed" {{ module "rep" title="Repeater" part="rep" address=2; terminator (ohm)120; }}
}}
bus "far" board="rep" port="out" rate=(baud)9600 {{
    run "bus-cable" length=(ft)200 room="shed" {{ keypad "kp" title="Keypad" part="keypad-a" address=1; terminator (ohm)120; }}
}}
"#
        )
    };
    let raised = sheet(&site(&house("24")));
    assert!(raised.contains("in it: bus port out of Repeater, raised to 24.00 V: × 2.36"), "{raised}");
    let row = raised.lines().find(|line| line.starts_with("| Keypad |")).unwrap();
    assert!(row.contains("| 23.83–23.85 | 23.61–23.66 |"), "{row}");
    // Volts that come and go on alike are passed on, whatever the sheet of the battery's charge says.
    let passed = sheet(&site(&house("13.8")));
    assert!(!passed.contains("raised"), "{passed}");
}

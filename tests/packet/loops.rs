//! Loops on paper and in answers: hand-worked readings, their trail, and readings inverted.

use loopwright::base::Id;
use loopwright::calc::diagnose::{Diagnosis, Fault, Measured, diagnose};
use loopwright::calc::halving::{self, Next, Spot};
use loopwright::calc::{State, conductor, loops, trail};
use loopwright::model::Zone;
use loopwright::views::{diagnosis, why};
use loopwright::words::Paper;

use super::sites::{FULL, full_site, hostile_site, loop_sheet, markdown, packet, site};
use loopwright::compiled::Compiled;

/// Copper of 1 mm² and 58 m has 1 Ω at 20 °C (IEC 60028), so this pair has 2 Ω; the contact has 1 Ω nominally.
pub(super) const WORKED: &str = r#"site "worked" title="Worked" lengths="m" {
    revision "A" date="2027-01-01"
}
include "../parts/example.kdl"
level "l" title="Level" { room "r" title="Room" { door "d" title="Door"; window "w" title="Window"; }; }
cable "round" conductors=2 size=(mm2)1
part "worked-reed" senses="opening" { basis "generic"; contact form="NC" resistance=(ohm)2; }
part "worked-board" {
    basis "generic"
    input 1 signal="I1" return="R1"
    input 2 signal="I2" return="R1"
    sensing supply=(V)5 pull-up=(ohm)2200 tolerance=(percent)0 {
        band "short" max=(V)1.5
        band "normal" min=(V)2 max=(V)3
        band "open" min=(V)3.5
    }
}
panel "p" part="worked-board" room="r"
area "a" title="Area"
zone 1 "Door" type="perimeter" area="a" {
    loop "end-of-line" board="p" input=1 {
        run "round" length=(m)58 room="r" { contact "worked-reed" on="d"; }
        run "round" length=(m)116 room="r" { contact "worked-reed" on="w"; resistor "2k2"; }
    }
}
zone 2 "Doubled" type="perimeter" area="a" {
    loop "double-end-of-line" board="p" input=2 {
        run "round" length=(m)58 room="r" { contact "worked-reed" title="Hatch" shunt="4k7"; resistor "2k2"; }
    }
}
"#;

fn zone(made: &Compiled, number: u32) -> Id<Zone> {
    made.site.zones.entries().find(|(_, zone)| zone.number.value == number).unwrap().0
}

fn ask(made: &Compiled, number: u32, measured: Measured) -> Diagnosis {
    let zone = zone(made, number);
    let readings = loops::of_zone(&made.site, zone).unwrap();
    diagnose(&made.site, &readings, why::sensing(&made.site, zone), measured).unwrap()
}

/// The states that fit, in words.
fn fits(made: &Compiled, number: u32, measured: Measured) -> Vec<String> {
    let readings = loops::of_zone(&made.site, zone(made, number)).unwrap();
    let found = ask(made, number, measured).fits;
    found.iter().map(|fit| Paper.state(&made.site, &made.wiring, readings.states[fit.state].state)).collect()
}

fn close(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-6 * wanted.abs().max(1.0), "{found} against {wanted}");
}

/// Every place that is left at the ends of the steps.
fn spots(next: Next) -> Vec<Spot> {
    match next {
        Next::Measure(step) => [step.elsewhere, step.inside].into_iter().flat_map(spots).collect(),
        Next::Left(spots) => spots,
    }
}

#[test]
fn readings_find_their_states() {
    let made = site(WORKED);
    // 2 + 1 + 4 + 1 + 2200 Ω at rest.
    assert_eq!(fits(&made, 1, Measured::Ohms(2208.0)), ["at rest"]);
    assert_eq!(fits(&made, 1, Measured::Volts(5.0 * 2208.0 / 4408.0)), ["at rest"]);
    assert_eq!(
        fits(&made, 1, Measured::Ohms(f64::INFINITY)),
        ["Door open", "Window open", "all contacts in alarm at once", "cable Z1 cut", "cable Z1-2 cut"]
    );
    // A joint that came apart and a resistor that broke read as a cut does, and are among what is left.
    let open = ask(&made, 1, Measured::Ohms(f64::INFINITY));
    assert_eq!(open.faults, [Fault::Open]);
    let zone = zone(&made, 1);
    let left = spots(halving::next(&made.site, &made.loops[&zone], &open).unwrap());
    let count = |wanted: fn(&Spot) -> bool| left.iter().filter(|spot| wanted(spot)).count();
    assert_eq!(count(|spot| matches!(spot, Spot::Joint(_))), 2, "{left:?}");
    assert_eq!(count(|spot| matches!(spot, Spot::Resistor(0))), 1, "{left:?}");
    // More than conductors that touch, and less than a hundredth of the loop.
    assert!(matches!(ask(&made, 1, Measured::Ohms(15.0)).faults[..], [Fault::Leakage(_)]));
    // 2 + 4700 + 2200 Ω with the contact open.
    assert_eq!(fits(&made, 2, Measured::Ohms(6902.0)), ["Hatch in alarm"]);
    assert!(ask(&made, 1, Measured::Ohms(2208.0)).faults.is_empty(), "a reading at rest needs no explanation");
}

#[test]
fn a_short_is_found_along_its_run() {
    let made = site(WORKED);
    let found = ask(&made, 1, Measured::Ohms(1.0));
    let [Fault::Short { along, from_board, .. }] = found.faults[..] else { panic!("{found:?}") };
    close(along.unwrap().nominal, 29.0);
    close(from_board.0, 29.0);
    // Behind the first run and its contact (3 Ω), half of the second one's 4 Ω.
    let found = ask(&made, 1, Measured::Ohms(5.0));
    // With an ohm between the conductors it may as well be in the first run.
    let [Fault::Short { along, from_board, .. }, Fault::Touch(..)] = found.faults[..] else { panic!("{found:?}") };
    close(along.unwrap().nominal, 58.0);
    close(from_board.0, 116.0);
}

/// Handbook resistances of solid copper (ASTM B258 with IEC 60028, 20 °C, per kilofoot): 6.385 Ω of 18 AWG, 16.14 Ω of 22 and
/// 40.81 Ω of 26. A pair of 100 m has 4.19, 10.59 and 26.78 Ω by them; a meter may be 0.6 Ω off at 10 Ω.
#[test]
fn a_short_on_a_cable_of_unknown_size_has_a_range() {
    let made = site(&WORKED.replace(" size=(mm2)1", " stranded=#false").replace("length=(m)58", "length=(m)100"));
    let found = ask(&made, 1, Measured::Ohms(10.0));
    let along = found.faults.iter().find_map(|fault| match fault {
        Fault::Short { along, .. } => *along,
        _ => None,
    });
    let along = along.unwrap_or_else(|| panic!("{found:?}"));
    assert!((along.nominal - 94.4).abs() < 0.1, "{along:?}");
    // 9.4 Ω of the thinnest, which is warmer than 20 °C where it has the most.
    assert!(along.least > 30.0 && along.least < 35.1, "{along:?}");
    close(along.greatest, 100.0);
}

/// Two cables that are joined at the board, each with its resistor: neither shorted gives less than that of the other.
#[test]
fn leads_that_touch_before_two_cables_are_told_apart_by_measuring_each() {
    let text = WORKED
        .replace("{ contact \"worked-reed\" on=\"d\"; }", "{ contact \"worked-reed\" on=\"d\"; resistor \"1k1\"; }")
        .replace("run \"round\" length=(m)116 room", "run \"round\" from=\"board\" length=(m)116 room")
        .replace("on=\"w\"; resistor \"2k2\"", "on=\"w\"; resistor \"1k1\"");
    let made = site(&text);
    let told = |ohms| {
        let told = diagnosis::of(&made, zone(&made, 1), Measured::Ohms(ohms)).unwrap();
        serde_json::to_value(told).unwrap()
    };
    assert_eq!(ask(&made, 1, Measured::Ohms(0.4)).faults, [Fault::LeadsTouch]);
    let next = &told(0.4)["next"];
    assert_eq!(next.as_array().unwrap().len(), 2, "{next:#}");
    for (at, cable) in ["Z1", "Z1-2"].into_iter().enumerate() {
        let measure = next[at]["measure"].as_str().unwrap();
        assert!(measure.contains(&format!("both conductors of cable {cable} off")), "{next:#}");
    }
    // With one of them shorted at the board the other is left.
    assert!(ask(&made, 1, Measured::Ohms(1101.0)).faults.iter().all(|fault| *fault != Fault::LeadsTouch));
    // An open loop: an open window is no fault.
    let next = &told(f64::INFINITY)["next"];
    let measure = next[0]["measure"].as_str().unwrap();
    assert!(measure.starts_with("See that Door and Window are shut"), "{next:#}");
}

/// A closed contact reads an ohm; so does a cable with a staple through it.
#[test]
fn a_closed_contact_is_not_the_only_explanation_of_an_ohm() {
    let made = site(WORKED);
    let touches = |ohms| {
        let faults = ask(&made, 1, Measured::Ohms(ohms)).faults;
        faults.iter().filter(|fault| matches!(fault, Fault::Touch(..))).count()
    };
    // The first run has 2 Ω at its end, the second one 7.
    assert_eq!([4.5, 9.5, 30.0].map(touches), [1, 1, 0]);
}

/// A resistor of 1 kΩ within 5 % on the way is 100 Ω more or less; 5 m of cable behind it have 0.2 Ω.
#[test]
fn no_place_is_told_where_tolerances_hide_it() {
    let split = WORKED
        .replace("title=\"Hatch\" shunt=\"4k7\"; resistor \"2k2\";", "title=\"Hatch\"; resistor \"1k\";")
        .replace("loop \"double-end-of-line\"", "loop \"end-of-line\"")
        .replace("resistor \"1k\"; }\n", "resistor \"1k\"; }\n        run \"round\" length=(m)5 room=\"r\" { contact \"worked-reed\" title=\"Lid\"; resistor \"1k2\"; }\n");
    let made = site(&split);
    let found = ask(&made, 2, Measured::Ohms(1040.0));
    let short = found.faults.iter().find_map(|fault| match fault {
        Fault::Short { along, from_board, .. } => Some((*along, *from_board)),
        _ => None,
    });
    let (along, from_board) = short.unwrap_or_else(|| panic!("{found:?}"));
    assert_eq!(along, None);
    close(from_board.0, 58.0);
}

#[test]
fn leaks_joints_and_other_resistors_are_sized() {
    let made = site(WORKED);
    let found = ask(&made, 1, Measured::Ohms(1960.0));
    assert!(found.fits.is_empty());
    assert_eq!(found.nearest.len(), 1, "shorts are too far off to be named");
    let [Fault::Leakage(leak), Fault::Resistor { needed, preferred, .. }] = found.faults[..] else {
        panic!("{found:?}")
    };
    close(leak, 1960.0 * 2208.0 / 248.0);
    close(needed, 1952.0);
    close(preferred, 2000.0);

    // 1850 Ω are 2.8 % above 1.8 kΩ and 7.5 % below 2 kΩ.
    let found = ask(&made, 1, Measured::Ohms(1858.0));
    let [Fault::Leakage(_), Fault::Resistor { preferred, .. }] = found.faults[..] else { panic!("{found:?}") };
    close(preferred, 1800.0);

    let found = ask(&made, 1, Measured::Ohms(2350.0));
    let [Fault::InSeries(joint), Fault::Resistor { preferred, .. }] = found.faults[..] else { panic!("{found:?}") };
    close(joint, 142.0);
    close(preferred, 2400.0);

    let found = ask(&made, 1, Measured::Ohms(300e3));
    assert_eq!(found.faults, [Fault::OpenWithLeakage(300e3)]);
}

/// 2.27 kΩ in a loop of 2.2 kΩ ±1 %: the nearest preferred value is the one that is in it.
#[test]
fn the_same_resistor_again_explains_nothing() {
    let made = site(&WORKED.replacen("resistor \"2k2\"", "resistor \"2k2F\"", 1));
    let found = ask(&made, 1, Measured::Ohms(2270.0));
    assert!(matches!(found.faults[..], [Fault::InSeries(_)]), "{found:?}");
}

#[test]
fn a_voltage_is_a_loop_behind_the_pull_up() {
    let made = site(WORKED);
    // 5 V over 2200 Ω: 1 V at the terminals is a loop of 550 Ω.
    close(ask(&made, 1, Measured::Volts(1.0)).ohms, 550.0);
    assert!(ask(&made, 1, Measured::Volts(5.0)).ohms.is_infinite());
    assert!(ask(&made, 1, Measured::Volts(9.0)).ohms.is_infinite());
}

#[test]
fn the_trail_adds_up_to_the_readings() {
    let mut sums = 0;
    for made in [site(WORKED), full_site(), hostile_site()] {
        for (id, _) in made.site.zones.entries() {
            let Some(readings) = loops::of_zone(&made.site, id) else { continue };
            let trail = trail::of(&made.site, &readings, usize::MAX);
            for (reading, (state, sum)) in readings.states.iter().zip(&trail.sums) {
                assert_eq!(reading.state, *state);
                let value = sum.value(&trail.steps);
                if value.nominal.is_infinite() {
                    assert!(reading.ohms.nominal.is_infinite(), "{state:?}");
                    close(reading.ohms.least, conductor::LEAKAGE);
                } else {
                    close(value.nominal, reading.ohms.nominal);
                    close(value.least * conductor::LEAKAGE / (value.least + conductor::LEAKAGE), reading.ohms.least);
                    if !matches!(state, State::Alarms(_)) {
                        close(value.greatest, reading.ohms.greatest);
                    }
                }
                sums += 1;
            }
        }
    }
    assert!(sums > 25);
}

#[test]
fn the_loop_sheet_says_what_is_in_the_wall() {
    let worked = loop_sheet(&site(WORKED));
    for wanted in [
        "## [1](#zone-1) Door",
        "p, input 1: terminals **I1 and R1**, cable **Z1 (no. 1, no. 2)**",
        "I1 ── Z1 58.0 m ── [Door] ── Z1-2 116.0 m ── [Window] ── 2.2 kΩ ──┐ R1",
        "| **at rest** | **[2.208 kΩ](loop-figures.md#zone-1-s1)** |",
        "| any contact open, or all; any cable cut | **[open](loop-figures.md#zone-1-s2)** | 1 MΩ to open | **[5.00 V](",
        // From nothing at the board to 2 + 1 + 4 Ω.
        "| any cable shorted | **[0 to 7 Ω](loop-figures.md#zone-1-s6)** |",
        "I2 ── Z2 58.0 m ── [Hatch ∥ 4.7 kΩ] ── 2.2 kΩ ──┐ R1",
    ] {
        assert!(worked.contains(wanted), "{wanted}\n\n{worked}");
    }
    let full = loop_sheet(&full_site());
    for wanted in [
        "⊥ Smoke, landing ── 2.2 kΩ ──┐",
        "[cover of Motion, hall] ── [Motion, hall]",
        "with the resistor at the board",
    ] {
        assert!(full.contains(wanted), "{wanted}\n\n{full}");
    }
    let hostile = loop_sheet(&hostile_site());
    assert!(hostile.contains("## [1](#zone-1) =1+1 | \\` \\<script>"), "{hostile}");
    assert!(hostile.contains("[# a | b \\| c]"), "{hostile}");
}

/// Off its board a two-wire detector has no supply, so no ohms are those of an alarm: only the resistor and the cable are read.
#[test]
fn ohms_of_a_loop_that_feeds_its_detectors_show_no_alarm() {
    let text = "site \"fed\" { revision \"A\" date=\"2027-01-01\"; }\ninclude \"../parts/example.kdl\"\nlevel \"l\" { room \"r\"; }\npanel \"feeds\" part=\"feeds-a\" room=\"r\"\nzone 1 \"Smoke\" type=\"smoke\" { loop \"two-wire\" board=\"feeds\" input=1 { run \"pair\" length=(ft)1 room=\"r\" { detector \"smoke-2\"; resistor \"4k7\"; }; }; }\n";
    let made = site(text);
    assert_eq!(fits(&made, 1, Measured::Ohms(4700.0)), ["at rest"]);
    let sheet = markdown(&made, "commissioning-sheet");
    assert!(sheet.contains("4.4 to 4.985 kΩ") && !sheet.contains("under Loops"), "{sheet}");
}

#[test]
fn a_board_that_does_not_say_how_it_senses_gets_ohms_only() {
    let at = WORKED.find("    sensing").unwrap();
    let end = WORKED.find("panel").unwrap();
    let made = site(&format!("{}}}\n{}", &WORKED[..at], &WORKED[end..]));
    let sheet = markdown(&made, "loop-sheet");
    assert!(sheet.contains("2.208 kΩ") && !sheet.contains("board reads | margin"), "{sheet}");
    let zone = zone(&made, 1);
    let readings = loops::of_zone(&made.site, zone).unwrap();
    assert_eq!(diagnose(&made.site, &readings, why::sensing(&made.site, zone), Measured::Volts(2.0)), None);
}

/// 1 kΩ ±5 % in place of 2.2 kΩ gives 1.51 to 1.63 V. "short" ends at 1.5 V and is nearer than "normal", from 2 V on.
#[test]
fn between_the_bands_the_margin_is_the_way_to_the_nearest() {
    let made = site(&WORKED.replacen(
        "contact \"worked-reed\" on=\"w\"; resistor \"2k2\"",
        "contact \"worked-reed\" on=\"w\"; resistor \"1k0\"",
        1,
    ));
    let readings = loops::of_zone(&made.site, zone(&made, 1)).unwrap();
    let rest = &readings.states[0];
    let volts = rest.volts.unwrap().greatest;
    assert!((1.62..1.64).contains(&volts), "{volts}");
    assert_eq!(rest.reading.margin, Some(1.5 - volts));
}

#[test]
fn the_site_data_has_the_readings() {
    let made = site(WORKED);
    let text = packet(&made).files["site.json"].clone();
    let data: serde_json::Value = serde_json::from_slice(&text).unwrap();
    let states = data["zones"][0]["loop"]["states"].as_array().unwrap();
    let find = |word: &str| states.iter().find(|state| state["state"] == word).unwrap();
    assert_eq!(find("at-rest")["ohms"]["nominal"], 2208);
    assert_eq!(find("at-rest")["reads"][0], "normal");
    assert!(find("cable-cut")["ohms"]["nominal"].is_null() && find("cable-cut")["volts"]["nominal"] == 5);
    assert_eq!(find("cable-shorted-far")["cable"], "Z1");
    assert_eq!(find("alarm")["device"], data["zones"][0]["devices"][0]["id"]);
    assert!(find("at-rest")["margin-volts"].is_number() && find("at-rest")["margin-ohms"].is_null());
}

/// What was read in alarm alone was not read at rest; what was read before the last revision is said to be of then.
#[test]
fn the_as_built_record_says_what_was_not_read_at_rest_and_what_is_of_before_a_revision() {
    let record = "measured date=\"2027-02-05\" { loop 3 \"alarm\" open=#true; }\nmeasured date=\"2026-02-01\" { loop 2 \"rest\" ohms=(kohm)1.1; }\n";
    let sheet = markdown(&site(&format!("{FULL}{record}")), "as-built");
    assert!(sheet.contains("Not measured at rest yet: zones 3."), "{sheet}");
    let row = sheet.lines().find(|line| line.starts_with("| **2** |")).unwrap();
    assert!(row.contains("does not fit, taken before revision C"), "{row}");
}

/// By hand: 13.6 V behind 680 Ω, 4.7 kΩ at the end, 90 µA of the detector; 3 kΩ more across the pair leave 9.87 V, and 2 kΩ in
/// series 12.31 V.
#[test]
fn volts_of_a_loop_that_feeds_its_detectors_tell_a_leak_and_a_joint() {
    let text = "site \"fed\" { revision \"A\" date=\"2027-01-01\"; }\ninclude \"../parts/example.kdl\"\nlevel \"l\" { room \"r\"; }\npanel \"feeds\" part=\"feeds-a\" room=\"r\"\nzone 1 \"Smoke\" type=\"smoke\" { loop \"two-wire\" board=\"feeds\" input=1 { run \"pair\" length=(ft)1 room=\"r\" { detector \"smoke-2\"; resistor \"4k7\"; }; }; }\n";
    let made = site(text);
    let faults = |volts: f64| ask(&made, 1, Measured::Volts(volts)).faults;
    let told = diagnosis::of(&made, zone(&made, 1), Measured::Volts(9.87)).unwrap();
    let told = serde_json::to_value(told).unwrap();
    assert_eq!((&told["ohms"], &told["measured"]), (&serde_json::Value::Null, &"9.87 V with the leads on".into()));
    let near = |ohms: f64, wanted: f64| (ohms / wanted - 1.0).abs() < 0.02;
    assert!(
        faults(9.87).iter().any(|fault| matches!(fault, Fault::Leakage(ohms) if near(*ohms, 3000.0))),
        "{:?}",
        faults(9.87)
    );
    assert!(
        faults(12.31).iter().any(|fault| matches!(fault, Fault::InSeries(ohms) if near(*ohms, 2000.0))),
        "{:?}",
        faults(12.31)
    );
}

/// The resistor belongs at the board: what reads too much is still looked for there first, and behind it is only the cable.
#[test]
fn a_resistor_at_the_board_is_looked_at_first() {
    let text = format!(
        "{}zone 1 \"Door\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ resistor \"2k2\"; run \"pair\" length=(ft)40 room=\"lobby\" {{ contact \"reed\"; }}; }}; }}\n",
        crate::pages::HEADER
    );
    let made = site(&text);
    let told = diagnosis::of(&made, zone(&made, 1), Measured::Ohms(4400.0)).unwrap();
    let told = serde_json::to_value(told).unwrap();
    let first = &told["next"][0];
    let measure = first["measure"].as_str().unwrap();
    assert!(measure.starts_with("Look in the enclosure of ") && measure.contains("there belongs 2.2 kΩ"), "{told:#}");
}

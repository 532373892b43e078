//! Values that the help names: put into the spec they remedy the loop, in every state and not only at rest.

use std::collections::BTreeMap;

use loopwright::calc::loops;
use loopwright::diag::{Severity, Sink};
use loopwright::quantity::preferred::E24;
use loopwright::quantity::{Ohms, Resistance};
use loopwright::resolve::load::MemoryFiles;
use loopwright::resolve::resolve;

use super::loops::{quoted, run, zone};
use super::{PARTS, found, only, slugs};
use crate::pages::HEADER;

/// A loop with shunts on the board with four readings.
fn double(resistor: &str, shunts: &[&str]) -> String {
    let contact = |(n, shunt)| format!("contact \"reed\" title=\"Reed {n}\" shunt=\"{shunt}\"");
    let contacts: Vec<String> = shunts.iter().enumerate().map(contact).collect();
    let resistor = if resistor.is_empty() { String::new() } else { format!("; resistor \"{resistor}\"") };
    "panel \"side\" part=\"double-a\" room=\"lobby\"\n".to_owned()
        + &zone("double-end-of-line", "side", &run(20, &(contacts.join("; ") + &resistor)))
}

#[test]
fn a_wrong_resistor_is_remedied_by_the_one_that_the_help_names() {
    for wrong in ["5k6", "470R", "10k", "100R"] {
        let spec =
            |value: &str| zone("end-of-line", "board-a", &run(20, &format!("contact \"reed\"; resistor \"{value}\"")));
        let finding = only(&spec(wrong), "loop-resistor-wrong");
        assert_eq!(slugs(&spec(quoted(&finding.help))), [""; 0], "{}", finding.help);
    }
    // Of two one is taken out, and the other replaced: with one at the end all is supervised.
    let spec = |first: &str, second: &str| {
        let half = |length, value: &str| run(length, &format!("contact \"reed\"{value}"));
        zone("end-of-line", "board-a", &(half(20, first) + &half(30, &format!("; resistor \"{second}\""))))
    };
    let help = only(&spec("; resistor \"5k6\"", "5k6"), "loop-resistor-wrong").help;
    assert!(help.starts_with("Leave the resistor at the far end of cable `Z1-2`, and take out the other"), "{help}");
    let made_it = help.split_once("Make it").unwrap().1;
    assert_eq!(slugs(&spec("", quoted(made_it))), [""; 0], "{help}");
}

#[test]
fn a_missing_resistor_is_one_finding_and_the_help_fits() {
    for contact in ["reed", "button"] {
        let spec =
            |resistor: &str| zone("end-of-line", "board-a", &run(20, &format!("contact \"{contact}\"{resistor}")));
        let finding = only(&spec(""), "loop-resistor-missing");
        assert!(finding.help.ends_with("at the far end of cable `Z1`."), "{}", finding.help);
        assert_eq!(slugs(&spec(&format!("; resistor \"{}\"", quoted(&finding.help)))), [""; 0]);
    }
}

#[test]
fn a_loop_with_shunts_is_remedied_in_every_state() {
    // What is written, what is found, what the help has to change: resistor, shunts.
    let cases: [(&str, &[&str], &str, bool, bool); 8] = [
        ("5k6", &["2k2"], "loop-resistor-wrong", true, false),
        ("100R", &["2k2", "2k2"], "loop-resistor-wrong", true, false),
        // 2.2 kΩ would bring the loop to rest, and its alarm between the bands.
        ("5k6", &["1k3"], "loop-resistor-wrong", true, false),
        ("5k6", &["330R"], "loop-resistor-wrong", true, true),
        ("100R", &["22k", "330R"], "loop-resistor-wrong", true, true),
        ("2k2", &["330R"], "loop-alarm-reads-normal", false, true),
        ("2k2", &["12k"], "loop-alarm-unclear", false, true),
        ("2k2", &["4k7", "4k7"], "loop-alarms-indistinct", false, true),
    ];
    for (resistor, shunts, slug, other_resistor, other_shunts) in cases {
        let finding = only(&double(resistor, shunts), slug);
        let better = quoted(&finding.help);
        let remedied = double(
            if other_resistor { better } else { resistor },
            &shunts.iter().map(|shunt| if other_shunts { better } else { *shunt }).collect::<Vec<_>>(),
        );
        assert_eq!(finding.help.contains("resistor"), other_resistor, "{}", finding.help);
        assert_eq!(finding.help.contains("shunt"), other_shunts, "{}", finding.help);
        assert_eq!(errors(&remedied), [""; 0], "{resistor} {shunts:?}: {}", finding.help);
    }
}

#[test]
fn a_missing_resistor_minds_the_shunts() {
    for (shunt, both) in [("2k2", false), ("330R", true)] {
        let finding = only(&double("", &[shunt]), "loop-resistor-missing");
        let better = quoted(&finding.help);
        assert_eq!(finding.help.ends_with(", and take the same value for the shunt."), both, "{}", finding.help);
        assert_eq!(errors(&double(better, &[if both { better } else { shunt }])), [""; 0], "{}", finding.help);
    }
}

/// Bands that only a resistor and shunts of two values meet.
#[test]
fn a_resistor_and_shunts_of_two_values_are_found() {
    let spec = |resistor: &str, shunt: &str| {
        let contacts = format!("contact \"reed\" shunt=\"{shunt}\"");
        "part \"narrow\" {
    basis \"sheet\"
    input 1 signal=\"I1\" return=\"R1\"
    sensing supply=(V)5 pull-up=(ohm)2200 {
        band \"short\" max=(V)1.68
        band \"normal\" min=(V)1.88 max=(V)2.28
        band \"alarm\" min=(V)2.43 max=(V)3.10
        band \"tamper\" min=(V)3.20
    }
}
panel \"side\" part=\"narrow\" room=\"lobby\"\n"
            .to_owned()
            + &zone(
                "double-end-of-line",
                "side",
                &(run(20, &contacts) + &run(20, &format!("{contacts}; resistor \"{resistor}\""))),
            )
    };
    let finding = only(&spec("10k", "2k7"), "loop-resistor-wrong");
    let named: Vec<&str> = finding.help.split('"').skip(1).step_by(2).collect();
    let [resistor, shunt] = named[..] else { panic!("{}", finding.help) };
    assert_ne!(resistor, shunt);
    assert_eq!(errors(&spec(resistor, shunt)), [""; 0], "{}", finding.help);
}

/// Eight contacts are more than the bands can tell apart from a cut, with any value.
#[test]
fn where_no_value_is_right_in_every_state_none_is_named() {
    let finding = only(&double("2k2", &["2k2"; 8]), "loop-alarms-indistinct");
    assert!(!finding.help.contains("kΩ") && finding.help.contains("its own zone"), "{}", finding.help);
    let finding = only(&double("5k6", &["2k2"; 8]), "loop-not-normal");
    assert!(finding.help.starts_with("No preferred value makes every state"), "{}", finding.help);
}

/// Every value of E24 put into the spec: the one that the help names keeps most distance from every edge.
#[test]
fn no_other_value_has_more_margin() {
    for (shunt, least) in [("2k2", 4), ("1k3", 2)] {
        let named = quoted(&only(&double("5k6", &[shunt]), "loop-resistor-wrong").help).to_owned();
        let values = (1..5).flat_map(|decade| {
            E24.map(|digits| Resistance::new(Ohms(f64::from(digits) * 10_f64.powi(decade - 1))).marking().unwrap())
        });
        let right: BTreeMap<String, f64> = values
            .map(|value| (value.clone(), double(&value, &[shunt])))
            .filter(|(_, spec)| errors(spec).is_empty())
            .map(|(value, spec)| (value, least_margin(&spec)))
            .collect();
        assert!(right.len() >= least, "{right:?}");
        assert!(right.values().all(|margin| *margin <= right[&named]), "{named} of {right:?}");
        // Best at rest alone, and between the bands in alarm with the small shunt.
        assert_eq!(right.contains_key("2k2"), shunt == "2k2", "{right:?}");
    }
}

/// The least margin over all states of the only zone of a spec.
fn least_margin(spec: &str) -> f64 {
    let site = format!("{HEADER}{spec}");
    let files = [("site.kdl", site.as_str()), ("../parts/example.kdl", PARTS)];
    let files = files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into();
    let site = resolve(&MemoryFiles(files), &mut Sink::default()).site.unwrap();
    let readings = loops::of_site(&site).into_values().next().unwrap();
    readings.states.iter().filter_map(|state| state.reading.margin).fold(f64::INFINITY, f64::min)
}

/// The slugs of the errors in a spec; a small margin is none.
fn errors(spec: &str) -> Vec<&'static str> {
    let found = found(spec);
    found.iter().filter(|one| one.severity() == Severity::Error).map(|one| one.rule.slug).collect()
}

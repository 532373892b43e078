//! Batteries in series and in the cold, and what a board makes of their volts.

use loopwright::calc::power;
use loopwright::profiles::standby;
use loopwright::quantity::Volts;

use super::{found, found_under, only, slugs};
use crate::pages::HEADER;

const BOARD: &str = "part \"big\" { basis \"sheet\"; output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)27.6 limit=(A)1; draw idle=(mA)400 alarm=(mA)900; charger current=(A)1 cut-off=(V)21; }
";

fn panel(battery: &str) -> String {
    format!(
        "{BOARD}panel \"big\" part=\"big\" room=\"lobby\" {{ battery {battery} installed=\"2027-01-01\"; transformer volts=(V)30 rating=(VA)120 outlet=\"no switch\"; }}\n"
    )
}

/// 0.4 A × 24 h + 0.9 A × 5 min = 9.675 Ah, × 1.25 = 12.1 Ah. Two of 7 Ah in series are 7 Ah at 24 V, and 14 Ah at 12 V.
#[test]
fn a_board_of_24_volts_has_its_batteries_in_series() {
    let finding = only(&panel("capacity=(Ah)7 count=2 wired=\"series\""), "battery-short");
    assert_eq!(finding.title, "the battery of panel `big` has 2 × 7 Ah in series and the profile asks for 12.1 Ah");
    assert!(finding.help.ends_with("battery capacity=(Ah)18 count=2 wired=\"series\""), "{}", finding.help);
    assert_eq!(slugs(&panel("capacity=(Ah)18 count=2 wired=\"series\"")), [""; 0]);
    let twelve = panel("capacity=(Ah)7 count=2 wired=\"parallel\"")
        .replace("27.6", "13.8")
        .replace("(V)21", "(V)10.5")
        .replace("(V)30", "(V)16.5");
    assert!(found(&twelve).iter().all(|finding| finding.rule.slug != "battery-short"));
    // A board that lets go at 10.5 V has a battery of 12 V, whatever an output makes of it.
    let boosted = panel("capacity=(Ah)18").replace("(V)21", "(V)10.5").replace("(V)30", "(V)16.5");
    assert_eq!(slugs(&boosted), [""; 0]);
    only(&panel("capacity=(Ah)18"), "batteries-wrong-volts");
}

/// 16.5 V of alternating voltage are 23.3 V at their peak, less 1.4 V for two diodes 21.9 V: under the 26.4 V of twelve cells. A
/// part that gives its least is held to that, and 20 V give 26.9 V.
#[test]
fn a_transformer_below_its_battery_charges_nothing() {
    let port = |volts: &str, min: &str| {
        let port =
            format!("part \"big\" {{ ac-port a=\"X1\" b=\"X2\"{min}; battery-port positive=\"P+\" negative=\"P-\";");
        panel("capacity=(Ah)18 count=2 wired=\"series\"").replace("part \"big\" {", &port).replace("(V)30", volts)
    };
    let finding = only(&port("(V)16.5", ""), "transformer-volts-low");
    assert_eq!(finding.title, "the transformer of panel `big` gives 16.5 V, too few to charge its battery");
    assert!(finding.labels.iter().any(|label| label.text.contains("21.93 V")), "{finding:#?}");
    for right in [port("(V)20", ""), port("(V)16.5", " min=(V)16")] {
        assert_eq!(slugs(&right), [""; 0]);
    }
}

/// 0.56 A × 12 h + 0.6 A × 15 min = 6.87 Ah, and at that current 7 Ah last less than the 12 h.
#[test]
fn a_battery_that_does_not_last_the_time_is_short() {
    let text = panel("capacity=(Ah)7")
        .replace("27.6", "13.8")
        .replace("(V)21", "(V)10.5")
        .replace("(V)30", "(V)16.5")
        .replace("idle=(mA)400 alarm=(mA)900", "idle=(mA)560 alarm=(mA)600");
    let header = HEADER.replacen("revision", "profile \"eu-grade-2\"\n    revision", 1);
    let found = found_under(&header, &text);
    let titles: Vec<&str> =
        found.iter().filter(|one| one.rule.slug.starts_with("battery-")).map(|one| one.title.as_str()).collect();
    assert_eq!(
        titles,
        ["the battery of panel `big` has 7 Ah and lasts 11 h 22 min of the 12 h that the profile asks for"]
    );
}

/// The end of a 12 V battery is 6 × 1.75 V, whatever one of the outputs makes of it, less what the board's sheet says that
/// it loses.
#[test]
fn the_end_of_the_battery_is_that_of_its_cells() {
    let volts = |charger: &str| -> Vec<Volts> {
        let site = crate::loops::site(&format!(
            "site \"one\"
level \"l\" {{ room \"r\"; }}
part \"board\" {{ basis \"sheet\"; output \"logic\" positive=\"L+\" negative=\"L-\" volts=(V)5 limit=(A)1; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(A)1; charger current=(A)1{charger}; }}
panel \"main\" part=\"board\" room=\"r\" {{ battery capacity=(Ah)7; }}
"
        ));
        power::of_site(&site).feedings.iter().filter_map(|feeding| feeding.battery_volts).collect()
    };
    assert_eq!(volts(""), [Volts(5.0), Volts(10.5)]);
    assert_eq!(volts(" drop=(V)0.5"), [Volts(5.0), Volts(10.0)]);
    assert_eq!(volts(" cut-off=(V)11 drop=(V)0.5"), [Volts(5.0), Volts(10.5)]);
}

/// A house with carbon monoxide detectors is asked for 24 h, one with neither these nor fire zones for 4 h, and the times
/// of a house without fire zones cite no document on fire.
#[test]
fn the_hours_of_a_household_follow_what_it_detects() {
    let row = |kind: &str| {
        standby::of_site(&crate::loops::site(&format!(
            "site \"one\" {{ profile \"us-household\"; }}
level \"l\" {{ room \"r\"; }}
part \"board\" {{ basis \"sheet\"; input 1 signal=\"I\" return=\"R\"; }}
part \"reed\" {{ basis \"sheet\"; contact form=\"NC\"; }}
cable \"pair\" conductors=2 size=(AWG)22
panel \"main\" part=\"board\" room=\"r\"
zone 1 \"Z\" type=\"{kind}\" {{ loop \"end-of-line\" board=\"main\" {{ run \"pair\" length=(ft)20 room=\"r\" {{ contact \"reed\"; resistor \"2k2\"; }}; }}; }}
"
        )))
    };
    for (kind, hours) in [("smoke", 24.0), ("carbon-monoxide", 24.0), ("perimeter", 4.0)] {
        let row = row(kind);
        assert_eq!(row.standby.value, hours * 3600.0, "{kind}");
        assert!(row.margin.source().starts_with("common practice"), "{}", row.margin.source());
    }
    assert_eq!(row("perimeter").recharge.source(), "common practice");
    assert_eq!(row("carbon-monoxide").recharge.source(), "common practice");
}

/// −20 °C under a roof: no hours are computed for a battery of which no sheet says that it stands that.
#[test]
fn a_battery_that_is_too_cold_is_told_and_not_computed() {
    let spec = format!(
        "level \"yard\" {{ room \"shed\" kind=\"attic\"; }}\n{}",
        panel("capacity=(Ah)40 count=2 wired=\"series\"").replace("lobby", "shed")
    );
    let finding = only(&spec, "battery-too-cold");
    assert_eq!(finding.title, "the battery of panel `big` gets as cold as -20 °C; it is counted on down to -15 °C");
    let made = crate::packet::sites::site(&format!("{}{}", crate::pages::HEADER, spec));
    let sheet = crate::packet::sites::markdown(&made, "power-sheet");
    assert!(sheet.contains("not computed") && sheet.contains("too cold"), "{sheet}");
}

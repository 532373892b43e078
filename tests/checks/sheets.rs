//! What a part's sheet says, held against itself and against what the part is used for.

use super::{found, only, slugs};

/// A panel of its own with these lines in its part.
fn panel(lines: &str) -> String {
    format!(
        "part \"own\" title=\"Board\" {{
    basis \"sheet\" ref=\"invented\"
    {lines}
    screw wires=2
}}
panel \"own\" part=\"own\" room=\"lobby\" {{
    battery capacity=(Ah)12 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby, no switch\"
}}
"
    )
}

const OUTPUT: &str = "output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(mA)900";
const DRAW: &str = "draw idle=(mA)20";
const CHARGER: &str = "charger current=(mA)400 cut-off=(V)10.5";
const AC: &str = "ac-port a=\"AC1\" b=\"AC2\"";
const BATTERY: &str = "battery-port positive=\"BT+\" negative=\"BT-\"";

fn all(change: (&str, &str)) -> String {
    let lines = [OUTPUT, DRAW, CHARGER, AC, BATTERY].join("\n    ");
    assert!(lines.contains(change.0), "{}", change.0);
    panel(&lines.replace(change.0, change.1))
}

#[test]
fn volts_of_a_board_that_cannot_be_are_one_finding() {
    assert_eq!(slugs(&all(("", ""))), [""; 0]);
    for (old, new, said) in [
        ("cut-off=(V)10.5", "cut-off=(V)10.5 drop=(V)11", "part `own` loses 11.00 V of its battery's last 10.50 V"),
        ("limit=(mA)900", "limit=(mA)900 drop=(V)10.5", "part `own` loses 10.50 V of its battery's last 10.50 V"),
        ("limit=(mA)900", "limit=(mA)900 least=(V)14", "`output` of part `own` has least=14.00 V and volts=13.80 V"),
        (
            "draw idle=(mA)20",
            "draw idle=(mA)20 min=(V)16 max=(V)9",
            "`draw` of part `own` has min=16.00 V and max=9.00 V",
        ),
    ] {
        assert_eq!(only(&all((old, new)), "part-range-reversed").title, said);
    }
    for (old, new) in [("cut-off=(V)10.5", "cut-off=(V)13.8"), ("limit=(mA)900", "limit=(mA)900 least=(V)13.8")] {
        let told = slugs(&all((old, new)));
        assert!(!told.contains(&"part-range-reversed"), "{new}: {told:?}");
        assert!(!told.contains(&"cut-off-above-outputs"), "{new}: {told:?}");
    }
}

/// Two values of one sheet that a supply may have that steps its volts down: no error, so that it can be accepted.
#[test]
fn a_cut_off_above_the_outputs_can_be_accepted() {
    let finding = only(&all(("cut-off=(V)10.5", "cut-off=(V)13.9")), "cut-off-above-outputs");
    assert_eq!(finding.title, "part `own` lets go of its battery at 13.90 V, and gives 13.80 V on mains");
    assert_eq!(finding.severity(), loopwright::diag::Severity::Warning);
}

#[test]
fn what_has_no_terminals_is_not_bought() {
    let transformer = only(&all((AC, "")), "part-lacks-connection");
    assert_eq!(transformer.title, "part `own` is used with a transformer and has no terminals for one");
    let battery = only(&all((BATTERY, "")), "part-lacks-connection");
    assert_eq!(battery.title, "part `own` is used with a battery and has no terminals for one");
    // A module that its bus feeds.
    let module = "bus \"data\" board=\"board-a\" rate=(baud)19200 { run \"bus-cable\" length=(ft)30 room=\"lobby\" { module \"exp\" part=\"expander-a\" address=1 { transformer volts=(V)16.5 rating=(VA)20 outlet=\"lobby, no switch\"; }; terminator (ohm)120; }; }\n";
    let told = slugs(module);
    assert!(told.contains(&"part-lacks-connection"), "{told:?}");
}

#[test]
fn a_board_with_a_battery_says_what_it_takes() {
    let finding = only(&all((DRAW, "")), "consumption-unknown");
    assert_eq!(finding.title, "nobody says what panel `own` takes itself");
    let bare = all((DRAW, ""));
    let bare = bare.split_once("panel \"own\"").unwrap().0.to_owned() + "panel \"own\" part=\"own\" room=\"lobby\"\n";
    assert!(!slugs(&bare).contains(&"consumption-unknown"), "{:?}", slugs(&bare));
}

#[test]
fn a_board_on_a_bus_stands_so_many_volts() {
    let bus = |max: &str| {
        format!(
            "part \"dial\" {{ basis \"sheet\" ref=\"invented\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)40 min=(V)9{max}; }}
bus \"data\" board=\"board-a\" rate=(baud)19200 {{ run \"bus-cable\" length=(ft)30 room=\"lobby\" {{ keypad \"keys\" part=\"dial\" address=1; terminator (ohm)120; }}; }}
"
        )
    };
    assert_eq!(slugs(&bus(" max=(V)15")), [""; 0]);
    let finding = only(&bus(" max=(V)12"), "supply-above-maximum");
    assert!(finding.title.contains("it withstands 12.00 V"), "{}", finding.title);
    assert!(found(&bus("")).is_empty());
}

//! What a supply gives: its tolerance on mains, its own drop and its least volts on battery, and the bias of a bus with a
//! supply that may be off. All figures by hand.

use loopwright::calc::power::{CASES, Case, Demand, Supply, Wire, of_site};

/// The volts at the far end of 100 ft of 18 AWG that carry 0.5 A in alarm, by case. `output` stands at the output.
fn at_the_end(output: &str) -> Vec<(Case, f64)> {
    let text = format!(
        "site \"s\"
level \"l\" {{ room \"r\"; }}
part \"board\" {{ basis \"sheet\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(A)2 {output}
    charger current=(mA)500 cut-off=(V)10.5 drop=(V)0.3; }}
part \"horn\" {{ basis \"sheet\"; supply min=(V)9 idle=(mA)0 alarm=(mA)500; }}
cable \"heavy\" conductors=2 size=(AWG)18
panel \"p\" part=\"board\" room=\"r\" {{ battery capacity=(Ah)7; }}
circuit \"c\" board=\"p\" output=\"out\" {{ run \"heavy\" length=(ft)100 room=\"r\" {{ sounder \"horn\"; }}; }}
"
    );
    let site = crate::loops::site(&text);
    let power = of_site(&site);
    let feeding = power.feedings.iter().find(|feeding| feeding.tree.nodes.len() > 1).unwrap();
    CASES.map(|case| (case, feeding.flows[&case].as_ref().unwrap().volts[1].unwrap().0)).to_vec()
}

fn volts(output: &str, supply: Supply, demand: Demand, wire: Wire) -> f64 {
    at_the_end(output).into_iter().find(|(case, _)| *case == Case { supply, demand, wire }).unwrap().1
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 2e-3, "{found} against {expected}");
}

/// 2 · 100 ft of 18 AWG: 1.277 Ω at 20 °C (6.385 Ω/kft, handbook figure by ASTM B258 and IEC 60028); 5 to 35 °C in a house.
const COLD: f64 = 1.277 * (1.0 - 0.00393 * 15.0);
const HOT: f64 = 1.277 * (1.0 + 0.00393 * 15.0);

#[test]
fn on_mains_the_tolerance_counts_down_with_hot_wire_and_up_with_cold() {
    near(volts("", Supply::Mains, Demand::Alarm, Wire::Hot), 13.8 - 0.5 * HOT);
    let given = "tolerance=(percent)5";
    near(volts(given, Supply::Mains, Demand::Alarm, Wire::Hot), 13.8 * 0.95 - 0.5 * HOT);
    near(volts(given, Supply::Mains, Demand::Alarm, Wire::Cold), 13.8 * 1.05 - 0.5 * COLD);
    near(volts(given, Supply::Mains, Demand::Idle, Wire::Hot), 13.8 * 0.95);
}

#[test]
fn on_battery_the_drops_of_charger_and_output_add_up() {
    near(volts("", Supply::Battery, Demand::Alarm, Wire::Hot), 10.5 - 0.3 - 0.5 * HOT);
    let given = "drop=(V)0.4";
    near(volts(given, Supply::Battery, Demand::Alarm, Wire::Hot), 10.5 - 0.3 - 0.4 - 0.5 * HOT);
    near(volts(given, Supply::Mains, Demand::Alarm, Wire::Hot), 13.8 - 0.5 * HOT);
}

#[test]
fn the_least_volts_of_the_sheet_go_before_what_is_computed() {
    let given = "drop=(V)0.4 least=(V)10.1";
    near(volts(given, Supply::Battery, Demand::Alarm, Wire::Hot), 10.1 - 0.5 * HOT);
}

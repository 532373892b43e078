//! Laws that every supply obeys, on made-up trees.

use loopwright::calc::power::{CASES, Case, Consumer, Demand, Feeding, Supply};
use loopwright::quantity::Volts;
use proptest::prelude::*;

use super::plan::{Plan, load};
use super::{nodes, solved, times, trees};
use crate::loops::random::Random;

/// Rounding, in volt.
const ROUNDING: f64 = 1e-9;

/// Volts at each place of a plan in a case; `None` where there is no solution.
fn volts(plan: &Plan) -> Vec<(Case, Option<Vec<f64>>)> {
    let plans = [plan.clone()];
    let (site, power) = solved(&plans);
    let feeding = trees(&site, &power, &plans)[0];
    let nodes = nodes(&site, feeding, plan, 0);
    let at = |feeding: &Feeding, case| {
        let flow = feeding.flows[&case].as_ref().ok()?;
        Some(nodes.iter().map(|node| flow.volts[*node].unwrap().0).collect())
    };
    CASES.map(|case| (case, at(feeding, case))).to_vec()
}

/// No place of the second plan has more volts than in the first.
fn never_more(before: &Plan, after: &Plan) -> Result<(), TestCaseError> {
    for ((case, before), (_, after)) in volts(before).into_iter().zip(volts(after)) {
        let Some(before) = before else {
            prop_assert!(after.is_none(), "{case:?}: a solution where there was none");
            continue;
        };
        for (place, (before, after)) in before.iter().zip(after.into_iter().flatten()).enumerate() {
            prop_assert!(after <= before + ROUNDING, "{case:?}, place {place}: {before} V, then {after} V");
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_longer_wire_never_raises_volts(seed in any::<u64>(), which in any::<prop::sample::Index>(), times in 1.01..4.0) {
        let plan = Plan::new(seed);
        let mut longer = plan.clone();
        let place = which.index(plan.places.len());
        longer.places[place].feet *= times;
        never_more(&plan, &longer)?;
    }

    #[test]
    fn one_more_load_never_raises_volts(seed in any::<u64>(), which in any::<prop::sample::Index>()) {
        let plan = Plan::new(seed);
        let mut more = plan.clone();
        // A module is one load; another device goes anywhere else.
        let place = which.index(plan.places.len());
        prop_assume!(place >= plan.modules);
        more.places[place].loads.push(load(&mut Random::new(seed ^ 7)));
        never_more(&plan, &more)?;
    }

    #[test]
    fn what_the_supply_gives_is_what_the_loads_take(seed in any::<u64>()) {
        let plans = [Plan::new(seed)];
        let (site, power) = solved(&plans);
        let feeding = trees(&site, &power, &plans)[0];
        for (case, flow) in feeding.flows.iter().filter_map(|(case, flow)| Some((case, flow.as_ref().ok()?))) {
            let take = |(node, load): (usize, &loopwright::calc::power::Load)| {
                let take = if case.demand == Demand::Idle { load.idle } else { load.alarm };
                take.at(flow.volts[node].unwrap()).0
            };
            let sum: f64 = feeding.tree.loads().map(take).sum();
            prop_assert!((sum - flow.total().0).abs() <= 1e-9 * sum.max(1e-3), "{case:?}: {sum} against {:?}", flow.total());
        }
    }

    #[test]
    fn everything_is_counted_once(seed in any::<u64>()) {
        let plans = [Plan::new(seed), Plan::new(seed ^ 1)];
        let (site, power) = solved(&plans);
        for (device, _) in site.devices.entries() {
            prop_assert_eq!(times(&power, Consumer::Device(device)), 1);
        }
        for (board, item) in site.boards.entries() {
            prop_assert_eq!(times(&power, Consumer::Board(board)), usize::from(item.bus.is_some()));
        }
    }

    #[test]
    fn the_end_of_the_battery_is_never_above_mains(seed in any::<u64>()) {
        let plans = [Plan::new(seed)];
        let (site, power) = solved(&plans);
        let feeding = trees(&site, &power, &plans)[0];
        for case in CASES.into_iter().filter(|case| case.supply == Supply::Battery) {
            let mains = Case { supply: Supply::Mains, ..case };
            let (Ok(battery), Ok(mains)) = (&feeding.flows[&case], &feeding.flows[&mains]) else { continue };
            for (battery, mains) in battery.volts.iter().zip(&mains.volts) {
                prop_assert!(battery.unwrap_or(Volts(0.0)).0 <= mains.unwrap_or(Volts(0.0)).0 + ROUNDING);
            }
        }
    }
}

/// A cable takes its temperatures from where it starts, what it passes and where it ends, and its guests take them from it.
/// By hand: 22 AWG has 16.14 Ω/kft at 20 °C, two conductors of 60 ft 1.937 Ω; × (1 + 0.00393 × (T − 20)).
#[test]
fn a_guest_is_as_hot_as_its_host() {
    let site = |passes: &str, room: &str| {
        crate::loops::site(&format!(
            "site \"one\"
level \"l\" {{ room \"r\"; room \"loft\" kind=\"attic\"; room \"yard\" kind=\"outdoors\"; }}
cable \"six\" conductors=6 size=(AWG)22
part \"board\" {{ basis \"sheet\"; input 1 signal=\"I\" return=\"R\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(A)1 when=\"alarm\"; }}
part \"reed\" {{ basis \"sheet\"; contact form=\"NC\"; }}
part \"siren\" {{ basis \"sheet\"; supply min=(V)9 idle=(mA)0 alarm=(mA)600; }}
panel \"main\" part=\"board\" room=\"r\"
zone 1 \"Z\" type=\"interior\" {{ loop \"end-of-line\" board=\"main\" {{ run \"six\" name=\"up\" length=(ft)60 room=\"{room}\"{passes} {{ contact \"reed\"; resistor \"2k2\"; }}; }}; }}
circuit \"loud\" board=\"main\" output=\"out\" {{ run \"six\" along=\"up\" length=(ft)40 room=\"{room}\" {{ sounder \"siren\"; }}; }}
"
        ))
    };
    for (passes, room, [cold, hot]) in [
        ("", "r", [5.0, 35.0]),
        ("", "loft", [-20.0, 60.0]),
        (" passes=\"attic\"", "r", [-20.0, 60.0]),
        (" passes=\"underground\"", "loft", [-20.0, 60.0]),
        (" passes=\"attic\"", "yard", [-30.0, 60.0]),
        (" passes=\"riser\"", "yard", [-30.0, 50.0]),
    ] {
        let power = loopwright::calc::power::of_site(&site(passes, room));
        let ohms = power.feedings[0].tree.nodes[1].ohms;
        for (ours, celsius) in [(ohms.least, cold), (ohms.nominal, 20.0), (ohms.greatest, hot)] {
            let by_hand = 2.0 * 0.060 * 16.14 * (1.0 + 0.00393 * (celsius - 20.0));
            assert!((ours / by_hand - 1.0).abs() < 1e-3, "{passes} {room} {celsius}: {ours} against {by_hand}");
        }
    }
}

/// IEC 60228 lets a flexible conductor of 0.5 mm² have 39 Ω/km at 20 °C, and a sheet may promise less: 100 m out and back at
/// 35 °C are 7.8 Ω × 1.05895, or by the sheet's 37.5 Ω/km 7.5 Ω × 1.05895. Cold wire is ideal copper with 2 % for its lay.
#[test]
fn the_most_of_a_metric_conductor_is_its_sheets_or_the_standards() {
    for (sheet, most) in [("", 39.0), (" resistance=(ohm-per-km)37.5", 37.5)] {
        let site = crate::loops::site(&format!(
            "site \"one\" lengths=\"m\"
level \"l\" {{ room \"r\"; }}
cable \"flex\" conductors=2 size=(mm2)0.5 stranded=#true{sheet}
part \"board\" {{ basis \"sheet\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(A)1 when=\"alarm\"; }}
part \"siren\" {{ basis \"sheet\"; supply min=(V)9 idle=(mA)0 alarm=(mA)600; }}
panel \"main\" part=\"board\" room=\"r\"
circuit \"loud\" board=\"main\" output=\"out\" {{ run \"flex\" length=(m)100 room=\"r\" {{ sounder \"siren\"; }}; }}
"
        ));
        let ohms = loopwright::calc::power::of_site(&site).feedings[0].tree.nodes[1].ohms;
        assert!((ohms.greatest - 0.2 * most * 1.05895).abs() < 1e-9, "{ohms:?}");
        let copper = 200.0 * 1.02 / 58.0 / 0.5;
        assert!((ohms.nominal - copper).abs() < 1e-9 && (ohms.least - copper * 0.94105).abs() < 1e-9, "{ohms:?}");
    }
}

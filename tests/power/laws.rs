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

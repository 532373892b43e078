//! What a work order had forgotten, or said twice: cables that are cut, joints, terminators, marks, batteries.

use loopwright::compiled::Compiled;
use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::joints::in_box;
use super::sites::{FULL, site_after};

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    WorkOrder::of(&Sides::of(old, new), &Remarks::default())
}

/// The work order of an edit, with the register of the first revision kept.
fn kept(new: &str) -> WorkOrder {
    let (old, register) = site_after(FULL, &Register::default());
    order(&old, &site_after(new, &register).0)
}

fn edited(from: &str, to: &str) -> WorkOrder {
    assert!(FULL.contains(from), "{from}");
    kept(&FULL.replacen(from, to, 1))
}

/// "place | kind | text" of each step.
fn steps(order: &WorkOrder) -> Vec<String> {
    let places = serde_json::to_value(&order.places).unwrap();
    let step = |place: &serde_json::Value| -> Vec<String> {
        let title = place["title"].as_str().unwrap().to_owned();
        let one = |step: &serde_json::Value| {
            format!("{title} | {} | {}", step["kind"].as_str().unwrap(), step["text"].as_str().unwrap())
        };
        place["steps"].as_array().unwrap().iter().map(one).collect()
    };
    places.as_array().unwrap().iter().flat_map(step).collect()
}

fn walk(order: &WorkOrder) -> String {
    order.walk.iter().map(|step| format!("{}\n", step.text)).collect()
}

/// Zone 2's cable with a joint box on the landing.
fn cut(second: &str) -> String {
    let run = "        run \"six\" length=(ft)45 room=\"hall\" {";
    assert!(FULL.contains(run));
    let runs = format!(
        "        run \"six\" length=(ft)30 existing=#true into=\"cut-box\"\n        run \"six\" length=(ft)14 {second} room=\"hall\" {{"
    );
    let joint_box = "joint-box \"cut-box\" title=\"Box on the landing\" room=\"landing\" joined-by=\"solder\"\n";
    format!("{}{joint_box}", FULL.replace(run, &runs))
}

#[test]
fn a_cable_that_is_cut_keeps_both_its_screwed_ends() {
    let order = kept(&cut("existing=#true"));
    let steps = steps(&order);
    assert!(order.pull.is_empty() && order.out.is_empty(), "{order:#?}");
    let of = |kind: &str| steps.iter().filter(|step| step.contains(&format!("| {kind} | "))).collect::<Vec<_>>();
    let [one] = of("remove").try_into().unwrap();
    assert!(one.starts_with("Landing") && one.contains("Z2 (from ") && one.contains("cut it at Box on the landing"));
    assert!(of("find").is_empty(), "{steps:#?}");
    // The two new ends, and the second lines at the two old ones.
    assert_eq!(of("label").len(), 4, "{steps:#?}");
    let land = of("land");
    assert!(land.len() == 2 && land.iter().all(|step| step.starts_with("Landing")), "{steps:#?}");
    let labels = order.buy.iter().find(|item| item.what.contains("label")).unwrap();
    assert_eq!(labels.count, "4");
}

#[test]
fn another_cable_goes_on_from_where_one_is_cut() {
    let order = kept(&cut(""));
    let steps = steps(&order);
    let [pull] = order.pull.as_slice() else { panic!("{:#?}", order.pull) };
    let [out] = order.out.as_slice() else { panic!("{:#?}", order.out) };
    assert!(pull.text.contains("from Box on the landing") && out.text.contains("the old piece, from the cut"));
    // Nothing is lifted at the panel.
    let remove: Vec<&String> = steps.iter().filter(|step| step.contains("| remove | ")).collect();
    assert!(remove.len() == 2 && !remove.iter().any(|step| step.starts_with("Plant room")), "{steps:#?}");
    assert!(!steps.iter().any(|step| step.starts_with("Plant room") && step.contains("| land |")), "{steps:#?}");
}

#[test]
fn joints_that_are_made_otherwise_have_a_step() {
    let old = in_box();
    let new = super::joints::in_soldered_box();
    let order = order(&old, &new);
    let steps = steps(&order);
    let made = "SOUNDERS-1 in Box under the stair: make each of its joints there again, soldered; until now crimped";
    assert!(steps.iter().any(|step| step.contains(made)), "{steps:#?}");
    assert!(
        walk(&order).contains("Low siren (Den) sounds") && walk(&order).contains("High siren (Den) sounds"),
        "{}",
        walk(&order)
    );
}

#[test]
fn a_terminator_built_into_the_head_is_switched() {
    let order =
        edited("bus \"data\" board=\"main\" rate", "bus \"data\" board=\"main\" built-in-terminator=#false rate");
    let steps = steps(&order);
    let off = "| remove | Main panel: its built-in terminator of bus data is off from now on";
    assert_eq!(steps.iter().filter(|step| step.contains(off)).count(), 1, "{steps:#?}");
}

#[test]
fn what_is_kept_for_later_is_marked_and_lands_nowhere() {
    let run = "run \"six\" length=(ft)45 room=\"hall\" {";
    let order = edited(run, &format!("{run} reserve \"bell\" conductors=2;"));
    let steps = steps(&order);
    let mark = "Z2: park and mark BU blue and YE yellow on this end, kept for bell from now on";
    assert_eq!(steps.iter().filter(|step| step.contains(mark)).count(), 2, "{steps:#?}");
    assert!(order.off.is_empty() && order.measure.is_empty() && order.supplies.is_empty(), "{order:#?}");
}

#[test]
fn a_battery_of_a_wireless_detector_is_exchanged_with_the_boards_on() {
    let order = edited("battery=\"2027-01-31\"", "battery=\"2027-09-01\"");
    let steps = steps(&order);
    let [step] = steps.as_slice() else { panic!("{steps:#?}") };
    assert!(step.contains("take its old battery out, put a new one in; write the day on it, 2027-09-01"), "{step}");
    assert!(order.off.is_empty(), "{:#?}", order.off);
}

#[test]
fn what_is_lifted_is_called_by_the_label_that_hangs_on_it() {
    let new = FULL.replace("board=\"main\" input=2", "board=\"main\" input=4");
    let steps = steps(&kept(&new.replace("run \"six\" length=(ft)45", "run \"six\" label=\"HALL\" length=(ft)45")));
    assert!(steps.iter().any(|step| step.contains("| remove | Z2 ")), "{steps:#?}");
    assert!(!steps.iter().any(|step| step.contains("| remove | HALL ")), "{steps:#?}");
    assert!(steps.iter().any(|step| step.contains("| land | HALL ")), "{steps:#?}");
}

#[test]
fn a_sounder_that_shares_an_opened_screw_is_tried() {
    let more = "circuit \"more\" board=\"main\" output=\"siren\" {\n    run \"pair\" length=(ft)9 room=\"store\" { sounder \"sounder\" title=\"Store siren\"; }\n}\n";
    let order = kept(&format!("{FULL}{more}"));
    assert!(walk(&order).contains("Store siren sounds"), "{}", walk(&order));
    assert_eq!(order.walk.iter().filter(|step| step.text.ends_with(" sounds")).count(), 2, "{}", walk(&order));
}

#[test]
fn a_panel_that_moves_takes_its_battery_and_transformer_along() {
    let order = edited("part=\"control-a\" room=\"plant\"", "part=\"control-a\" room=\"store\"");
    let steps = steps(&order);
    for what in ["battery 7 Ah of Main panel", "transformer 16.5 V, 40 VA of Main panel"] {
        let down = |step: &&String| {
            step.starts_with("Plant room")
                && step.contains("| remove | ")
                && step.contains(what)
                && step.ends_with(": take it down; it is used again in Store")
        };
        assert_eq!(steps.iter().filter(down).count(), 1, "{what}: {steps:#?}");
    }
}

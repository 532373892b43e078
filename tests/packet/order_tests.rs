//! What a work order has programmed, measured and tried after boards, batteries and bus cables are exchanged.

use loopwright::compiled::Compiled;
use loopwright::emit;
use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, Step, WorkOrder};

use super::sites::{FULL, full_site, site, site_after};

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    WorkOrder::of(&Sides::of(old, new), &Remarks::default())
}

fn kept(old: &str, new: &str) -> WorkOrder {
    let (old, register) = site_after(old, &Register::default());
    order(&old, &site_after(new, &register).0)
}

fn texts(steps: &[Step]) -> String {
    steps.iter().map(|step| format!("{}\n", step.text)).collect()
}

fn at_places(order: &WorkOrder, kind: &str) -> String {
    let steps = order.places.iter().flat_map(|place| &place.steps).filter(|step| step.kind == kind);
    steps.map(|step| format!("{}\n", step.text)).collect()
}

/// The full house with another panel, on which the same output has other marks.
pub fn other_panel() -> String {
    let parts = include_str!("../pages/example.kdl");
    let start = parts.find("part \"control-a\"").unwrap();
    let part = &parts[start..start + parts[start..].find("\n}\n").unwrap() + 3];
    let part = part
        .replace("\"control-a\" title=\"Control board\"", "\"control-z\" title=\"Other control board\"")
        .replace("positive=\"A+\" negative=\"A-\"", "positive=\"AUX+\" negative=\"AUX-\"");
    assert!(part.contains("control-z") && part.contains("AUX+"));
    FULL.replace("part=\"control-a\"", "part=\"control-z\"") + &part
}

#[test]
fn a_panel_that_is_exchanged_is_programmed_anew() {
    let exchanged = kept(FULL, &other_panel());
    let told = "part Control board → Other control board; it is blank: program all of it anew by the programming sheet";
    assert!(texts(&exchanged.program).contains(told), "{}", texts(&exchanged.program));
    // Another one under another name is none the less another one.
    let renamed = FULL.replace("\"main\"", "\"second\"").replace("title=\"Main panel\"", "title=\"Panel upstairs\"");
    let renamed = renamed.replace("room=\"plant\" {", "room=\"landing\" {");
    let program = texts(&order(&full_site(), &site(&renamed)).program);
    assert!(program.contains("New Panel upstairs: it is blank"), "{program}");
    let module = FULL.replace("part=\"keypad-a\" address=1", "part=\"keypad-z\" address=1")
        + "part \"keypad-z\" title=\"Keypad, other\" { basis \"sheet\" ref=\"invented\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)50 min=(V)9; }\n";
    let program = texts(&order(&full_site(), &site(&module)).program);
    assert!(program.contains("it is blank: let the panel find it at its address"), "{program}");
}

#[test]
fn all_that_hangs_on_a_panel_that_is_exchanged_is_tried() {
    let order = kept(FULL, &other_panel());
    let walk = texts(&order.walk);
    // Zones on the panel, on a module of its bus, and by radio.
    for tried in ["Zone 1 ", "Zone 2 ", "Zone 3 ", "Zone 4 ", "Zone 5 "] {
        assert!(walk.lines().any(|line| line.starts_with(tried)), "{tried} in {walk}");
    }
    assert!(walk.lines().any(|line| line.ends_with(" sounds")), "{walk}");
    assert!(walk.contains("Main panel: runs on mains alone and on its battery alone"), "{walk}");
    let at: Vec<&str> = order.supplies.iter().map(|supply| supply.at.as_str()).collect();
    for fed in ["Motion, hall", "Expander", "Hall keypad"] {
        assert!(at.iter().any(|at| at.starts_with(fed)), "{fed} in {at:?}");
    }
    // The loop of the module was not touched, but the supply of its detector was off its terminals.
    assert!(["1", "4"].iter().all(|zone| order.measure.iter().any(|line| line.zone == *zone)));
}

#[test]
fn a_strip_is_linked_again_where_its_output_is_marked_otherwise() {
    let order = kept(FULL, &other_panel());
    let remove = at_places(&order, "remove");
    assert!(
        remove.contains("Supply strip: take off the short wires from Main panel, terminal A+ to terminal in+"),
        "{remove}"
    );
    let land = at_places(&order, "land");
    assert!(land.contains("Supply strip: short wires from Main panel, terminal AUX+ to terminal in+"), "{land}");
}

fn items(items: &[loopwright::views::work_order::Item]) -> Vec<String> {
    items.iter().map(|item| format!("{} {}", item.count, item.what)).collect()
}

fn with_battery(battery: &str) -> String {
    let old = "battery capacity=(Ah)7 replace-after=(year)8";
    assert!(FULL.contains(old));
    FULL.replace(old, &format!("battery {battery} replace-after=(year)8"))
}

#[test]
fn a_battery_that_is_exchanged_is_bought_mounted_and_tried() {
    let old = with_battery("capacity=(Ah)7 installed=\"2027-03-14\"");
    let tried = "Main panel: runs on mains alone and on its battery alone";
    for (size, day) in [(7, "2031-05-01"), (12, "2031-05-01"), (12, "2027-03-14")] {
        let order = order(&site(&old), &site(&with_battery(&format!("capacity=(Ah){size} installed=\"{day}\""))));
        assert_eq!(items(&order.buy), [format!("1 Battery, 12 V {size} Ah")]);
        assert_eq!(items(&order.back), ["1 Battery, 12 V 7 Ah"]);
        let mount = at_places(&order, "mount");
        assert_eq!(mount.lines().count(), 1, "{mount}");
        assert!(mount.starts_with("Main panel: take the old battery out, put the new one in: "), "{mount}");
        assert!(texts(&order.walk).contains(tried), "{}", texts(&order.walk));
    }
    // A second one beside the old one of the same day is bought alone.
    let two = with_battery("capacity=(Ah)7 count=2 wired=\"parallel\" installed=\"2027-03-14\"");
    let order = order(&site(&old), &site(&two));
    assert_eq!((items(&order.buy), items(&order.back)), (vec!["1 Battery, 12 V 7 Ah".to_owned()], vec![]));
    // Of unlike ones the order tells nothing, and another day is another battery.
    let unlike = |first: u32, second: u32, day: &str| {
        let further = format!("{{ another capacity=(Ah){second} installed=\"{day}\" }}");
        let bank = format!("capacity=(Ah){first} wired=\"parallel\" installed=\"2027-03-14\"");
        site(&with_battery(&bank).replace("replace-after=(year)8", &format!("replace-after=(year)8 {further}")))
    };
    let order = |now: &Compiled| self::order(&unlike(7, 12, "2027-03-14"), now);
    assert!(order(&unlike(12, 7, "2027-03-14")).after.is_empty());
    assert_eq!(items(&order(&unlike(7, 12, "2028-01-14")).buy), ["1 Battery, 12 V 12 Ah"]);
}

#[test]
fn a_day_that_was_not_known_is_written_on_the_battery_that_is_there() {
    let order = order(&full_site(), &site(&with_battery("capacity=(Ah)7 installed=\"2027-03-14\"")));
    assert!(order.buy.is_empty() && order.back.is_empty() && order.after.is_empty(), "{:?}", order.buy);
    assert_eq!(at_places(&order, "check"), "Main panel: write on its battery the day that it was put in, 2027-03-14\n");
}

#[test]
fn what_a_new_bus_cable_reaches_answers_and_has_its_volts() {
    let run = "run \"bus-cable\" length=(ft)30 room=\"hall\"";
    assert!(FULL.contains(run));
    let order = kept(FULL, &FULL.replace(run, "run \"bus-cable\" length=(ft)60 room=\"hall\""));
    let walk = texts(&order.walk);
    for told in ["Hall keypad: answers at its address\n", "Low keypad: answers at its address\n"] {
        assert!(walk.contains(told), "{told} in {walk}");
    }
    let at: Vec<&str> = order.supplies.iter().map(|supply| supply.at.as_str()).collect();
    assert!(at.contains(&"Hall keypad") && at.contains(&"Low keypad"), "{at:?}");
}

#[test]
fn what_else_is_on_a_bus_of_which_a_cable_is_new_or_goes_still_answers() {
    let run = "run \"bus-cable\" length=(ft)30 room=\"landing\"";
    assert!(FULL.contains(run));
    let longer = kept(FULL, &FULL.replace(run, "run \"bus-cable\" length=(ft)60 room=\"landing\""));
    let walk = texts(&longer.walk);
    assert!(walk.contains("Expander: answers at its address\n"), "{walk}");
    assert!(walk.contains("Bus data: Hall keypad and Low keypad still answer\n"), "{walk}");
    let at: Vec<&str> = longer.supplies.iter().map(|supply| supply.at.as_str()).collect();
    assert_eq!(at, ["Expander", "Receiver"]);
    let spur = "        run \"bus-cable\" length=(ft)2 room=\"hall\" { keypad \"low-keys\" title=\"Low keypad\" part=\"keypad-a\" address=4 { emergency-key \"fire\" number=95; emergency-key \"panic-silent\"; }; }\n";
    assert!(FULL.contains(spur));
    let walk = texts(&kept(FULL, &FULL.replace(spur, "")).walk);
    assert!(walk.contains("Hall keypad: answers at its address\n"), "{walk}");
}

#[test]
fn ohms_are_read_before_the_power_is_on() {
    let order = kept(FULL, &FULL.replace("input=3 {", "input=4 {").replace("length=(ft)45", "length=(ft)60"));
    let (page, _) = emit::work_order(&order);
    let [off, on, volts] =
        ["## Measure the loops, leads off", "## When all is landed", "## Measure the loops, leads on"]
            .map(|at| page.find(at));
    assert!(off.is_some() && off < on && on < volts, "{page}");
    assert!(page.contains("Now, while the boards are off.") && !page.contains("Switch the board off first"), "{page}");
    // The contact of a detector that is dark tells nothing: its loop is read later.
    let cold = |zone: &str| order.measure.iter().find(|line| line.zone == zone).map(|line| line.cold);
    assert_eq!((cold("2"), cold("3")), (Some(false), Some(true)));
    let (before, after) = page.split_at(on.unwrap());
    assert!(!before.contains("| **2** |") && before.contains("| **3** |"), "{page}");
    assert!(after.contains("| **2** |") && after.contains("| **3** |"), "{page}");
}

#[test]
fn where_nothing_is_switched_off_the_board_is_before_ohms_are_read() {
    let order = kept(FULL, &FULL.replace("\"Store window\" type=\"perimeter\"", "\"Store window\" type=\"interior\""));
    assert!(order.before.iter().all(|step| step.kind != "isolate" || !step.text.contains("transformer")));
    assert!(!order.measure.is_empty());
    let (page, _) = emit::work_order(&order);
    assert!(page.contains("Switch the board off first: take one lead off the battery and cap it"), "{page}");
    assert!(page.contains("When all are read, switch it on: "), "{page}");
}

//! The work order as a sheet: its template, its page, its JSON.

use handlebars::template::Template;
use loopwright::diff::What;
use loopwright::emit;
use loopwright::register::{Register, State};
use loopwright::views::value;
use loopwright::views::work_order::{DOCUMENT, Remarks, Sides, WIRING, WorkOrder};

use super::sites::{FULL, empty_site, full_site, hostile_site, site, site_after};
use super::template_check::{faults, reserved};
use crate::json_schema;
use loopwright::compiled::Compiled;

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    let remarks = Remarks { doubts: vec!["a doubt".into()], sheets: vec!["Loop sheet".into()], ..Remarks::default() };
    WorkOrder::of(&Sides::of(old, new), &remarks)
}

/// The full house with something of every kind gone, come and moved.
fn other() -> Compiled {
    let (before, after) = FULL.split_once("zone 5").unwrap();
    let after = after.split_once("bus \"data\"").unwrap().1;
    let text = format!("{before}bus \"data\"{after}")
        .replace("length=(ft)38", "length=(ft)60")
        .replace("input=2", "input=4")
        .replace("entry=(s)30", "entry=(s)45")
        .replace("part=\"keypad-a\" address=1", "part=\"receiver-a\" address=7")
        .replace("resistor \"2k2\"", "resistor \"4k7\"")
        .replace("sounder \"sounder\";", "sounder \"sounder\"; sounder \"sounder\" title=\"Second\";");
    site(&text)
}

#[test]
fn the_template_fits_the_view() {
    let orders = [order(&full_site(), &other()), order(&other(), &full_site())];
    let views: Vec<_> = orders.iter().map(value).collect();
    for document in [&DOCUMENT, &WIRING] {
        let template = Template::compile(document.template).unwrap();
        assert_eq!(faults(&template, &views), Vec::<String>::new(), "{}", document.name);
    }
    assert_eq!(views.iter().flat_map(reserved).collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn every_kind_of_step_is_given() {
    let order = order(&full_site(), &other());
    let kinds: Vec<&str> = order.places.iter().flat_map(|place| &place.steps).map(|step| step.kind).collect();
    assert!(order.pull.iter().all(|step| step.kind == "pull") && !order.pull.is_empty());
    assert!(!kinds.contains(&"pull"), "cables are pulled before anything is done at a place");
    for kind in ["remove", "label", "mount", "land", "fit", "address"] {
        assert!(kinds.contains(&kind), "{kind} in {kinds:?}");
    }
    let texts = |steps: &[loopwright::views::work_order::Step]| -> String {
        steps.iter().map(|step| format!("{}\n", step.text)).collect()
    };
    assert!(texts(&order.off).contains("unplug the transformer"));
    assert!(texts(&order.off).contains("zone 4"), "the smoke loop is out of service");
    assert!(texts(&order.program).contains("entry delay 30 s → 45 s"), "{}", texts(&order.program));
    assert!(texts(&order.program).contains("Delete zone 5 Shed door"));
    assert!(texts(&order.walk).contains("Second (Hall) sounds"), "{}", texts(&order.walk));
    let one = order.measure.iter().find(|line| line.zone == "1").unwrap();
    assert!(one.ohms.starts_with("4.7") && one.was.starts_with("2.2"), "{one:?}");
    let gone: Vec<&str> = order.service.iter().map(|line| line.what).collect();
    // The zone's own line, what disturbs the radio of a keypad that is one with a receiver now, the two events of the zone's
    // radio, the zones of an event for bypassed ones, and that keypad's codes. The battery is too small, so that both ways and what a
    // lost mains does are told anew.
    let wanted = ["gone", "changed", "gone", "gone", "changed", "changed", "changed", "changed", "changed"];
    assert_eq!(gone, wanted, "{:#?}", order.service);
    assert!(order.changes.iter().any(|change| change.what == "reads"));
}

#[test]
fn no_text_leaves_its_place_on_the_page() {
    for (old, new) in [(empty_site(), hostile_site()), (hostile_site(), empty_site()), (hostile_site(), full_site())] {
        let order = order(&old, &new);
        let (markdown, page) = emit::work_order(&order);
        assert!(!page.contains("<script") && !page.contains("href=\"javascript"), "{page}");
        assert_eq!(page.matches("</style>").count(), 1);
        let ticks = order.before.len() + order.after.len() + order.walk.len() + order.program.len() + order.paper.len();
        let ticks = ticks + order.pull.len() + order.off.len() + order.out.len();
        let ticks = ticks + order.places.iter().map(|place| place.steps.len()).sum::<usize>();
        assert_eq!(page.matches("<span class=\"tick\">").count(), ticks, "one box a step");
        assert_eq!(markdown.matches("- [ ] ").count(), ticks);
    }
}

#[test]
fn the_json_fits_its_schema() {
    let schema = serde_json::from_str(&WorkOrder::schema()).unwrap();
    for (old, new) in [(full_site(), other()), (empty_site(), empty_site()), (empty_site(), full_site())] {
        let mut json: serde_json::Value = serde_json::from_str(&order(&old, &new).json()).unwrap();
        assert_eq!(json_schema::faults(&schema, &json), [""; 0]);
        json["version"] = 2.into();
        assert!(!json_schema::faults(&schema, &json).is_empty());
    }
}

#[test]
fn nothing_to_do_is_no_work() {
    let order = order(&full_site(), &full_site());
    assert!(!order.steps && order.places.is_empty() && order.changes.is_empty());
    assert_eq!(order.summary, "nothing differs");
    let made = full_site();
    let changed = other();
    let sides = Sides::of(&made, &changed);
    assert!(sides.found.diff.changes.iter().any(|change| change.what() == What::Removed));
}

/// The steps of one kind, whatever the place.
fn steps_at(order: &WorkOrder, kind: &str) -> String {
    let steps = order.places.iter().flat_map(|place| &place.steps).filter(|step| step.kind == kind);
    steps.map(|step| format!("{}\n", step.text)).collect()
}

#[test]
fn a_new_strip_is_linked_to_its_output() {
    let with = |output: &str| site(&format!("{FULL}strip \"late\" board=\"main\" output=\"{output}\" ways=2\n"));
    let first = order(&full_site(), &with("aux"));
    assert!(
        first.buy.iter().any(|item| item.what.to_string().starts_with("Terminal strip, 2 ways")),
        "{:?}",
        first.buy
    );
    let land = steps_at(&first, "land");
    let wires = "late: short wires from Main panel, terminal A+ to terminal in+ and A- to in-";
    assert!(land.contains(wires), "{land}");
    let land = steps_at(&order(&with("aux"), &with("siren")), "land");
    assert!(land.contains("late: short wires from Main panel, terminal S+ to terminal in+"), "{land}");
}

#[test]
fn the_resistor_of_a_pulled_loop_is_named_once() {
    let order = order(&empty_site(), &full_site());
    let (land, fit) = (steps_at(&order, "land"), steps_at(&order, "fit"));
    assert!(land.contains("→ resistor 2.2 kΩ"), "{land}");
    assert!(!fit.contains("at the far end of Z"), "{fit}");
}

/// Zone 4 with what follows its detector.
fn smoke_zone(on: &str) -> Compiled {
    let end = "title=\"Smoke, landing\"\n            resistor \"2k2\"\n        }";
    assert!(FULL.contains(end));
    site(&FULL.replace(end, &format!("title=\"Smoke, landing\"\n{on}")))
}

const SMOKE_STORE: &str =
    "run \"six\" length=(ft)12 room=\"store\" { detector \"smoke-generic\" title=\"Smoke, store\"; resistor \"2k2\"; }";

#[test]
fn a_loop_is_landed_on_the_terminals_of_its_contact() {
    let land = steps_at(&order(&empty_site(), &smoke_zone(&format!("}}\n{SMOKE_STORE}"))), "land");
    for step in [
        "Z4: GN with Z4-2: GN green under Smoke, landing, alarm terminal; WH with Z4-2: WH white under its other alarm terminal",
        "Z4-2 at Smoke, landing: GN with Z4: GN green under Smoke, landing, alarm terminal; WH with Z4: WH white under its other alarm terminal",
    ] {
        assert!(land.contains(step), "{step} in\n{land}");
    }
    // Three conductors under one screw are a joint.
    let fork = smoke_zone(&format!("{SMOKE_STORE}\n{SMOKE_STORE}\n}}"));
    let land = steps_at(&order(&empty_site(), &fork), "land");
    assert!(land.contains("Z4-3") && !land.contains("alarm terminal"), "{land}");
}

#[test]
fn a_smoke_zone_that_was_dark_is_tried() {
    let new = site(&FULL.replace("entry=(s)30", "entry=(s)45"));
    let only_programmed = order(&full_site(), &new);
    assert!(only_programmed.places.is_empty());
    let tried = |order: &WorkOrder| order.walk.iter().map(|step| step.text.clone()).collect::<Vec<_>>();
    assert!(!tried(&only_programmed).iter().any(|text| text.starts_with("Zone 4 ")), "{:?}", tried(&only_programmed));
    let new = site(&FULL.replace("length=(ft)38", "length=(ft)60"));
    let wired = order(&full_site(), &new);
    assert!(tried(&wired).iter().any(|text| text.starts_with("Zone 4 ")), "{:?}", tried(&wired));
    assert!(wired.measure.iter().all(|line| line.zone != "4"), "its loop was not touched");
}

/// Zones 1 and 2 share the return R1: taking off the one opens the screw of the other.
#[test]
fn what_shared_a_screw_with_a_cable_that_goes_is_measured() {
    let start = FULL.find("zone 1 ").unwrap();
    let end = FULL.find("zone 2 ").unwrap();
    let order = order(&full_site(), &site(&format!("{}{}", &FULL[..start], &FULL[end..])));
    let measured: Vec<&str> = order.measure.iter().map(|line| line.zone.as_str()).collect();
    assert_eq!(measured, ["2"]);
    // The same where the cable is only moved to another screw, or another one is landed beside it.
    for new in [FULL.replacen("input=1 {", "input=5 {", 1), FULL.replace("length=(ft)38", "length=(ft)60")] {
        let order = super::work_order::order(&full_site(), &site(&new));
        let measured: Vec<&str> = order.measure.iter().map(|line| line.zone.as_str()).collect();
        assert_eq!(measured, ["1", "2"]);
    }
}

fn texts(steps: &[loopwright::views::work_order::Step]) -> String {
    steps.iter().map(|step| format!("{}\n", step.text)).collect()
}

#[test]
fn a_cable_that_comes_out_of_a_fire_wall_leaves_a_hole_that_is_closed() {
    let fire = FULL.replace("passes=\"stud\"", "passes=\"fire-wall\"");
    let [was, is] = [fire.clone(), fire.replace("length=(ft)38", "length=(ft)60")].map(|text| site(&text));
    let out = texts(&order(&was, &is).out);
    assert!(out.contains("with a listed firestop"), "{out}");
}

/// A longer cable is pulled anew, and the one in the wall has its label.
#[test]
fn two_cables_never_have_one_label() {
    let order = order(&full_site(), &site(&FULL.replace("length=(ft)38", "length=(ft)60")));
    let remove = steps_at(&order, "remove");
    let near = "Z1, the old cable (to Front door) at Main panel: BK off I1, RD off R1; if it stays in the wall, cap it and change the label on this end to Z1-OLD, second line DEAD";
    let far = "Z1, the old cable (from Main panel): take it off here; if it stays in the wall, cap it and change the label on this end to Z1-OLD, second line DEAD";
    assert!(remove.contains(near) && remove.contains(far), "{remove}");
    assert_eq!(texts(&order.out), "Z1, the old cable, from Main panel to Front door\n");
    // It is pulled while the boards are on, and what goes comes out after both its ends are off.
    let (page, _) = emit::work_order(&order);
    let places = [ON_TEST, "## Pull\n", "## Switch off", "off I1", "## Pull out", "## When all is landed"]
        .map(|at| page.find(at));
    assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{places:?}");
    let line = "label \"Z1-OLD\" of=\"zone 1\" cable=\"pair\" room=\"hall\" from=\"plant\" dead=\"replaced by another cable, which has its label Z1\" off=#true";
    assert!(texts(&order.paper).contains(line), "{}", texts(&order.paper));
}

/// The old revision has the cable on its terminals. Whether what the new register says of it is done, only the house tells.
#[test]
fn a_cable_that_is_off_or_out_is_asked_for() {
    let (before, register) = site_after(FULL, &Register::default());
    let (head, tail) = FULL.split_once("zone 2 ").unwrap();
    let spec = format!("{head}{}", &tail[tail.find("zone 3 ").unwrap()..]);
    let (_, register) = site_after(&spec, &register);
    let with = |state: State| {
        let mut register = register.clone();
        register.cables.iter_mut().find(|entry| entry.label == "Z2").unwrap().state = state;
        site_after(&spec, &register)
    };
    let dead = |off| State::Dead { because: "zone 2 is gone".into(), off };
    for (state, said) in [
        (dead(false), ""),
        (dead(true), "register.kdl says that it is off its terminals; where that is not done yet: "),
        (
            State::Out,
            "register.kdl has its label as spent: it is out of the wall, or has another label now; where it is neither: ",
        ),
    ] {
        let (after, register) = with(state.clone());
        let steps = steps_at(&order(&before, &after), "remove");
        assert!(steps.contains(&format!("Z2 (from Main panel): {said}take it off here")), "{state:?}: {steps}");
        assert!(steps.contains(&format!("at Main panel: {said}RD off 1+")), "{state:?}: {steps}");
        assert!(steps.contains("Motion, hall"), "{steps}");
        // From then on the old revision says it as well, and nothing is asked again.
        let (later, _) = site_after(&spec.replace("title=\"Hall\"", "title=\"Lobby\""), &register);
        let steps = steps_at(&order(&after, &later), "remove");
        assert!(!steps.contains("Z2 ("), "{state:?}: {steps}");
    }
}

/// The resistor of a loop moves from the far end to the board: none is bought, and the one at hand is named.
#[test]
fn resistors_that_move_are_those_at_hand() {
    let here = "            resistor \"2k2\"\n        }\n    }\n}\nzone 3";
    let there = "        }\n        resistor \"2k2\"\n    }\n}\nzone 3";
    let order = order(&full_site(), &site(&FULL.replace(here, there)));
    let bring: Vec<String> = order.buy.iter().map(|item| format!("{} {}", item.count, item.what)).collect();
    assert_eq!(bring, ["1 Resistor 2k2: 2.2 kΩ ±5 % (red red red gold): of those that are taken down, if sound"]);
    assert!(order.back.is_empty());
}

#[test]
fn a_terminator_that_moves_is_at_hand() {
    let (here, terminator) = ("mount=(ft)4.8\n", "        terminator (ohm)120\n");
    let new = FULL.replacen(terminator, "", 1).replacen(here, &format!("{here}{terminator}"), 1);
    let order = order(&full_site(), &site(&new));
    let bring: Vec<String> = order.buy.iter().map(|item| format!("{} {}", item.count, item.what)).collect();
    assert_eq!(bring, ["1 Resistor 120R: 120 Ω ±5 % (brown red brown gold): of those that are taken down, if sound"]);
    assert!(order.back.is_empty());
}

/// A loop's new cable in the middle: its conductors go on by others.
#[test]
fn no_step_says_a_word_twice() {
    for (old, new) in [(empty_site(), full_site()), (full_site(), other()), (other(), full_site())] {
        let order = order(&old, &new);
        for text in order.places.iter().flat_map(|place| &place.steps).map(|step| &step.text) {
            for twice in [" on on ", " to on ", " off on ", " from on "] {
                assert!(!text.contains(twice), "{text}");
            }
        }
    }
}

#[test]
fn an_exchanged_keypad_is_tried_and_its_supply_measured() {
    let part = "part \"keypad-b\" title=\"Keypad with lamp\" { basis \"sheet\" ref=\"invented\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)50 min=(V)9; }\n";
    let new = FULL.replace("\"Hall keypad\" part=\"keypad-a\"", "\"Hall keypad\" part=\"keypad-b\"") + part;
    let order = order(&full_site(), &site(&new));
    let tried = "Hall keypad: answers at its address; every key, lamp and sounder of it";
    assert!(texts(&order.walk).contains(tried), "{}", texts(&order.walk));
    let at: Vec<&str> = order.supplies.iter().map(|supply| supply.at.as_str()).collect();
    // The bus goes on from its terminals.
    assert_eq!(at, ["Hall keypad", "Low keypad", "Expander", "Receiver"]);
    assert!(order.supplies[0].volts.ends_with(" V"), "{:?}", order.supplies);
}

#[test]
fn another_height_and_another_remark_are_steps() {
    let new = FULL
        .replace("mount=(ft)7.5", "mount=(ft)7")
        .replace("address=1 mount=(ft)4.8", "address=1 mount=(ft)5")
        .replace("a ladder | is needed", "the long ladder");
    let order = order(&full_site(), &site(&new));
    let mount = steps_at(&order, "mount");
    assert!(mount.contains("Motion, hall: move it, 7 ft above the floor"), "{mount}");
    assert!(mount.contains("Hall keypad: move it, 5 ft above the floor"), "{mount}");
    assert!(texts(&order.program).contains("Zone 2, remark: the long ladder"), "{}", texts(&order.program));
}

const ON_TEST: &str = "Tell the monitoring service that the whole system is on test, and until when";

/// Another description is programmed and read back: no conductor is touched, and still the service must know.
#[test]
fn an_order_without_wiring_puts_the_system_on_test() {
    let order = order(&full_site(), &site(&FULL.replace("zone 1 \"Front door\"", "zone 1 \"Street door\"")));
    assert!(order.places.is_empty() && order.after.is_empty());
    assert_eq!(texts(&order.before), format!("{ON_TEST}\n"));
    let walk = texts(&order.walk);
    assert!(
        walk.starts_with("Zone 1 Street door: ")
            && walk.contains("; have the service read back number, words, area and code"),
        "{walk}"
    );
    assert!(order.measure.is_empty(), "its loop was not touched");
    let (page, _) = emit::work_order(&order);
    let [installer, on, tried] = ["# For the installer", ON_TEST, "With the service on test"].map(|at| page.find(at));
    assert!(installer.is_some() && installer < on && on < tried, "{page}");
}

#[test]
fn what_is_put_on_test_is_taken_off_it_once() {
    let changed = |old: &str, new: &str| order(&full_site(), &site(&FULL.replace(old, new)));
    for order in [
        changed("zone 1 \"Front door\"", "zone 1 \"Street door\""),
        changed("length=(ft)38", "length=(ft)60"),
        changed("title=\"Store\"", "title=\"Archive\""),
    ] {
        let (page, _) = emit::work_order(&order);
        assert_eq!((page.matches(ON_TEST).count(), page.matches("take the system off test").count()), (1, 1), "{page}");
    }
    let (page, _) = emit::work_order(&changed("swinger-shutdown=2", "swinger-shutdown=1"));
    assert!(!page.contains(" test"), "{page}");
}

/// The label on a cable that stays says where its other end is.
#[test]
fn a_room_under_another_name_is_on_the_labels() {
    let order = order(&full_site(), &site(&FULL.replace("title=\"Store\"", "title=\"Archive\"")));
    let label = steps_at(&order, "label");
    // The cables of zone 3 and 4 go to an opening and a device there, which keep their names.
    assert_eq!(label, "change the label of COIL-1 at Main panel: to Archive, until now to Store\n");
    assert!(
        order.after.is_empty() && !emit::work_order(&order).0.contains("Switch the board off"),
        "no conductor is moved"
    );
    let titled = FULL.replace("title=\"Expander\"", "title=\"Module upstairs\"");
    let label = steps_at(&self::order(&full_site(), &site(&titled)), "label");
    assert!(
        label.contains("change the label of Z4 on this end: from Module upstairs, until now from Expander"),
        "{label}"
    );
}

#[test]
fn each_resistor_stands_in_one_step() {
    let zoned = FULL.replace("mount=(ft)7.5 tamper=#true", "mount=(ft)7.5 tamper=#true shunt=\"2k2\"");
    let (head, tail) = zoned.split_once("zone 2 ").unwrap();
    let bare = format!("{head}{}", &tail[tail.find("zone 3 ").unwrap()..]);
    let there = order(&site(&bare), &site(&zoned));
    let (land, fit) = (steps_at(&there, "land"), steps_at(&there, "fit"));
    assert!(land.contains("across it → resistor 2.2 kΩ") && fit.is_empty(), "{land}{fit}");
    let back = order(&site(&zoned), &site(&bare));
    let remove = steps_at(&back, "remove");
    assert_eq!(remove.matches("Resistor 2.2 kΩ").count(), 2, "{remove}");
    assert!(back.back.iter().any(|item| item.count == "2" && item.what.starts_with("Resistor 2k2: 2.2 kΩ")));
    // A resistor that comes across a contact that stays, at a cable that stays, has a step of its own.
    let fit = steps_at(&order(&full_site(), &site(&zoned)), "fit");
    assert!(fit.contains("across the contact of Motion, hall"), "{fit}");
}

#[test]
fn a_battery_time_is_no_voltage() {
    let order = order(&full_site(), &site(&FULL.replace("capacity=(Ah)7", "capacity=(Ah)12")));
    assert!(order.summary.ends_with("1 battery time changed"), "{}", order.summary);
    assert!(!order.summary.contains("voltage"), "{}", order.summary);
}

/// A sounder has no volts at rest.
#[test]
fn what_is_off_at_rest_is_not_measured_at_rest() {
    let order = order(&empty_site(), &full_site());
    let at: Vec<&str> = order.supplies.iter().map(|supply| supply.at.as_str()).collect();
    assert!(
        !at.is_empty() && !order.supplies.iter().any(|supply| supply.supply.contains("siren")),
        "{:?}",
        order.supplies
    );
}

/// A load that is put on another output and driven by another event: the short wire, the programming and the trial follow.
#[test]
fn a_load_on_another_relay_is_wired_programmed_and_tried() {
    let moved = FULL
        .replace("output=\"aux\" switch=\"relay-2\"", "output=\"siren\" switch=\"relay-2\"")
        .replace("drive \"key\" for=(s)1", "drive \"armed\"")
        .replace("emergency-key \"panic-silent\"", "emergency-key \"medical\"");
    let order = order(&full_site(), &site(&moved));
    let said = |steps: &[loopwright::views::work_order::Step]| -> Vec<String> {
        steps.iter().map(|step| format!("{}: {}", step.kind, step.text)).collect()
    };
    let wires: Vec<String> = order.places.iter().flat_map(|place| said(&place.steps)).collect();
    for wanted in [
        "remove: Main panel: take off a short wire from terminal A+ to terminal C2",
        "land: Main panel: fit a short wire from terminal S+ to terminal C2",
    ] {
        assert!(wires.iter().any(|step| step == wanted), "{wanted} in {wires:#?}");
    }
    let program = said(&order.program);
    assert_eq!(
        program,
        [
            "program: New emergency key medical of Low keypad",
            "program: Delete emergency key panic, silent of Low keypad",
            "program: Main panel: output siren: what hangs there sounders → flash and sounders; on by fire: three long tones, pause; burglary and other loud alarms: steady. Not for silent panic, duress or troubles. How long: see the area → fire: three long tones, pause; burglary and other loud alarms: steady. Not for duress or troubles. How long: see the area",
            "program: Main panel: relay-1, make contact: on by a key of a keypad, for 1 s; only from a keypad from which the door is seen, or where the operator itself stops for what is in its way → arming; its input stays closed for as long as that lasts",
        ]
    );
    let walk = said(&order.walk);
    for wanted in ["Gate operator's input (Hall) does what drives it asks", "Strobe (Landing) does what drives it asks"]
    {
        assert!(walk.iter().any(|step| step.ends_with(wanted)), "{wanted} in {walk:#?}");
    }
    assert!(!walk.iter().any(|step| step.contains("Indicator")), "{walk:#?}");
}

//! What the work order says of each end of a cable: shields, pairs of loops, conductors under one screw.

use loopwright::compiled::Compiled;
use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::sites::{FULL, empty_site, full_site, site, site_after};

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    WorkOrder::of(&Sides::of(old, new), &Remarks::default())
}

fn steps<'o>(order: &'o WorkOrder, kind: &str) -> Vec<&'o str> {
    let steps = order.places.iter().flat_map(|place| &place.steps).filter(|step| step.kind == kind);
    steps.map(|step| step.text.as_str()).collect()
}

/// The full house with a screened cable for its bus.
fn screened() -> String {
    let cable = "cable \"screened\" title=\"Screened\" conductors=4 size=(AWG)20 shield=\"drain\" { conductor \"RD\" for=\"supply+\"; conductor \"BK\" for=\"supply-\"; conductor \"BU\" for=\"bus-a\"; conductor \"WH\" for=\"bus-b\"; }\n";
    FULL.replace("\"bus-cable\"", "\"screened\"") + cable
}

#[test]
fn every_shield_has_a_step_at_both_its_ends() {
    let new = site(&screened());
    let order = order(&empty_site(), &new);
    let land = steps(&order, "land");
    let told = |label: &str, start: &str| {
        land.iter().filter(|step| step.starts_with(&format!("{label}{start}")) && step.contains("drain wire: ")).count()
    };
    for label in ["DATA-1", "DATA-2", "DATA-3"] {
        assert_eq!((told(label, " at "), told(label, ":")), (1, 1), "{label} in {land:#?}");
    }
}

#[test]
fn the_shield_of_a_cable_that_stays_is_joined_to_the_new_one() {
    let text = screened();
    let at = text.find("receiver \"radio\"").unwrap();
    let end = at + text[at..].find("    }\n").unwrap() + "    }\n".len();
    let more =
        "    run \"screened\" length=(ft)9 room=\"store\" { keypad \"more-keys\" part=\"keypad-a\" address=9; }\n";
    let order = order(&site(&text), &site(&format!("{}{more}{}", &text[..end], &text[end..])));
    let land = steps(&order, "land");
    let joined =
        land.iter().find(|step| step.starts_with("DATA-3 at ") && step.contains(": drain wire: joined to ")).unwrap();
    assert!(joined.ends_with(". Until now: cut it back and insulate it"), "{land:#?}");
    // The supply and the data of the cable that stays keep their screws.
    assert!(!land.iter().any(|step| step.contains("joint")), "{land:#?}");
}

#[test]
fn a_cable_that_goes_is_lifted_with_its_shield() {
    let order = order(&site(&screened()), &full_site());
    let remove = steps(&order, "remove");
    assert!(remove.iter().any(|step| step.contains("drain wire off ")), "{remove:#?}");
}

#[test]
fn what_stands_at_an_end_is_told_as_a_whole() {
    let gone = "        run \"plain\" length=(ft)12 room=\"hall\" {\n            contact \"reed\" on=\"side\"\n            resistor \"2k2\"\n        }\n";
    let here = "contact \"reed\" on=\"front\"\n";
    assert!(FULL.contains(gone) && FULL.contains(here));
    let new = FULL.replace(gone, "").replace(here, &format!("{here}            resistor \"2k2\"\n"));
    let shorter = order(&full_site(), &site(&new));
    let land = steps(&shorter, "land");
    let [step] = land.as_slice() else { panic!("one step: {land:#?}") };
    let (now, before) = step.split_once(". Until now: ").unwrap();
    assert!(now.starts_with("Z1: ") && now.contains("→ resistor 2.2 kΩ"), "{now}");
    assert!(before.contains("on by Z1-2"), "{before}");
    assert_eq!(steps(&shorter, "fit"), Vec::<&str>::new());
    // The other way round: the contact keeps its one conductor, and the resistor goes.
    let longer = order(&site(&new), &full_site());
    let land = steps(&longer, "land");
    assert!(land.iter().any(|step| step.starts_with("Z1: ") && step.contains("on by Z1-2")), "{land:#?}");
}

#[test]
fn another_resistor_stands_where_the_old_one_stood() {
    let here = "on=\"side\"\n            resistor \"2k2\"";
    let order = order(&full_site(), &site(&FULL.replace(here, &here.replace("2k2", "2k4"))));
    let land = steps(&order, "land");
    assert!(matches!(land.as_slice(), [step] if step.contains("→ resistor 2.4 kΩ")), "{land:#?}");
}

#[test]
fn a_name_alone_moves_nothing_at_an_end() {
    let new = FULL.replace("\"side\"", "\"lane-side\"").replace("title=\"Side window\"", "title=\"Lane window\"");
    let order = order(&full_site(), &site(&new));
    assert_eq!(steps(&order, "land"), Vec::<&str>::new());
}

#[test]
fn an_exchanged_detector_has_every_conductor_landed_again() {
    let part = "part \"motion-b\" title=\"Motion detector for dogs\" senses=\"motion\" { basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)16 idle=(mA)6 positive=\"12V\" negative=\"0V\"; contact form=\"NC\"; tamper form=\"NC\"; }\n";
    let new = FULL.replace("detector \"motion\" supply", "detector \"motion-b\" supply") + part;
    let order = order(&full_site(), &site(&new));
    let land = steps(&order, "land");
    let [step] = land.as_slice() else { panic!("one step: {land:#?}") };
    for words in ["Z2: off the ", "RD on terminal 12V", "BK on terminal 0V", "GN → Motion, hall", "→ resistor 2.2 kΩ"]
    {
        assert!(step.contains(words), "{words} in {step}");
    }
    // The same where another one beside it goes.
    let beside = "detector \"motion\" supply=\"aux\" title=\"Second\"\n            detector \"motion\" supply";
    let order = self::order(&site(&FULL.replace("detector \"motion\" supply", beside)), &site(&new));
    let land = steps(&order, "land");
    for words in ["RD on terminal 12V", "BK on terminal 0V"] {
        assert!(land.iter().any(|step| step.starts_with("Z2: off the ") && step.contains(words)), "{land:#?}");
    }
}

/// One of the old part in the same room is none that was there.
#[test]
fn an_exchanged_sounder_is_told_though_another_of_its_part_comes() {
    let part = "part \"sounder-z\" title=\"Sounder, other\" { basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)16 idle=(mA)0 alarm=(mA)200; }\n";
    let spec = |sounders: &str| FULL.replace("{ sounder \"sounder\"; }", sounders) + part;
    let old = spec("{ sounder \"sounder\" title=\"Low\"; }");
    let new = spec(
        "{ sounder \"sounder-z\" title=\"Low\"; }\n run \"pair\" length=(ft)9 room=\"hall\" { sounder \"sounder\" title=\"High\"; }",
    );
    let (old, register) = site_after(&old, &Register::default());
    let order = order(&old, &site_after(&new, &register).0);
    let (mount, land) = (steps(&order, "mount"), steps(&order, "land"));
    assert!(matches!(mount.as_slice(), [_, _]), "{mount:#?}");
    assert!(mount.iter().any(|step| step.contains(": take down the ")), "{mount:#?}");
    let again: Vec<&&str> = land.iter().filter(|step| step.contains(": off the ")).collect();
    assert!(matches!(again.as_slice(), [step] if step.matches(" on terminal ").count() == 2), "{land:#?}");
}

#[test]
fn a_terminator_is_told_with_its_two_terminals() {
    let fit = order(&empty_site(), &full_site());
    let fit = steps(&fit, "fit");
    assert!(
        fit.iter().any(|step| step.starts_with("Terminator 120 Ω")
            && step.ends_with("across A and B of Receiver, where DATA-3 ends")),
        "{fit:#?}"
    );
}

/// What starts in another room and is shorter is another cable: the end in the wall does not come back from where it led.
#[test]
fn a_shorter_cable_from_another_room_is_pulled() {
    let run = "    run \"bus-cable\" length=(ft)30 room=\"landing\" {\n";
    let more = format!(
        "    run \"bus-cable\" length=(ft)25 room=\"store\" {{ keypad \"more-keys\" part=\"keypad-a\" address=9; }}\n{run}"
    );
    assert!(FULL.contains(run));
    let long = FULL.replace(run, &more);
    let short = FULL.replace(run, &run.replace("(ft)30", "(ft)20"));
    let (old, register) = site_after(&long, &Register::default());
    let order = order(&old, &site_after(&short, &register).0);
    let pulled: Vec<&str> = order.pull.iter().map(|step| step.text.as_str()).collect();
    assert!(
        matches!(pulled.as_slice(), [step] if step.contains(", 20 ft, from Hall keypad to Expander")),
        "{pulled:?}"
    );
}

/// Its conductors went from the screws of one room to those of another, and nothing was pulled.
#[test]
fn a_cable_from_a_board_in_another_room_is_pulled_though_it_is_as_long() {
    let moved = FULL.replace("board=\"expander\" input=1", "board=\"main\" input=4");
    let (old, register) = site_after(FULL, &Register::default());
    let order = order(&old, &site_after(&moved, &register).0);
    let pulled: Vec<&str> = order.pull.iter().map(|step| step.text.as_str()).collect();
    assert!(
        matches!(pulled.as_slice(), [step] if step.contains(", 10 ft, from Main panel to Smoke, landing")),
        "{pulled:?}"
    );
    assert!(order.buy.iter().any(|item| item.count == "10 ft"), "{:?}", order.buy);
    let remove = steps(&order, "remove");
    assert!(remove.iter().any(|step| step.starts_with("Z4, the old cable (to ")), "{remove:#?}");
    let land = steps(&order, "land");
    assert!(land.iter().all(|step| !step.contains("Expander")), "{land:#?}");
}

#[test]
fn a_room_that_is_only_called_otherwise_pulls_nothing() {
    let order = order(&full_site(), &site(&FULL.replace("\"plant\"", "\"engine-room\"")));
    assert!(order.pull.is_empty() && order.places.is_empty(), "{:#?}", order.places);
}

/// A strip is another board: there is an A+ or a 1+ on more than one.
#[test]
fn a_conductor_that_is_lifted_off_another_board_is_told_with_it() {
    let order = order(&full_site(), &site(&FULL.replace("length=(ft)45", "length=(ft)60")));
    let remove = steps(&order, "remove");
    let step = remove.iter().find(|step| step.starts_with("Z2, the old cable (to ")).unwrap();
    assert!(step.contains("RD off 1+ of Supply strip") && step.contains(" off I2,"), "{step}");
}

/// A thing goes by its name: only what is joined differs.
#[test]
fn a_strip_under_another_title_moves_no_conductor_whose_joint_differs() {
    let lamps = |more: &str| {
        format!(
            "{FULL}circuit \"lamps\" board=\"main\" output=\"aux\" {{ run \"pair\" length=(ft)20 room=\"hall\" {{ load \"lamp\"; {more} }}; }}\n"
        )
    };
    let new = lamps("run \"pair\" length=(ft)9 room=\"hall\" { load \"lamp\"; }")
        .replace("\"Supply strip\"", "\"Other strip\"");
    let order = order(&site(&lamps("")), &site(&new));
    let moved: Vec<&str> = ["remove", "land"]
        .into_iter()
        .flat_map(|kind| steps(&order, kind))
        .filter(|step| step.starts_with("LAMPS-1 "))
        .collect();
    assert!(moved.len() == 2 && moved.iter().all(|step| step.contains("with LAMPS-2: ")), "{moved:#?}");
}

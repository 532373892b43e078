//! What a remodel's work order says of boards that are exchanged, of shared and cut cables, of resistors and of network cables.

use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::sites::{markdown, site_after};

pub(super) const HEADER: &str = include_str!("../pages/header.kdl");

/// Rooms, openings and parts for all of these, beside those of the examples.
pub(super) const HOUSE: &str = r#"
level "up" title="Upstairs" storey=1 {
    room "hall" title="Hall" { window "w1" title="Window one"; window "w2" title="Window two"; }
    room "attic" title="Attic" { window "w3" title="Attic window"; }
}
area "all" title="All"
part "control-z" title="Other board" {
    basis "sheet" ref="invented"
    input 1 signal="J1" return="Q1"; input 2 signal="J2" return="Q1"
    sensing supply=(V)5 pull-up=(ohm)2200 tolerance=(percent)1 { band "short" max=(V)0.8; band "normal" min=(V)1.6 max=(V)3.1; band "open" min=(V)4.0; }
    output "siren" positive="B+" negative="B-" volts=(V)13.8 limit=(mA)1500 when="alarm"
    draw idle=(mA)150 alarm=(mA)220
    charger current=(mA)400 cut-off=(V)10.5
}
part "motion-z" title="Other motion" senses="motion" { basis "sheet" ref="invented"; supply min=(V)9 max=(V)16 idle=(mA)12; contact form="NC" resistance=(ohm)1; }
part "motion-y" title="Third motion" senses="motion" { basis "sheet" ref="invented"; supply min=(V)9 max=(V)16 idle=(mA)12; contact form="NC" resistance=(ohm)1; }
cable "six" title="Six" conductors=6 size=(AWG)22 { conductor "RD"; conductor "BK"; conductor "GN"; conductor "WH"; conductor "BU"; conductor "YE"; }
cable "net" title="Network" conductors=8 size=(AWG)24 { conductor "BU"; conductor "WHBU"; conductor "OG"; conductor "WHOG"; conductor "GN"; conductor "WHGN"; conductor "BN"; conductor "WHBN"; }
"#;

pub(super) fn zone(number: u32, path: &str) -> String {
    format!(
        "zone {number} \"Zone {number}\" type=\"perimeter\" area=\"all\" {{ loop \"end-of-line\" board=\"board-a\" {{ {path} }} }}\n"
    )
}

/// The work order from one text to the next, the second after the first one's register; `part` is the panel's in the second.
pub(super) fn kept(old: &str, (new, part): (&str, &str)) -> WorkOrder {
    let (old, register) = site_after(&format!("{HEADER}{HOUSE}{old}"), &Register::default());
    let header = HEADER.replace("part=\"control-a\"", &format!("part=\"{part}\""));
    WorkOrder::of(&Sides::of(&old, &site_after(&format!("{header}{HOUSE}{new}"), &register).0), &Remarks::default())
}

/// What is bought, and the steps at the places and of the walk-test, in their order.
pub(super) fn said(order: &WorkOrder) -> String {
    let bought = order.buy.iter().map(|item| format!("buy: {} {}", item.count, item.what));
    let steps = order.places.iter().flat_map(|place| &place.steps).chain(&order.walk).chain(&order.paper);
    bought.chain(steps.map(|step| format!("{}: {}", step.kind, step.text))).collect::<Vec<_>>().join("\n")
}

/// What must be said, in this order.
pub(super) fn in_order(said: &str, wanted: &[&str]) {
    let mut rest = said;
    for words in wanted {
        let Some((_, after)) = rest.split_once(words) else { panic!("{words} in its place in:\n{said}") };
        rest = after;
    }
}

const CONTACT: &str = "run \"pair\" length=(ft)20 room=\"hall\" { contact \"reed\" on=\"w1\"; resistor \"2k2\"; }";

#[test]
fn sounders_behind_a_strip_of_a_blank_board_wait_for_the_walk_test() {
    let text = zone(1, CONTACT)
        + "strip \"horn\" title=\"Horn strip\" board=\"board-a\" output=\"siren\" ways=2\ncircuit \"sounders\" board=\"board-a\" output=\"siren\" { run \"pair\" length=(ft)9 room=\"hall\" { sounder \"sounder\"; }; }\n";
    let said = said(&kept(&text, (&text, "control-z")));
    in_order(
        &said,
        &[
            "remove: SOUNDERS-1 at Horn strip: BK off 1+, RD off 1-; capped until the walk-test",
            "land: Horn strip: short wires",
            "land its sounders (SOUNDERS-1: BK on 1+ of Horn strip, RD on 1- of Horn strip)",
        ],
    );
    assert!(!said.contains("land: SOUNDERS-1"), "{said}");
}

/// What is cut or moves on at one end keeps the other, which comes off the old board.
#[test]
fn a_cable_that_is_cut_or_moved_comes_off_a_board_that_is_exchanged() {
    let whole = |existing: &str, room: &str, on: &str| {
        zone(
            1,
            &format!(
                "run \"pair\" name=\"x\" length=(ft)20 room=\"{room}\"{existing} {{ contact \"reed\" on=\"{on}\"; resistor \"2k2\"; }}"
            ),
        )
    };
    let cut = zone(
        1,
        "run \"pair\" length=(ft)12 room=\"attic\" existing=#true into=\"box\" { run \"pair\" name=\"x\" length=(ft)8 room=\"hall\" existing=#true { contact \"reed\" on=\"w1\"; resistor \"2k2\"; }; }",
    ) + "joint-box \"box\" title=\"Box\" room=\"attic\" joined-by=\"crimp\"\n";
    let there = " existing=#true";
    for (old, new, label) in
        [(whole("", "hall", "w1"), cut, "Z1-2"), (whole(there, "hall", "w1"), whole(there, "attic", "w3"), "Z1")]
    {
        let said = said(&kept(&old, (&new, "control-z")));
        in_order(&said, &["remove: Z1 at board-a: BK off I1, RD off R1; landed again"]);
        let on = format!("land: {label} at board-a: BK on J1, RD on Q1");
        assert!(said.lines().any(|line| line == on), "{on} in {said}");
        assert!(!said.contains("remove: Resistor"), "{said}");
    }
    // On a board that stays it goes to another input.
    let input =
        |number: u32, text: String| text.replace("board=\"board-a\"", &format!("board=\"board-a\" input={number}"));
    let (old, new) = (input(1, whole(there, "hall", "w1")), input(3, whole(there, "attic", "w3")));
    let said = said(&kept(&old, (&new, "control-a")));
    in_order(
        &said,
        &[
            "remove: Z1 at board-a: BK off I1, RD off R1; landed again",
            "land: Z1 at board-a: BK on I3, RD on R2",
            "keep what is at its end, 2.2 kΩ ±5 % (red red red gold): it is used again; it ends in Attic",
            "land: Z1: BK → ",
        ],
    );
}

/// A zone that shared a cable has it now: its resistor is not taken for that of the zone that had it.
#[test]
fn resistors_of_a_shared_cable_are_told_with_their_zones() {
    let three = |named: &str| {
        zone(
            3,
            &format!(
                "run \"six\" length=(ft)20 room=\"hall\" {named} {{ contact \"reed\" on=\"w1\"; resistor \"2k2\"; }}"
            ),
        )
    };
    let four = |named: &str, ohms: &str| {
        zone(
            4,
            &format!(
                "run \"six\" length=(ft)20 room=\"hall\" {named} {{ contact \"reed\" on=\"w2\"; resistor \"{ohms}\"; }}"
            ),
        )
    };
    let old = three("along=\"trunk\"") + &four("name=\"trunk\"", "1k8");
    let said_of = |new: String| said(&kept(&old, (&new, "control-a")));
    let alone = said_of(three("name=\"trunk\""));
    let removed: Vec<&str> = alone.lines().filter(|line| line.starts_with("remove: Resistor")).collect();
    let gone = "remove: Resistor 1.8 kΩ ±5 % (brown grey red gold) of zone 4 at the far end of Z4, Window two";
    assert_eq!(removed, [gone], "{alone}");
    assert!(!alone.contains("of those that are taken down"), "{alone}");
    let swapped = said_of(three("name=\"trunk\"") + &four("along=\"trunk\"", "2k2"));
    assert!(swapped.contains(gone) && !swapped.contains("of zone 3 at"), "{swapped}");
}

#[test]
fn a_resistor_at_the_board_is_there_before_its_conductor_is_landed() {
    let path = |more: &str| {
        format!("run \"pair\" length=(ft)20 room=\"hall\" existing=#true {{ contact \"reed\" on=\"w1\"; {more} }}")
    };
    let old = zone(1, &path("resistor \"2k2\""));
    let new = zone(1, &format!("resistor \"2k2\"; {}", path("")))
        + &zone(
            2,
            "resistor \"2k2\"; run \"pair\" length=(ft)9 room=\"hall\" existing=#true { contact \"reed\" on=\"w2\"; }",
        );
    let said = said(&kept(&old, (&new, "control-a")));
    in_order(&said, &["fit: Resistor 2.2 kΩ", "zone 2 Zone 2 at board-a, in series", "land: Z2 at board-a: "]);
    // The one that is used again comes off upstairs, which is therefore first.
    in_order(
        &said,
        &[
            "buy: 1 Resistor 2k2: 2.2 kΩ ±5 % (red red red gold): of those",
            "remove: Resistor 2.2 kΩ",
            "fit: Resistor 2.2 kΩ",
        ],
    );
}

/// Each room would wait for the other's, or all round a circle: they are bought.
#[test]
fn resistors_that_would_change_places_are_bought() {
    let ends = |one: &str, other: &str| {
        let end = |room: &str, on: &str, ohms: &str| {
            format!(
                "run \"pair\" length=(ft)20 room=\"{room}\" {{ contact \"reed\" on=\"{on}\"; resistor \"{ohms}\"; }}"
            )
        };
        zone(1, &end("hall", "w1", one)) + &zone(2, &end("attic", "w3", other))
    };
    let said = said(&kept(&ends("2k2", "1k8"), (&ends("1k8", "2k2"), "control-a")));
    for ohms in ["2k2: 2.2 kΩ ±5 % (red red red gold)", "1k8: 1.8 kΩ ±5 % (brown grey red gold)"] {
        assert!(said.lines().any(|line| line == format!("buy: 1 Resistor {ohms}")), "{said}");
    }
    let three = |[one, other, third]: [&str; 3]| {
        let lobby =
            format!("run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"button\"; resistor \"{third}\"; }}");
        ends(one, other) + &zone(3, &lobby)
    };
    let circle =
        super::order_remodel::said(&kept(&three(["2k2", "1k8", "4k7"]), (&three(["1k8", "4k7", "2k2"]), "control-a")));
    assert_eq!(
        circle.lines().filter(|line| line.starts_with("buy: 1 Resistor") && !line.contains("of those")).count(),
        3,
        "{circle}"
    );
}

#[test]
fn what_one_step_sets_free_is_mounted_behind_it() {
    let one = |number: u32, part: &str, title: &str| {
        zone(
            number,
            &format!(
                "run \"quad\" length=(ft)20 room=\"hall\" {{ detector \"{part}\" title=\"{title}\" name=\"d{number}\" supply=\"aux\"; resistor \"2k2\"; }}"
            ),
        )
    };
    let old = one(2, "motion-z", "Second") + &one(3, "motion-y", "Third");
    let new = one(1, "motion-z", "First") + &one(2, "motion-y", "Second") + &one(3, "motion", "Third");
    let said = said(&kept(&old, (&new, "control-a")));
    in_order(
        &said,
        &[
            "mount: Third (Hall): take down the Third motion, mount the Motion detector\n",
            "mount: Second (Hall): take down the Other motion, mount the Third motion; after one is down here",
            "mount: First (Hall) (Other motion); after one is down here",
        ],
    );
}

/// Each waits for the next in a circle: one is set aside, where no other place has the thing to give.
#[test]
fn detectors_that_change_places_in_a_circle_begin_with_one_that_is_set_aside() {
    let house = |all: &[(&str, &str)]| -> String {
        let one = |(number, (room, part)): (u32, &(&str, &str))| {
            zone(
                number,
                &format!(
                    "run \"quad\" length=(ft)20 room=\"{room}\" {{ detector \"{part}\" title=\"Eye {number}\" name=\"d{number}\" supply=\"aux\"; resistor \"2k2\"; }}"
                ),
            )
        };
        (1..).zip(all).map(one).collect()
    };
    let order = |old: &[(&str, &str)], new: &[(&str, &str)]| said(&kept(&house(old), (&house(new), "control-a")));
    let circle = order(
        &[("lobby", "motion"), ("hall", "motion-y"), ("attic", "motion-z")],
        &[("lobby", "motion-y"), ("hall", "motion-z"), ("attic", "motion")],
    );
    in_order(
        &circle,
        &[
            "remove: Eye 1 (Lobby): go there and take it down first, and set it aside: it goes up again here",
            "mount: Eye 3 (Attic): take down the Other motion, mount the Motion detector; the one that was set aside",
            "mount: Eye 2 (Hall): take down the Third motion, mount the Other motion; after one is down in Attic",
            "mount: Eye 1 (Lobby): the Motion detector is set aside, mount the Third motion; after one is down in Hall",
        ],
    );
    let in_one_room =
        order(&[("hall", "motion-y"), ("hall", "motion-z")], &[("hall", "motion-z"), ("hall", "motion-y")]);
    in_order(&in_one_room, &["take it down first", "; the one that was set aside", "; after one is down here"]);
    // The attic has one to give: the hall takes that, and the lobby what was in the hall.
    let third = order(
        &[("lobby", "motion"), ("hall", "motion-y"), ("attic", "motion")],
        &[("lobby", "motion-y"), ("hall", "motion")],
    );
    in_order(
        &third,
        &["remove: Eye 3 (Attic)\n", "mount: Eye 2 (Hall)", "after one is down in Attic", "mount: Eye 1 (Lobby)"],
    );
    assert!(!third.contains("aside"), "{third}");
}

/// The register has the cable as it is in the wall: sheets say that, and the order re-makes both ends.
#[test]
fn a_network_cable_is_re_made_by_the_table_that_the_spec_has_now() {
    let text = |table: &str| {
        format!(
            "communicator \"net\" type=\"internet\" board=\"board-a\" wired=\"{table}\" {{ run \"net\" length=(ft)20 room=\"hall\"; hop \"router\" backup=(h)24; }}\n"
        )
    };
    let (old, new) = (text("T568A"), text("T568B"));
    let said = said(&kept(&old, (&new, "control-a")));
    for end in ["board-a", "router"] {
        let wanted = format!(
            "land: NET-1 at {end}: re-make this end by T568B: pin 1 on WHOG, 2 on OG, 3 on WHGN and 6 on GN; until now 1 on WHGN, 2 on GN, 3 on WHOG and 6 on OG"
        );
        assert!(said.contains(&wanted), "{wanted} in {said}");
    }
    assert!(
        said.contains("paper: Once NET-1 is re-made by T568B at both ends, take its wire lines out of register.kdl"),
        "{said}"
    );
    let (_, register) = site_after(&format!("{HEADER}{HOUSE}{old}"), &Register::default());
    let (wall, register) = site_after(&format!("{HEADER}{HOUSE}{new}"), &register);
    let schedule = markdown(&wall, "terminal-schedule");
    assert!(schedule.contains("by T568A") && !schedule.contains("by T568B"), "{schedule}");
    // What nobody changes is told once.
    let (again, _) = site_after(&format!("{HEADER}{HOUSE}{new}"), &register);
    let order = WorkOrder::of(&Sides::of(&wall, &again), &Remarks::default());
    assert!(order.places.is_empty(), "{:?}", order.places);
}

#[test]
fn another_colour_of_a_battery_lead_is_a_step() {
    let lead = |colour: &str| {
        format!("{HEADER}{HOUSE}").replace(
            "installed=\"2027-01-01\"",
            &format!("installed=\"2027-01-01\" positive=\"{colour}\" negative=\"BK\""),
        )
    };
    let (old, register) = site_after(&lead("RD"), &Register::default());
    let order = WorkOrder::of(&Sides::of(&old, &site_after(&lead("OG"), &register).0), &Remarks::default());
    let said = said(&order);
    assert!(
        said.contains("land: board-a: the lead to + of the battery is OG orange from now on, until now RD red: "),
        "{said}"
    );
    assert!(!order.off.is_empty(), "the board is dark");
}

/// A cable may be cut for a thing in between, without a box; what is exchanged at the end that stays gets all of it back.
#[test]
fn a_cable_that_is_cut_for_a_contact_keeps_its_ends() {
    let motion = |part: &str| format!("detector \"{part}\" title=\"Attic motion\" supply=\"siren\"; resistor \"2k2\";");
    let old = zone(1, &format!("run \"six\" length=(ft)40 room=\"attic\" {{ {} }}", motion("motion-z")));
    let new = zone(
        1,
        &format!(
            "run \"six\" length=(ft)20 room=\"hall\" existing=#true {{ contact \"reed\" on=\"w1\"; run \"six\" length=(ft)20 room=\"attic\" existing=#true {{ {} }}; }}",
            motion("motion-y")
        ),
    );
    let order = said(&kept(&old, (&new, "control-a")));
    for wanted in [
        "label: Z1 becomes Z1-2: change the label at board-a, to Window one",
        "remove: Z1 (from board-a to Attic motion): find it here with a meter, and cut it\n",
        "mount: Attic motion: take down the Other motion, mount the Third motion",
        "land: Z1: off the Other motion, resistors too; on the Third motion: ",
    ] {
        assert!(order.contains(wanted), "{wanted} in {order}");
    }
    assert!(!order.contains("capped and marked") && !order.contains("identify both its ends"), "{order}");
    // A strip that goes leaves no wire under the screws of its board.
    let strip = "strip \"horn\" title=\"Horn strip\" board=\"board-a\" output=\"siren\" ways=2\n";
    let order = said(&kept(&(old.clone() + strip), (&old, "control-a")));
    in_order(&order, &["remove: Horn strip: take off the short wires from board-a, terminal", "remove: Horn strip\n"]);
}

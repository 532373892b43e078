//! Houses with two panels: what is of one panel does nothing for the other.

use super::found_under;
use crate::packet::sites::{markdown, site};

const HEADER: &str = "site \"two\" { revision \"A\" date=\"2027-01-01\"; profile \"us-household\"; }
include \"../parts/example.kdl\"
level \"base\" {
    room \"hall\" kind=\"hall\" { rect (ft)0 (ft)0 (ft)10 (ft)6; door \"front\" wall=\"west\" at=(ft)1; }
    room \"far\" kind=\"kitchen\" { rect (ft)80 (ft)0 (ft)12 (ft)12; }
}
area \"house\" number=1 entry=(s)30 exit=(s)60
area \"flat\" number=2 entry=(s)30 exit=(s)60
";

fn panel(name: &str, room: &str, battery: &str) -> String {
    format!(
        "panel \"{name}\" part=\"control-a\" room=\"{room}\" {{ battery capacity=(Ah){battery} installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\"; }}\n"
    )
}

fn bus(panel: &str, room: &str, board: &str) -> String {
    format!(
        "bus \"data-{panel}\" board=\"{panel}\" port=\"data\" rate=(baud)9600 {{ run \"bus-cable\" length=(ft)20 room=\"{room}\" {{ {board} address=1; terminator (ohm)120; }}; }}\n"
    )
}

/// Panel `a` in the far room with a front door, panel `b` in the hall with a motion detector.
fn house() -> String {
    format!(
        "{HEADER}{}{}
zone 3 \"Front door\" type=\"entry-exit\" area=\"house\" {{ loop \"end-of-line\" board=\"a\" {{ run \"pair\" length=(ft)90 room=\"hall\" {{ contact \"reed\" on=\"front\"; resistor \"2k2\"; }}; }}; }}
zone 4 \"Hall motion\" type=\"interior\" area=\"flat\" {{ loop \"end-of-line\" board=\"b\" {{ run \"quad\" length=(ft)10 room=\"hall\" {{ detector \"motion\" supply=\"aux\"; resistor \"2k2\"; }}; }}; }}
",
        panel("a", "far", "12"),
        panel("b", "hall", "12")
    )
}

fn title(spec: &str, slug: &str) -> Option<String> {
    found_under("", spec).into_iter().find(|finding| finding.rule.slug == slug).map(|finding| finding.title)
}

/// 85.1 ft from the door to the middle of the far room, a share for corners and 15 s: the keypad in the hall is none of it.
#[test]
fn a_door_is_walked_to_a_keypad_of_its_own_panel() {
    let keypads =
        bus("a", "far", "keypad \"kp-a\" part=\"keypad-a\"") + &bus("b", "hall", "keypad \"kp-b\" part=\"keypad-a\"");
    let spec = house() + &keypads;
    let told = title(&spec, "entry-shorter-than-walk").unwrap();
    assert_eq!(told, "area `house` gives 30 s to come in, and door `front` needs 51 s");
    // A keypad hangs at its spot, not in the middle of its room.
    let spot = spec.replace(
        "part=\"keypad-a\" address=1; terminator",
        "part=\"keypad-a\" address=1 { spot (ft)81 (ft)2; }; terminator",
    );
    let near = spot.replacen("(ft)81 (ft)2", "(ft)9 (ft)2", 2);
    assert_eq!(title(&near, "entry-shorter-than-walk"), None, "both at the door");
    let other = house() + &bus("b", "hall", "keypad \"kp-b\" part=\"keypad-a\"");
    assert_eq!(title(&other, "area-without-keypad").unwrap(), "nobody can arm or disarm area `house`");
    assert_eq!(title(&other, "door-without-keypad"), None, "told of the area");
}

/// Of two panels with a way each, each has one way; and a device on the way lives by the battery that feeds it.
#[test]
fn ways_are_counted_and_live_by_panel() {
    let net = "communicator \"net\" type=\"internet\" board=\"a\" supervised-every=(h)6 { hop \"router\" name=\"router\" draw=(mA)500; }\n";
    let air = |board: &str| format!("communicator \"air\" type=\"radio\" board=\"{board}\" supervised-every=(h)6\n");
    let late = "the service notices after 6 h that `air` is silent";
    assert!(found_under("", &(house() + net + &air("b"))).iter().any(|finding| finding.title == late));
    assert_eq!(title(&(house() + net + &air("a")), "silence-noticed-late"), None);

    let small = house().replace(&panel("b", "hall", "12"), &panel("b", "hall", "2.1"));
    let fed = |board: &str| {
        format!(
            "{small}{net}circuit \"rc\" board=\"{board}\" output=\"aux\" {{ run \"pair\" length=(ft)20 room=\"hall\" {{ feed \"router\"; }}; }}\n"
        )
    };
    // The battery is the cause, and is told.
    assert!(
        title(&fed("b"), "battery-short").is_some_and(|title| title.contains("has 2.1 Ah and the profile asks for"))
    );
    assert_eq!((title(&fed("a"), "path-without-backup"), title(&fed("b"), "path-without-backup")), (None, None));
}

/// The form of the service has nothing of a panel that does not speak to it.
#[test]
fn a_panel_without_a_way_is_not_on_the_form() {
    let form = |ways: &str| {
        markdown(&site(&format!("{}monitoring description-width=20\n{ways}", house())), "zone-descriptions")
    };
    let net = "communicator \"net\" type=\"internet\" board=\"a\"\n";
    let one = form(net);
    assert!(one.contains("Front door") && !one.contains("Hall motion"), "{one}");
    for both in ["", "communicator \"air\" type=\"radio\" board=\"b\"\n"] {
        let ways = if both.is_empty() { String::new() } else { format!("{net}{both}") };
        assert!(form(&ways).contains("Hall motion"), "{both}");
    }
}

/// An output of a module is reported where something takes current behind it.
#[test]
fn only_outputs_that_feed_something_are_reported() {
    let booster = "part \"booster\" { basis \"sheet\"; output \"one\" positive=\"X+\" negative=\"X-\" volts=(V)13.8 limit=(mA)300; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)30 min=(V)9; }\n";
    let spec = house()
        + booster
        + &bus("a", "far", "module \"exp\" part=\"booster\"")
        + "communicator \"net\" type=\"internet\" board=\"a\"\n";
    let outputs = |spec: &str| site(spec).events.iter().filter(|report| report.code == 312).count();
    let lamp =
        "circuit \"l\" board=\"exp\" output=\"one\" { run \"pair\" length=(ft)20 room=\"far\" { load \"lamp\"; }; }\n";
    assert_eq!((outputs(&spec), outputs(&(spec.clone() + lamp))), (0, 1));
}

/// What is said of keypads and of the service is said of the panel that is meant.
#[test]
fn a_panel_without_keypad_or_way_is_told_by_its_zones() {
    let beside = "zone 5 \"Far window\" type=\"perimeter\" area=\"house\" { loop \"end-of-line\" board=\"b\" { run \"pair\" length=(ft)9 room=\"hall\" { contact \"reed\"; resistor \"2k2\"; }; }; }
zone 6 \"Call a\" type=\"panic-audible\" { loop \"end-of-line\" board=\"a\" { run \"pair\" length=(ft)9 room=\"hall\" { contact \"button\"; resistor \"2k2\"; }; }; }
zone 7 \"Call b\" type=\"panic-audible\" { loop \"end-of-line\" board=\"b\" { run \"pair\" length=(ft)9 room=\"hall\" { contact \"button\"; resistor \"2k2\"; }; }; }
communicator \"net\" type=\"internet\" board=\"a\"\n";
    let spec = house() + &bus("a", "far", "keypad \"kp-a\" part=\"keypad-a\"") + beside;
    assert_eq!(title(&spec, "area-without-keypad").unwrap(), "nobody can arm or disarm area `flat` or zone 5");
    let loud = found_under("", &spec).into_iter().find(|one| one.rule.slug == "alarm-without-sounder").unwrap();
    assert!(loud.paragraph.contains("and of zones 4, 5 and 7 nothing is sent out of it either"), "{}", loud.paragraph);
    // What is accepted of the zone is not accepted of the area.
    let accepted = spec.clone() + "accept \"area-without-keypad\" zone=5 because=\"By its own buttons.\"\n";
    let told: Vec<_> =
        found_under("", &accepted).into_iter().filter(|one| one.rule.slug == "area-without-keypad").collect();
    let told: Vec<_> = told.iter().map(|one| (one.title.as_str(), one.accepted.is_some())).collect();
    let want = [("nobody can arm or disarm area `flat`", false), ("nobody can arm or disarm zone 5", true)];
    assert!(told.len() == 2 && want.iter().all(|one| told.contains(one)), "{told:?}");

    let sheet = |name| markdown(&site(&spec), name);
    let guide = sheet("owners-guide");
    for says in [
        "**house:** front. Come in: disarm within",
        "No keypad or key switch of this plan arms 5 Far window: ask the installer.",
        "**flat:** This plan has no keypad or key switch that arms and disarms it.",
        "**Nobody outside hears of** 4 Hall motion; 5 Far window; 7 Call b: call for help yourself.",
    ] {
        assert!(guide.contains(says), "{says}\n{guide}");
    }
    let heard = sheet("commissioning-sheet");
    let heard = heard.split("## Each event heard at the service").nth(1).unwrap();
    let heard = heard.split("What is no zone's alarm").next().unwrap();
    assert!(heard.contains("Call a") && !heard.contains("Call b") && !heard.contains("Hall motion"), "{heard}");
    let upkeep = sheet("upkeep");
    let line = |zone: &str| upkeep.lines().find(|line| line.contains(zone)).unwrap_or_default();
    assert!(line("Call a").contains("Only after the service has said"), "{upkeep}");
    assert!(line("Call b").contains("Press it, and reset it"), "{upkeep}");
}

/// A door of several areas that is in none has its line in the household's guide.
#[test]
fn what_is_in_no_area_stands_in_the_guide() {
    let spec = house().replace("type=\"entry-exit\" area=\"house\"", "type=\"entry-exit\"")
        + &bus("a", "far", "keypad \"kp-a\" part=\"keypad-a\"");
    let guide = markdown(&site(&spec), "owners-guide");
    assert!(guide.contains("**In no area:**"), "{guide}");
}

/// Nobody disarms a panel at the keypad of another, whatever way is written to it.
#[test]
fn a_walk_to_a_keypad_of_another_panel_counts_for_nothing() {
    let keypads =
        bus("a", "far", "keypad \"kp-a\" part=\"keypad-a\"") + &bus("b", "hall", "keypad \"kp-b\" part=\"keypad-a\"");
    let walk = |to: &str, keypads: &str| {
        house().replacen("exit=(s)60", &format!("exit=(s)60 {{ walk \"front\" to=\"{to}\" time=(s)1; }}"), 1) + keypads
    };
    let wrong = walk("kp-b", &keypads);
    assert_eq!(
        title(&wrong, "walk-without-effect").unwrap(),
        "the way from door `front` ends at keypad `kp-b`, which disarms nothing of zone 3"
    );
    assert!(title(&wrong, "entry-shorter-than-walk").is_some_and(|title| title.ends_with("needs 51 s")));
    assert_eq!(title(&wrong, "door-without-keypad"), None);
    let right = walk("kp-a", &keypads);
    assert_eq!((title(&right, "walk-without-effect"), title(&right, "entry-shorter-than-walk")), (None, None));
    // That no keypad arms the zone at all is told of its area.
    let none = walk("kp-b", &bus("b", "hall", "keypad \"kp-b\" part=\"keypad-a\""));
    assert!(title(&none, "area-without-keypad").is_some() && title(&none, "walk-without-effect").is_none());
}

//! Upkeep, its calendar, and the household's guide. What the calendar says for ten years is read outside (`tests/outside`).

use std::collections::BTreeMap;

use loopwright::session;

use super::{demo, files, packet, text};
use crate::demos;

fn panel(revision: &str, installed: &str) -> (String, String) {
    let board = format!(
        "level \"l\" {{ room \"lobby\" title=\"Lobby\"; }}
panel \"board-a\" title=\"Board, main; left\" part=\"control-a\" room=\"lobby\" {{
    battery capacity=(Ah)12 installed=\"{installed}\" replace-after=(year)1
    transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby, no switch\"
}}"
    );
    (format!("revision \"A\" date=\"{revision}\""), board)
}

fn calendar(revision: &str, installed: &str) -> String {
    let (head, board) = panel(revision, installed);
    text(&packet(&head, &board), "maintenance.ics")
}

/// Identity → first day and sequence.
fn events(ics: &str) -> BTreeMap<String, (String, u32)> {
    let unfolded = ics.replace("\r\n ", "");
    let field = |event: &str, name: &str| {
        let line = event.lines().find_map(|line| line.strip_prefix(name)).unwrap();
        line.trim().to_owned()
    };
    let events = unfolded.split("BEGIN:VEVENT").skip(1);
    let event = |event: &str| {
        (field(event, "UID:"), (field(event, "DTSTART;VALUE=DATE:"), field(event, "SEQUENCE:").parse().unwrap()))
    };
    events.map(event).collect()
}

#[test]
fn identities_stay_when_a_battery_is_replaced() {
    let (before, after) = (calendar("2027-05-01", "2027-04-01"), calendar("2028-04-10", "2028-04-02"));
    assert_eq!(before, calendar("2027-05-01", "2027-04-01"));
    let (before, after) = (events(&before), events(&after));
    assert_eq!(before.keys().collect::<Vec<_>>(), after.keys().collect::<Vec<_>>());
    assert!(before.iter().all(|(uid, (_, sequence))| after[uid].1 > *sequence));
    let battery = "example.board-battery.board-a@loopwright.invalid";
    assert_eq!((before[battery].0.as_str(), after[battery].0.as_str()), ("20280401", "20290402"));
}

#[test]
fn what_began_on_the_29th_of_february_falls_on_the_28th_of_other_years() {
    let ics = calendar("2028-03-01", "2028-02-29");
    let ics = ics.replace("\r\n ", "");
    let event = ics.split("BEGIN:VEVENT").find(|event| event.contains("board-battery")).unwrap();
    assert!(event.contains("DTSTART;VALUE=DATE:20290228\r\n"), "{event}");
    assert!(event.contains("RRULE:FREQ=MONTHLY;INTERVAL=12;BYMONTHDAY=28,29;BYSETPOS=-1\r\n"), "{event}");
    assert!(event.contains("SUMMARY:Example: Replace the battery of Board\\, main\\; left (12 Ah)\r\n"), "{event}");
}

/// A day that the calendar has not is one finding, which says what the month has; its help is followed.
#[test]
fn days_that_do_not_exist_are_told_with_what_the_month_has() {
    let found = |day: &str| {
        let (head, board) = panel("2028-12-01", day);
        let found = session::check(&files(&head, &board)).diagnostics;
        found.into_iter().filter(|found| found.rule.slug == "value-out-of-range").collect::<Vec<_>>()
    };
    for (day, says, help) in [
        ("2027-02-30", "there is no 2027-02-30: February 2027 has 28 days", "2027-02-28"),
        ("2027-02-29", "there is no 2027-02-29: February 2027 has 28 days", "2027-02-28"),
        ("2028-02-30", "there is no 2028-02-30: February 2028 has 29 days", "2028-02-29"),
        ("2028-04-31", "there is no 2028-04-31: April 2028 has 30 days", "2028-04-30"),
    ] {
        let told = found(day);
        assert_eq!(told.iter().map(|found| found.title.as_str()).collect::<Vec<_>>(), [says]);
        assert!(told[0].help.contains(help), "{}", told[0].help);
        assert!(found(help).is_empty());
    }
    for day in ["2028-13-01", "14.3.2027", "2027-3-14", "2027-03-14T00:00", ""] {
        assert_eq!(found(day).len(), 1, "{day}");
    }
    assert!(found("2028-02-29").is_empty());
}

#[test]
fn without_a_revision_there_is_no_calendar_and_the_page_says_what_it_can() {
    let (_, board) = panel("2027-05-01", "2027-04-01");
    let bundle = packet("", &board);
    assert!(!bundle.files.contains_key("maintenance.ics"));
    let page = text(&bundle, "upkeep.md");
    assert!(!page.contains("maintenance.ics"), "{page}");
    assert!(
        page.contains("| Replace the battery of Board, main; left (12 Ah) | 2027-04-01 | 1 year | **2028-04-01** |")
    );
}

/// The delays are those of the areas, the doors those that start them; sounds are those that the site can make a reason for.
#[test]
fn the_guide_has_doors_delays_and_sounds() {
    let (head, board) = panel("2027-05-01", "2027-04-01");
    let zone = |number: u32, words: &str, kind: &str, end: &str| {
        format!(
            "zone {number} \"{words}\" type=\"{kind}\" area=\"all\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ {end}; resistor \"2k2\"; }}; }}; }}\n"
        )
    };
    let door = zone(1, "Front door", "entry-exit", "contact \"reed\" title=\"Door\"");
    let beside = format!("{board}\narea \"all\" entry=(s)35 exit=(s)70 abort=(s)25\n{door}");
    // Nothing to disarm at: no time for it is promised.
    let page = text(&packet(&head, &beside), "owners-guide.md");
    assert!(page.contains("- Front door. This plan has no keypad") && !page.contains("isarm within"), "{page}");
    let keypad = "bus \"data\" board=\"board-a\" rate=(baud)9600 { run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; terminator (ohm)120; }; }\n";
    let beside = beside + keypad;
    let page = text(&packet(&head, &beside), "owners-guide.md");
    assert!(page.contains("- Front door. Come in: disarm within **35 s**. Arm: be out within **70 s**."), "{page}");
    // No sounder: no sound is promised. Nobody is called, so no time is named in which nobody is.
    assert!(!page.contains("BURGLARY") && !page.contains("beeps") && !page.contains("neighbours;"), "{page}");
    assert!(page.contains("Nothing in this plan sounds") && !page.contains("Within 25 s"), "{page}");
    assert!(!page.contains("Fire") && !page.contains("onoxide"), "{page}");
    // Nobody is called by this site, and no number is printed where one is to be called.
    assert!(!page.contains("Monitoring service |"), "{page}");
    let heat = zone(2, "Kitchen heat", "heat", "contact \"button\" title=\"Heat\"");
    let page = text(&packet(&head, &(beside + &heat)), "owners-guide.md");
    assert!(page.contains("- **Fire:** out, and stay out. Only the fire service says that it was false."), "{page}");
    assert!(!page.contains("smelled"), "{page}");
}

/// After a false alarm nobody goes back into a fire, and each area has its own time in which nothing is sent.
#[test]
fn the_guide_sends_nobody_back_and_names_the_abort_of_each_area() {
    let abort = |text: String, of: &str| text.replace("abort=(s)30 swinger-shutdown=2 sounder-cut-off=(min)5\n", of);
    let page = |of: &str| demo("larch-bungalow", |text| abort(text, of))["owners-guide.md"].clone();
    let same = page("abort=(s)30\n");
    assert!(same.contains("**Fire or carbon monoxide:** out, and stay out. Carbon monoxide cannot be seen or smelled. Only the fire service says that it was false. Call from outside at once"), "{same}");
    assert!(
        same.contains("disarm. Within 30 s nothing is sent; after that call the monitoring service at once."),
        "{same}"
    );
    assert!(page("abort=(s)20\n").contains("Within 20 s (Garage) or 30 s (House) nothing is sent"));
    assert!(page("abort=(s)0\n").contains("Within 30 s (House) nothing is sent"));
    let none = demo("larch-bungalow", |text| text.replace("abort=(s)30", ""))["owners-guide.md"].clone();
    assert!(
        none.contains("disarm. Call the monitoring service at once.") && !none.contains("nothing is sent"),
        "{none}"
    );
}

/// An area without a door that gives time is disarmed before; doors have their own titles; nothing is promised that the
/// spec takes back.
#[test]
fn the_guide_has_areas_as_they_are() {
    let larch = &demos::sheets("larch-bungalow")["owners-guide.md"];
    assert!(larch.contains("**House:** Front door; "), "{larch}");
    // The keypad in the hall is reached without passing the garage, the key switch in it is not.
    assert!(larch.contains("**Garage:** no door of it gives you time. Disarm **before you open anything**"), "{larch}");
    let alone = |text: String| {
        text.replace("keypad \"hall-keypad\"", "module \"hall-keypad\"")
            .replace("part=\"keypad\" address=1", "part=\"network-adapter\" address=1")
            .replace("emergency-key", "//")
    };
    let alone = demo("larch-bungalow", alone)["owners-guide.md"].clone();
    let inside =
        "time, and Key switch by the side door (Garage) is behind what is watched: ask the installer how you come in.";
    assert!(alone.contains(inside), "{alone}");
    assert!(
        larch.contains("While armed, other watched doors, gates, hatches and windows, and whoever moves"),
        "{larch}"
    );
    let flat = &demos::sheets("garden-flat")["owners-guide.md"];
    assert!(
        flat.contains("By Garden door the alarm may come before you are at the keypad: ask the installer."),
        "{flat}"
    );
    let mill = &demos::sheets("alder-mill")["owners-guide.md"];
    assert!(
        mill.contains("While armed, any other watched door, gate, hatch or window sets the alarm off at once"),
        "{mill}"
    );
    let waits = |text: String| {
        text.replace("type=\"perimeter\" area=\"workshop\"", "type=\"perimeter\" area=\"workshop\" follows=#true")
    };
    assert!(!demo("alder-mill", waits)["owners-guide.md"].contains("sets the alarm off at once"));
}

/// A detector above reach is tried by the installer; a key that arms is turned.
#[test]
fn the_owner_tries_nothing_from_a_ladder() {
    let row = |page: &str, zone: &str| {
        let row = page.lines().find(|line| line.starts_with('|') && line.contains(zone)).unwrap();
        row.split(" | ").next().unwrap().to_owned()
    };
    let mill = &demos::sheets("alder-mill")["upkeep.md"];
    assert!(row(mill, "28 Siren box cover").contains("the installer tries it"), "{mill}");
    assert!(row(mill, "13 Smoke, ground floor").contains("Its test button"), "{mill}");
    assert!(mill.contains("account on test before") && !mill.contains("Nothing here needs a ladder"), "{mill}");
    let larch = &demos::sheets("larch-bungalow")["upkeep.md"];
    assert!(row(larch, "21 Garage key").contains("Turn and let go"), "{larch}");
}

/// No two events are one, whatever a device is called, and two that are alike keep theirs when they change places.
#[test]
fn identities_are_those_of_the_devices() {
    let (head, board) = panel("2027-05-01", "2027-04-01");
    let eye = |name: &str, title: &str, made: &str| {
        format!("detector \"aging\" {name} title=\"{title}\" made=\"{made}\" supply=\"aux\"; ")
    };
    let (one, other) = (eye("", "Motion, east", "2020-01-01"), eye("", "Motion, west", "2021-02-02"));
    let named = eye("name=\"zone-1-aging-in-lobby\"", "Motion, north", "2022-03-03");
    let ics = |inside: &str| {
        let zone = format!(
            "{board}\npart \"aging\" title=\"Motion\" senses=\"motion\" replace-after=(year)10 {{ basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)16 idle=(mA)5 alarm=(mA)9; contact form=\"NC\" resistance=(ohm)1; }}\narea \"all\"\nzone 1 \"Motion\" type=\"interior\" area=\"all\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"lobby\" {{ {inside} resistor \"2k2\"; }}; }}; }}"
        );
        text(&packet(&head, &zone), "maintenance.ics").replace("\r\n ", "")
    };
    let made = |ics: &str| -> BTreeMap<String, String> {
        let events = ics.split("BEGIN:VEVENT").filter(|event| event.contains("UID:example.detector."));
        let line = |event: &str, name: &str| event.lines().find_map(|line| line.strip_prefix(name)).unwrap().to_owned();
        let all: Vec<_> = events.map(|event| (line(event, "UID:"), line(event, "DESCRIPTION:"))).collect();
        let map: BTreeMap<_, _> = all.iter().cloned().collect();
        assert_eq!(map.len(), all.len(), "{all:?}");
        map
    };
    let before = made(&ics(&(one.clone() + &other + &named)));
    assert_eq!(before.len(), 3, "{before:?}");
    assert_eq!(before, made(&ics(&(other.clone() + &one + &named))));
    let alone = made(&ics(&(one + &named)));
    assert_eq!(alone.len(), 2, "{alone:?}");
}

/// Times that the calendar cannot count are refused; a day without its zeros is told how to write it.
#[test]
fn what_the_calendar_cannot_count_is_refused() {
    let found = |upkeep: &str, day: &str| {
        let (head, board) = panel("2028-12-01", day);
        let found = session::check(&files(&head, &format!("upkeep {upkeep}\n{board}"))).diagnostics;
        let ours = found.into_iter().filter(|found| found.rule.slug == "value-out-of-range");
        ours.map(|found| found.help).collect::<Vec<_>>()
    };
    for bad in ["test-every=(s)1", "clean-every=(h)36", "test-every=(day)1.5", "test-every=(h)47"] {
        assert_eq!(
            found(bad, "2027-03-01"),
            ["Write whole days, months or years, at least a day, as (month)6."],
            "{bad}"
        );
    }
    for good in ["test-every=(h)48", "test-every=(week)2", "clean-every=(year)1", "test-every=(month)6"] {
        assert!(found(good, "2027-03-01").is_empty(), "{good}");
    }
    assert_eq!(found("test-every=(month)1", "2027-3-1"), ["Write it as \"2027-03-01\"."]);
}

/// What the guide promises for a power cut is the worst that the power sheet has, and no more.
#[test]
fn the_guide_and_the_power_sheet_tell_one_time_on_battery() {
    let mill = demos::sheets("alder-mill");
    let (guide, power) = (&mill["owners-guide.md"], &mill["power-sheet.md"]);
    let worst = power.lines().find(|line| line.contains("at rest, then") && line.contains("due for replacement, 5 °C"));
    let hours = worst.unwrap().split("**").nth(1).unwrap();
    let whole = hours.split('.').next().unwrap();
    assert_eq!(hours, "31.9 h", "{power}");
    assert!(guide.contains(&format!("for at least {whole} h while nothing happens")), "{guide}");
}

/// Of what no part says what it senses, the opening tells; and what tells nothing is tried all the same.
#[test]
fn every_zone_is_on_a_line_of_the_tests() {
    let (head, board) = panel("2028-12-01", "2027-03-01");
    let house = format!(
        "{}
part \"odd\" title=\"Odd\" {{ basis \"sheet\" ref=\"invented\"; contact form=\"NC\"; }}
zone 1 \"Side door\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)9 {{ contact \"odd\" on=\"side\"; resistor \"2k2\"; }}; }}; }}
zone 2 \"Something\" type=\"twenty-four-hour\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)9 room=\"lobby\" {{ contact \"odd\" title=\"Odd\"; resistor \"2k2\"; }}; }}; }}",
        board.replace("title=\"Lobby\"; }", "title=\"Lobby\" { door \"side\"; }; }")
    );
    let sheet = text(&packet(&head, &house), "upkeep.md");
    for row in ["shut it again | 1 Side door |", "what it watches for is not written down | 2 Something |"] {
        assert!(sheet.contains(row), "{row} in\n{sheet}");
    }
}

/// No hand on a door tries the zone of a supply's fault contact: it is tried by the mains.
#[test]
fn a_zone_of_a_fault_contact_is_tried_by_the_mains() {
    let sheets = demo("larch-bungalow", |text| text);
    let upkeep = &sheets["upkeep.md"];
    let yearly = upkeep.split("## Clean and look").nth(1).unwrap();
    assert!(yearly.contains("the mains of each supply whose fault contact"), "{upkeep}");
    assert!(yearly.contains(": 25 Garage supply."), "{upkeep}");
    assert!(!demo("alder-mill", |text| text)["upkeep.md"].contains("fault contact"));
}

/// A blank beside a day that is printed would be a second answer.
#[test]
fn the_last_day_of_the_permit_is_a_blank_only_where_the_spec_has_none() {
    let sheet = |upkeep: &str| {
        let (head, board) = panel("2027-06-01", "2027-05-10");
        text(&packet(&head, &format!("{board}\n{upkeep}")), "upkeep.md")
    };
    let (with, without) = (sheet("upkeep permit-ends=\"2028-05-31\""), sheet(""));
    assert!(with.contains("**2028-05-31**") && !with.contains("Last day of the permit"), "{with}");
    assert!(without.contains("Last day of the permit"), "{without}");
    assert!(with.contains("counted from 2027-05-10, the first day on which a battery was put in;"), "{with}");
}

/// What alarms day and night, what is told while disarmed, and what calls for help, each by its place.
#[test]
fn the_household_knows_what_never_sleeps_and_where_help_is_called() {
    let (head, board) = panel("2027-06-01", "2027-05-10");
    let zone = |number: u32, called: &str, kind: &str| {
        format!(
            "zone {number} \"{called}\" type=\"{kind}\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\"; resistor \"2k2\" }} }} }}\n"
        )
    };
    let zones = [
        zone(1, "Pool gate", "twenty-four-hour"),
        zone(2, "Yard gate", "day-night"),
        zone(3, "Under the till", "panic-silent"),
        zone(4, "By the bed", "panic-audible"),
    ];
    let beside = format!("{board}\n{}", zones.concat());
    let guide = text(&packet(&head, &beside), "owners-guide.md");
    assert!(guide.contains("**At any time, armed or not:** Pool gate."), "{guide}");
    assert!(guide.contains("tells of: Yard gate."), "{guide}");
    assert!(
        guide.contains("**With sounders:** By the bed. **Silent:** where you were shown; this page hangs in the open."),
        "{guide}"
    );
    assert!(!guide.contains("Under the till"), "{guide}");
}

//! Upkeep, its calendar, and the household's guide. What the calendar says for ten years is read outside (`tests/outside`).

use std::collections::BTreeMap;

use loopwright::session;

use super::{files, packet, text};

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
    let page = text(&packet(&head, &beside), "owners-guide.md");
    assert!(page.contains("| Front door | **35 s** | **70 s** |"), "{page}");
    assert!(page.contains("Within 25 s") && page.contains("BURGLARY"), "{page}");
    assert!(!page.contains("FIRE") && !page.contains("MONOXIDE") && !page.contains("four tones"), "{page}");
    // Nobody is called by this site, and no number is printed where one is to be called.
    assert!(!page.contains("Monitoring service |"), "{page}");
    let heat = zone(2, "Kitchen heat", "heat", "contact \"button\" title=\"Heat\"");
    let page = text(&packet(&head, &(beside + &heat)), "owners-guide.md");
    assert!(page.contains("FIRE") && page.contains("Three and four tones: ANSI S3.41 and NFPA 72 18.4.2"), "{page}");
}

//! The as-built record: the template for a whole site, and readings judged against the calculation.

use loopwright::quantity::meter_text;
use loopwright::session;

use crate::alder_mill::AlderMill;

const READINGS: &str = "readings.kdl";

/// The page is held against the same list by `tests/outside/screens.py`.
#[test]
fn the_forms_that_a_display_has_are_read() {
    let forms: Vec<&str> = include_str!("meter-forms.txt").lines().filter(|line| !line.starts_with('#')).collect();
    assert!(forms.len() > 60);
    for form in forms {
        let [unit, text, wanted] = form.split('|').collect::<Vec<_>>()[..] else { panic!("{form}") };
        let read = if unit.trim() == "ohms" { meter_text::ohms(text) } else { meter_text::volts(text) };
        let said = match read {
            Err(_) => "unclear".to_owned(),
            Ok(value) if value.is_infinite() => "open".to_owned(),
            Ok(value) => value.to_string(),
        };
        assert_eq!(said, wanted.trim(), "{form}");
    }
}

fn fresh() -> String {
    let date = "2029-03-17".parse().unwrap();
    session::readings(&AlderMill::new().files(), date).1.unwrap()
}

#[test]
fn a_fresh_record_has_a_line_for_every_loop_and_changes_nothing() {
    let text = fresh();
    let lines: Vec<&str> =
        text.lines().filter_map(|line| line.trim().split_once(" // ")).map(|(line, _)| line.trim()).collect();
    for zone in (1..=38).chain([50]) {
        assert!(lines.contains(&format!("loop {zone} \"rest\"").as_str()), "{zone}");
    }
    for line in ["device \"smoke-north\"", "battery \"main\"", "loop 3 \"alarm\" of=\"parlour-west\""] {
        assert!(lines.contains(&line), "{line}");
    }
    let with = AlderMill::new().appended(READINGS, &text);
    assert!(with.new_findings().is_empty(), "{:#?}", with.new_findings());
}

/// Every line of the fresh record, filled in with a value of its own comment, fits.
#[test]
fn what_the_fresh_record_expects_fits() {
    let filled: String = fresh()
        .lines()
        .map(|line| match line.split_once(" // ") {
            Some((reading, expected)) if reading.trim_start().starts_with("loop ") => {
                let ohms = expected.split(" or ").next().unwrap();
                let value = if ohms.contains("open") {
                    "open=#true".to_owned()
                } else {
                    let (number, unit) = ohms.rsplit_once(' ').unwrap();
                    let greatest = number.rsplit(' ').next().unwrap();
                    format!("ohms=({}){greatest}", if unit == "kΩ" { "kohm" } else { "ohm" })
                };
                format!("{reading} {value}\n")
            }
            _ => format!("{line}\n"),
        })
        .collect();
    // Only those of the earlier days have moved; a value at the edge is as far from the last as can be.
    let found = AlderMill::new().appended(READINGS, &filled).new_findings();
    assert!(found.iter().all(|finding| finding.rule.slug == "reading-drifting"), "{found:#?}");
}

/// Zone 7 by hand: 1.96 kΩ where 2.087 to 2.312 kΩ is expected; 2201 ∥ 18 kΩ = 1.96 kΩ.
#[test]
fn a_leak_is_outside_and_explained() {
    let measured = "measured date=\"2029-03-17\" {\n    loop 7 \"rest\" ohms=(kohm)1.96\n}\n";
    let finding = AlderMill::new().appended(READINGS, measured).only("reading-outside");
    assert!(finding.title.starts_with("zone 7, at rest, read 1.96 kΩ with the leads off"), "{}", finding.title);
    let leak = finding.figures.iter().find(|figure| figure.contains("a leak of about")).unwrap();
    let kiloohms: f64 = leak.split("about ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    assert!((17.0..19.0).contains(&kiloohms), "{leak}");
}

#[test]
fn low_volts_at_a_device_and_a_flat_battery_are_outside_and_lost_zones_are_history() {
    let at =
        |line: &str| AlderMill::new().appended(READINGS, &format!("measured date=\"2029-03-17\" {{\n    {line}\n}}\n"));
    at("device \"smoke-north\" volts=(V)11.9").only("reading-outside");
    at("battery \"main\" volts=(V)12.1").only("reading-outside");
    at("loop 99 \"rest\" ohms=(ohm)2200").only("reading-unknown");
    at("loop 7 \"cover\" ohms=(ohm)2200").only("reading-unknown");
    at("device \"nobody\" volts=(V)13").only("reading-unknown");
    // A board that takes nothing is there: no history.
    let board = at("device \"main\" volts=(V)13.8").only("reading-unknown");
    assert!(
        board.title.contains("takes no supply") && !board.help.contains("history"),
        "{}: {}",
        board.title,
        board.help
    );
    let aged = |day: &str| {
        let put_in = AlderMill::new().edited("boards.kdl", "installed=\"2027-03-14\"", "installed=\"2024-03-20\"");
        put_in.appended(READINGS, &format!("measured date=\"{day}\" {{ battery \"main\" volts=(V)13.6; }}\n"))
    };
    aged("2029-03-21").only("battery-old");
    // Its last day is no day past it.
    let young = aged("2029-03-20");
    assert!(young.new_findings().is_empty());
}

/// Two detectors without names are two lines that say the same: neither is the other's past, on that day or the next.
#[test]
fn lines_of_one_day_are_not_before_one_another() {
    let day = |date: &str| {
        format!(
            "measured date=\"{date}\" {{\n    loop 2 \"alarm\" volts=(V)5\n    loop 2 \"alarm\" volts=(V)4.99\n    loop 2 \"rest\" ohms=(ohm)2203\n}}\n"
        )
    };
    let text = format!("{}{}", day("2029-03-17"), day("2029-03-18"));
    let outcome = session::compile(&[], &AlderMill::new().appended(READINGS, &text).files());
    let sheet = String::from_utf8(outcome.bundle.unwrap().files["as-built.csv"].clone()).unwrap();
    let lines = |date: &str, state: &str| -> Vec<String> {
        let wanted = format!("{date},zone 2,{state},");
        sheet.lines().filter(|line| line.starts_with(&wanted)).map(str::to_owned).collect()
    };
    let first = lines("2029-03-17", "in alarm");
    assert_eq!(first.len(), 2, "{sheet}");
    assert!(first.iter().all(|line| !line.contains("(2029-03-17)")), "{first:?}");
    assert!(lines("2029-03-18", "in alarm").iter().all(|line| !line.contains("(20")), "{sheet}");
    assert!(lines("2029-03-18", "at rest").iter().all(|line| line.contains("(2029-03-17)")), "{sheet}");
}

/// The as-built sheet of the demo with more readings, and the cover.
fn sheet(name: &str, more: &str) -> String {
    let outcome = session::compile(&[], &AlderMill::new().appended(READINGS, more).files());
    String::from_utf8(outcome.bundle.unwrap().files[name].clone()).unwrap()
}

/// Zone 7 at rest is 2.087 to 2.312 kΩ; a meter that is 1 % and half an ohm wrong shows 2.065 to 2.335 kΩ of it.
#[test]
fn the_range_that_is_printed_is_the_one_that_is_judged() {
    let values = ["2.06", "2.07", "2.08", "2.2", "2.33", "2.34"];
    let record: String = (1..)
        .zip(values)
        .map(|(day, value)| {
            format!("measured date=\"2029-04-0{day}\" {{\n    loop 7 \"rest\" ohms=(kohm){value}\n}}\n")
        })
        .collect();
    let sheet = sheet("as-built.csv", &record);
    for (day, value) in (1..).zip(values) {
        let start = format!("2029-04-0{day},zone 7,at rest,");
        let row = sheet.lines().find(|line| line.starts_with(&start)).unwrap();
        assert!(row.starts_with(&format!("{start}{value} kΩ,2.065 to 2.335 kΩ,")), "{row}");
        let inside = (2.065..=2.335).contains(&value.parse::<f64>().unwrap());
        // What did not fit on the first day is history: on later days it did.
        let outside = if day == 1 { "history: that of 2029-04-05 fits" } else { "does not fit" };
        assert_eq!(inside, !row.contains(outside), "{row}");
        let asked = session::diagnose_ohms(&AlderMill::new().files(), 7, value.parse::<f64>().unwrap() * 1e3);
        let found = asked.answer.unwrap();
        assert_eq!(inside, found.fits.iter().any(|fit| fit.text.starts_with("at rest")), "{value}: {found:?}");
        assert!(!inside || found.faults.is_empty(), "{value}: {found:?}");
    }
}

/// A loop that is put right on the day on which it was found wrong: the second record of that day is the later.
#[test]
fn a_second_round_of_one_day_makes_the_first_history() {
    let round = |value: &str| format!("measured date=\"2029-04-02\" {{\n    loop 7 \"rest\" ohms=(kohm){value}\n}}\n");
    let row = |record: &str, value: &str| {
        let start = format!("2029-04-02,zone 7,at rest,{value} kΩ,");
        sheet("as-built.csv", record).lines().find(|line| line.starts_with(&start)).unwrap().to_owned()
    };
    let mended = round("1.9") + &round("2.2");
    assert!(row(&mended, "1.9").ends_with("history: a later one of that day fits"), "{}", row(&mended, "1.9"));
    let broken = round("2.2") + &round("1.9");
    assert!(row(&broken, "1.9").ends_with("does not fit"), "{}", row(&broken, "1.9"));
}

/// Of zone 3 the window to the west was worked, and not the other.
#[test]
fn what_was_never_worked_is_named() {
    let line = |record: &str| {
        let sheet = sheet("as-built.md", record);
        sheet.lines().find(|line| line.starts_with("Not measured in alarm: ")).unwrap_or_default().to_owned()
    };
    let one = "measured date=\"2029-03-17\" {\n    loop 3 \"rest\" ohms=(kohm)2.2\n    loop 3 \"alarm\" of=\"parlour-west\" open=#true\n}\n";
    let all = one.replace(" of=\"parlour-west\"", "");
    let [with_one, with_all] = [line(one), line(&all)];
    assert!(with_one.contains(" 1, 3 (Parlour window, south), 4, "), "{with_one}");
    assert!(with_all.contains(" 1, 4, "), "{with_all}");
}

#[test]
fn paper_calls_things_by_their_titles() {
    let record = "measured date=\"2029-03-17\" {\n    device \"long-gone\" volts=(V)13\n}\n";
    let sheet_of_readings = sheet("as-built.md", record);
    for name in ["smoke-north", "smoke-west", "workshop-motion", "expander-b", "battery of main", "workshop-keypad"] {
        assert!(!sheet_of_readings.contains(name), "{name} in\n{sheet_of_readings}");
    }
    for wanted in ["| long-gone | on mains |", "| battery of Panel | on charge |"] {
        assert!(sheet_of_readings.contains(wanted), "{wanted} in\n{sheet_of_readings}");
    }
    let cover = sheet("overview.md", record);
    for name in ["landing-co", "wheel-window", "stone-window", "reed-recessed", "smoke-4w"] {
        assert!(!cover.contains(name), "{name} in\n{cover}");
    }
    for wanted in [
        "nothing watches the supply of Carbon monoxide, landing |",
        "no zone watches Wheel window |",
        "Surface reed contact",
    ] {
        assert!(cover.contains(wanted), "{wanted} in\n{cover}");
    }
}

#[test]
fn a_reading_that_prints_as_the_bound_fits() {
    let sheet = sheet("as-built.csv", "measured date=\"2029-04-01\" {\n    loop 7 \"rest\" ohms=(ohm)2335.4\n}\n");
    let row = sheet.lines().find(|line| line.starts_with("2029-04-01,zone 7,at rest,")).unwrap();
    assert!(row.contains("2.335 kΩ,2.065 to 2.335 kΩ,") && !row.contains("does not fit"), "{row}");
}

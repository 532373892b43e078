//! The ways to the monitoring service.

use super::{button, found_under, only, slugs};

/// Findings of ways in a site of a profile.
fn of(profile: &str, ways: &str) -> Vec<(&'static str, Vec<String>)> {
    let header = format!("site \"house\" {{ profile {profile} }}\ninclude \"../parts/example.kdl\"\n");
    found_under(&header, ways).into_iter().map(|finding| (finding.rule.slug, finding.figures)).collect()
}

/// NFPA 72 as summaries have it: one way within 5 min in the edition of 2010 and 60 min from that of 2013 on, ways of two
/// kinds within 6 h.
#[test]
fn the_silence_of_a_way_is_held_against_the_edition_and_the_other_ways() {
    let net = |every: &str| {
        format!("communicator \"net\" type=\"internet\" supervised-every={every} {{ hop \"router\" backup=(h)24; }}\n")
    };
    let late = |figure: &str| vec![("silence-noticed-late", vec![figure.to_owned()])];
    let single = "a single way: within 1 h (NFPA 72 26.6.3.3.1, 2013 edition and later, summary read)";
    let early = "a single way: within 5 min (NFPA 72 26.6.3.3.1, 2010 edition, summary read)";
    let two =
        "each of several ways of different kinds: within 6 h (NFPA 72 26.6.3, 2013 edition and later, summary read)";
    let line = "communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\"\n";
    let household = "\"us-household\"";
    assert_eq!(of(household, &net("(min)60")), []);
    assert_eq!(of(household, &net("(min)61")), late(single));
    assert_eq!(of("\"us-household\" edition=2010", &net("(min)60")), late(early));
    assert_eq!(of("\"us-household\" edition=2010", &net("(min)5")), []);
    assert_eq!(of(household, &(net("(h)6") + line)), []);
    assert_eq!(of(household, &(net("(h)7") + line)), late(two));
    // Two of one kind are cut together.
    assert_eq!(of(household, &(net("(h)6") + &net("(h)1").replace("\"net\"", "\"second\""))), late(single));
    // Other profiles have no figure here.
    assert_eq!(of("\"practice\"", &net("(h)99")), []);
    assert_eq!(of("\"eu-grade-2\"", &net("(h)99")), []);
}

#[test]
fn jacks_and_voice_over_internet_are_looked_at_on_telephones_only() {
    let radio = "communicator \"air\" type=\"radio\" jack=\"bridged\" service=\"voip\"\n";
    assert_eq!(slugs(radio), ["property-without-effect"; 2]);
    let line = "communicator \"line\" type=\"telephone\" jack=\"bridged\" service=\"voip\"\n";
    assert_eq!(slugs(line), ["jack-behind-phones", "voice-over-internet"]);
    assert_eq!(slugs(&line.replace("voip", "mobile").replace("bridged", "line-seizure")), [""; 0]);
}

/// A form alone may be that of a service to come; what says that something speaks, and has nothing, is found.
#[test]
fn a_form_without_a_way_is_a_note_where_it_says_what_is_spoken() {
    assert_eq!(slugs("monitoring description-width=20\n"), [""; 0]);
    assert_eq!(slugs("monitoring format=\"voice\"\n"), ["form-without-way"]);
    let radio = "communicator \"air\" type=\"radio\"\n";
    assert_eq!(slugs(&format!("monitoring format=\"voice\"\n{radio}")), [""; 0]);
    // A way that is misspelt is one finding.
    assert_eq!(slugs("monitoring format=\"voice\"\ncommunicator \"air\" type=\"radyo\"\n"), ["word-unknown"]);
}

#[test]
fn what_a_way_of_its_type_does_not_have_is_found_property_by_property() {
    let way = |words: &str| format!("communicator \"way\" board=\"board-a\" {words}\n");
    for (words, count) in [
        ("type=\"radio\" jack=\"bridged\" service=\"copper\" wired=\"T568B\"", 3),
        ("type=\"internet\" jack=\"bridged\"", 1),
        ("type=\"internet\" service=\"voip\"", 1),
        ("type=\"telephone\" service=\"copper\" jack=\"line-seizure\" wired=\"T568A\"", 1),
        ("type=\"internet\" service=\"copper\" wired=\"T568A\"", 0),
        ("type=\"radio\" service=\"mobile\"", 0),
        ("type=\"telephone\" service=\"mobile\" jack=\"line-seizure\"", 0),
    ] {
        assert_eq!(slugs(&way(words)), vec!["property-without-effect"; count], "{words}");
    }
}

#[test]
fn an_interval_in_the_wrong_unit_is_refused() {
    let radio = |every: &str| format!("communicator \"air\" type=\"radio\" supervised-every={every}\n");
    only(&radio("(ms)1"), "interval-too-short");
    only(&radio("(s)9"), "interval-too-short");
    assert_eq!(slugs(&radio("(s)10")), [""; 0]);
    only("monitoring test-every=(ms)1\n", "interval-too-short");
    only("monitoring test-every=(min)59\n", "interval-too-short");
    assert_eq!(slugs("monitoring test-every=(h)1\n"), [""; 0]);
}

/// ANSI/SIA DC-09 is a protocol of the internet.
#[test]
fn a_format_of_the_internet_needs_another_way_than_copper() {
    let line = "monitoring format=\"sia-dc-09\"
communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\"\n";
    only(line, "format-not-carried");
    assert_eq!(slugs(&format!("{line}communicator \"air\" type=\"radio\"\n")), [""; 0]);
    assert_eq!(slugs(&line.replace("dc-09", "dc-05")), [""; 0]);
}

#[test]
fn two_areas_of_one_number_are_found_where_it_is_written() {
    only("area \"garage\" number=1\narea \"house\" number=1\n", "duplicate-area-number");
    // The first by name is number 1 where that is free.
    assert!(!slugs("area \"garage\"\narea \"house\" number=1\n").contains(&"duplicate-area-number"));
    assert!(!slugs("area \"garage\"\narea \"house\"\n").contains(&"duplicate-area-number"));
}

/// A code is handled by its group alone, whatever the zone is.
#[test]
fn a_code_that_is_handled_as_something_else_than_the_type_is_found() {
    let zone = |kind: &str, code: u32| {
        button(1, "board=\"board-a\"", "Lobby")
            .replace("type=\"panic-audible\"", &format!("type=\"{kind}\" event={code}"))
    };
    let found = |kind: &str, code: u32| slugs(&zone(kind, code)).contains(&"event-code-of-other-kind");
    for (kind, code) in [
        ("smoke", 602),
        ("smoke", 301),
        ("carbon-monoxide", 602),
        ("panic-audible", 301),
        ("panic-silent", 154),
        ("perimeter", 162),
        ("medical", 130),
        ("fire", 373),
        ("water", 110),
        ("twenty-four-hour", 110),
        ("panic-silent", 123),
        ("panic-audible", 122),
    ] {
        assert!(found(kind, code), "{kind} {code}: {:?}", slugs(&zone(kind, code)));
    }
    for (kind, code) in [
        ("perimeter", 136),
        ("day-night", 135),
        ("perimeter", 134),
        ("smoke", 110),
        ("panic-audible", 120),
        ("panic-silent", 120),
        ("twenty-four-hour", 152),
        ("trouble", 153),
        ("water", 156),
        ("tamper", 144),
    ] {
        assert!(!found(kind, code), "{kind} {code}");
    }
    let finding = only(&zone("panic-audible", 602), "event-code-of-other-kind");
    assert!(finding.figures.iter().any(|figure| figure.starts_with("by event code 602: record it and call nobody")));
}

/// An adapter is the board of its line where no other is said: its port takes the cable, and one without a port takes none.
#[test]
fn a_cable_of_a_telephone_line_needs_a_line_port_of_the_adapter() {
    let adapter = |port: &str, run: &str| {
        format!(
            "part \"dialler\" title=\"Dialler\" {{
    basis \"sheet\" ref=\"invented for the examples\"
    bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"
    {port}
    draw idle=(mA)20 min=(V)9
    screw wires=2
}}
bus \"data\" board=\"board-a\" port=\"data\" rate=(baud)19200 {{
    run \"bus-cable\" length=(ft)30 room=\"lobby\" {{
        keypad \"keys\" title=\"Keypad\" part=\"keypad-a\" address=1
        module \"dialler\" title=\"Dialler\" part=\"dialler\" address=2
        terminator (ohm)120
    }}
}}
communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\" module=\"dialler\" {{ {run} }}
"
        )
    };
    let run = "run \"quad\" length=(ft)9 room=\"lobby\";";
    let port = "line-port \"line\" in-tip=\"T\" in-ring=\"R\" out-tip=\"PT\" out-ring=\"PR\"";
    assert_eq!(slugs(&adapter("", run)), ["part-lacks-connection"]);
    assert_eq!(slugs(&adapter("", "")), [""; 0]);
    assert_eq!(slugs(&adapter(port, run)), [""; 0]);
    let half = port.split(" out-tip").next().unwrap();
    assert_eq!(slugs(&adapter(half, run)), ["seizure-without-return"]);
    assert_eq!(slugs(&adapter(half, "")), ["seizure-without-return"]);
}

/// A parallel connection takes one pair; a jack that lets the board take the line takes two.
#[test]
fn a_bridged_jack_takes_one_pair() {
    let line = |jack: &str, cable: &str| {
        let line = "communicator \"line\" type=\"telephone\" service=\"copper\"";
        format!("{line} {jack} {{ run \"{cable}\" length=(ft)20 room=\"lobby\"; }}\n")
    };
    assert_eq!(slugs(&line("jack=\"bridged\"", "pair")), ["jack-behind-phones"]);
    assert_eq!(slugs(&line("jack=\"bridged\"", "quad")), ["jack-behind-phones"]);
    assert_eq!(slugs(&line("", "pair")), [""; 0]);
    assert_eq!(slugs(&line("jack=\"line-seizure\"", "pair")), ["cable-conductors-short"]);
}

/// What a panel without a way has is on no form.
#[test]
fn the_form_has_no_lines_for_zones_that_nobody_sends() {
    let second = "panel \"board-b\" title=\"Second\" part=\"control-a\" room=\"lobby\" {
    battery capacity=(Ah)12 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby, no switch\"
}
";
    let way = "communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\" board=\"board-a\"\n";
    let zones = |sent: u32| -> String {
        let zone = |number| {
            let board = if number <= sent { "board-a" } else { "board-b" };
            button(number, &format!("board=\"{board}\""), &format!("Button {number}"))
        };
        (1..=4).map(zone).collect()
    };
    let of = |sent, lines: u32| {
        let spec =
            format!("{second}{way}monitoring format=\"sia-dc-05\" zones={lines} test-every=(day)7\n{}", zones(sent));
        found_under(crate::pages::HEADER, &spec)
    };
    let titles = |sent, lines| -> Vec<String> {
        let found = of(sent, lines).into_iter().filter(|finding| finding.rule.slug == "form-overfull");
        found.map(|finding| finding.title).collect()
    };
    assert_eq!(titles(2, 2), [""; 0]);
    assert_eq!(titles(3, 2), ["the service's form has 2 lines, and the site sends 3 zones"]);
    assert_eq!(titles(4, 2), ["the service's form has 2 lines, and the site 4 zones"]);
}

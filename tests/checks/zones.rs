//! Zones and what the dispatcher reads of them.

use super::{button, found, only, slugs};

#[test]
fn a_loop_with_nothing_on_it_is_found_and_a_broken_one_is_not() {
    let empty = button(1, "board=\"board-a\"", "Lobby").replace("contact \"button\"", "resistor \"2k2\"");
    let finding = only(&empty, "zone-without-device");
    assert_eq!(finding.labels[1].text, "no contact or detector on this loop");
    only(&button(1, "board=\"board-a\"", "Lobby").replace("contact", "contakt"), "node-unknown");
}

#[test]
fn equal_descriptions_are_found_without_a_form() {
    let spec = button(1, "board=\"board-a\"", "Lobby button") + &button(2, "board=\"board-a\"", "Lobby Button");
    assert_eq!(only(&spec, "description-cut-ambiguous").title, "zones 1 and 2 read the same to the dispatcher");
}

#[test]
fn a_form_that_cuts_most_descriptions_is_one_finding() {
    let spec = [
        "monitoring description-width=12\n".to_owned(),
        button(1, "board=\"board-a\"", "Lobby button left"),
        button(2, "board=\"board-a\"", "Lobby button right"),
        button(3, "board=\"board-a\"", "Button beside the stair"),
    ]
    .concat();
    let finding = only(&spec, "description-cut-ambiguous");
    assert_eq!(finding.title, "a form of 12 characters leaves 1 group of zones that read the same");
    assert_eq!(finding.figures, ["zones 1 and 2: the dispatcher reads: Lobby button", "cut in all: zones 1 to 3"]);
    // As the help says.
    let short = [
        ("Lobby button left", "Left, lobby"),
        ("Lobby button right", "Right, lobby"),
        ("Button beside the stair", "Stair"),
    ];
    let short = short.iter().fold(spec.clone(), |spec, (long, short)| spec.replace(long, short));
    assert_eq!(slugs(&short), [""; 0]);
    let differing = spec.replace("Lobby button right", "Right button, lobby");
    assert_eq!(
        only(&differing, "form-too-narrow").title,
        "the form's 12 characters are fewer than the shortest description has, 17"
    );
    let one = differing.replace("Lobby button left", "Left").replace("Right button, lobby", "Right");
    assert_eq!(slugs(&one), ["description-too-long"]);
}

/// Two bedrooms on a form of 12: one finding, and what its help says clears it.
#[test]
fn two_bedrooms_that_the_form_makes_one_are_one_finding() {
    let spec = "monitoring description-width=12\n".to_owned()
        + &button(1, "board=\"board-a\"", "Bedroom window east")
        + &button(2, "board=\"board-a\"", "Bedroom window west");
    let finding = only(&spec, "description-cut-ambiguous");
    assert!(finding.help.contains("Say each in 12 characters"), "{finding:?}");
    let short = spec.replace("Bedroom window east", "East bedroom").replace("Bedroom window west", "West bedroom");
    assert_eq!(slugs(&short), [""; 0]);
}

#[test]
fn a_description_that_loses_its_room_says_which_word() {
    let spec = "monitoring description-width=10\n".to_owned() + &button(1, "board=\"board-a\"", "Button, lobby");
    let finding = only(&spec, "description-loses-room");
    assert_eq!(finding.labels[0].text, "13 characters, and “lobby” is lost");
    assert_eq!(slugs(&spec.replace("Button, lobby", "Lobby btn.")), [""; 0]);
}

#[test]
fn the_width_counts_characters() {
    let spec = "monitoring description-width=10\n".to_owned() + &button(1, "board=\"board-a\"", "Stübchen ü");
    assert_eq!(slugs(&spec), [""; 0]);
    let longer = "monitoring description-width=9\n".to_owned() + &button(1, "board=\"board-a\"", "Stübchen ü");
    assert_eq!(only(&longer, "description-too-long").figures, ["the dispatcher reads: Stübchen|"]);
}

#[test]
fn the_areas_of_a_misspelt_reference_are_one_finding() {
    let spec = "area \"house\"\n".to_owned()
        + &button(1, "board=\"board-a\"", "Lobby")
            .replace("type=\"panic-audible\"", "type=\"panic-audible\" area=\"huose\"");
    only(&spec, "unknown-name");
}

#[test]
fn a_loop_that_was_cut_off_is_not_said_to_be_empty() {
    let runs = "run \"pair\" length=(ft)3 room=\"lobby\"\n".repeat(600);
    let spec = button(1, "board=\"board-a\"", "Lobby").replacen("run ", &(runs + "run "), 1);
    only(&spec, "runs-too-many");
}

#[test]
fn a_loop_holds_a_thousand_things_and_no_more() {
    let filled = |count: usize| {
        let things: String = (2..count).map(|n| format!("contact \"button\" title=\"Button {n}\"; ")).collect();
        button(1, "board=\"board-a\"", "Lobby").replacen("contact ", &(things + "contact "), 1)
    };
    assert!(filled(1000).matches("contact").count() + filled(1000).matches("resistor").count() == 1000);
    assert!(found(&filled(1000)).iter().all(|found| found.rule.slug != "things-too-many"));
    only(&filled(1001), "things-too-many");
}

#[test]
fn sizes_that_nothing_real_can_have_are_refused() {
    let spec = button(1, "board=\"board-a\"", "Lobby");
    for length in ["1e300", "1e10", "1e-12"] {
        let finding = only(&spec.replace("(ft)20", &format!("(ft){length}")), "value-out-of-range");
        assert!(finding.help.contains("a length that something real can have"), "{}", finding.help);
    }
    assert_eq!(slugs(&spec.replace("(ft)20", "(mm)0.1")), ["run-too-short"]);
}

#[test]
fn a_date_is_written_as_one_and_a_label_can_be_seen() {
    let spec = button(1, "board=\"board-a\"", "Lobby");
    let measured = |date: &str| format!("measured date=\"{date}\" {{ loop 1 \"rest\" ohms=(ohm)2200; }}\n");
    assert_eq!(slugs(&(spec.clone() + &measured("2027-02-20"))), [""; 0]);
    only(&(spec.clone() + &measured("2027-02-20T10:00")), "value-out-of-range");
    for label in ["", " ", " A"] {
        only(&spec.replace("room=\"lobby\"", &format!("room=\"lobby\" label=\"{label}\"")), "value-out-of-range");
    }
}

#[test]
fn no_reading_is_held_against_a_loop_that_could_not_be_read() {
    let measured = "measured date=\"2027-02-20\" { loop 1 \"rest\" ohms=(ohm)2200 volts=(V)2.5; }\nmeasured date=\"2028-02-20\" { loop 1 \"rest\" ohms=(ohm)2190; }\n";
    let spec = button(1, "board=\"board-a\"", "Lobby") + measured;
    assert_eq!(slugs(&spec), [""; 0]);
    only(&spec.replace("resistor \"2k2\"", "resistor \"2q2\""), "value-out-of-range");
    only(&spec.replace("contact \"button\"; ", ""), "zone-without-device");
}

#[test]
fn a_danger_in_a_zone_of_type_twenty_four_hour_is_told_as_an_intrusion() {
    let spec = |senses: &str| {
        format!(
            "part \"sensor\" title=\"Sensor\" senses=\"{senses}\" {{ basis \"sheet\" ref=\"invented\"; contact form=\"NO\" resistance=(ohm)0.2; }}\n"
        ) + &button(1, "board=\"board-a\"", "Lobby")
            .replace("panic-audible", "twenty-four-hour")
            .replace("contact \"button\"", "contact \"sensor\" title=\"Here\"")
    };
    for senses in ["smoke", "heat", "carbon-monoxide", "gas", "water", "temperature", "button"] {
        let finding = only(&spec(senses), "zone-reports-otherwise");
        assert!(
            finding.title.starts_with("zone 1 reports an intrusion at any time, and Here senses"),
            "{}",
            finding.title
        );
    }
    for senses in ["opening", "vibration", "step"] {
        assert_eq!(slugs(&spec(senses)), [""; 0], "{senses}");
    }
    only(&spec("motion"), "zone-type-unlikely");
    // A code of its own that is handled as something else does not hide it; one that is handled as what is sensed does.
    let coded = |senses: &str, code: u32| {
        spec(senses).replace("twenty-four-hour\"", &format!("twenty-four-hour\" event={code}"))
    };
    for code in [133, 154, 301, 130] {
        let finding = only(&coded("smoke", code), "zone-reports-otherwise");
        assert!(finding.title.starts_with(&format!("zone 1 reports code {code} (")), "{}", finding.title);
    }
    only(&coded("smoke", 111), "event-code-of-other-kind");
    assert_eq!(slugs(&coded("water", 154)), [""; 0]);
    assert!(only(&spec("button"), "zone-reports-otherwise").help.contains("\"medical\""));
}

#[test]
fn the_fault_of_a_supply_is_no_burglary() {
    let spec = |kind: &str| {
        format!("power-supply \"barn\" part=\"supply-a\" room=\"lobby\" {{
    battery capacity=(Ah)7 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)40 outlet=\"lobby, no switch\"
}}
area \"house\"
zone 1 \"Barn supply\" type=\"{kind}\" area=\"house\" {{
    loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ fault \"barn\"; resistor \"2k2\"; }}; }}
}}
")
    };
    let told = |kind: &str| slugs(&spec(kind)).contains(&"zone-reports-otherwise");
    for kind in ["perimeter", "interior", "entry-exit", "twenty-four-hour", "panic-silent"] {
        assert!(told(kind), "{kind}: {:?}", slugs(&spec(kind)));
    }
    assert!(!told("trouble") && !told("tamper"), "{:?}", slugs(&spec("trouble")));
}

#[test]
fn an_area_without_a_number_gets_the_first_that_is_free() {
    let areas = |house: &str, garage: &str| {
        let zone = |number: u32, area: &str| {
            format!(
                "zone {number} \"Button {number}\" type=\"panic-audible\" area=\"{area}\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"button\"; resistor \"2k2\"; }}; }}; }}\n"
            )
        };
        format!("area \"house\"{house}\narea \"garage\"{garage}\n{}{}", zone(1, "house"), zone(2, "garage"))
    };
    let numbers = |spec: &str| {
        let note = super::only(spec, "area-number-unwritten");
        note.labels.iter().map(|label| label.text.clone()).collect::<Vec<_>>()
    };
    // The name that comes first has number 2 by its own word.
    assert_eq!(numbers(&areas("", " number=2")), ["now number 1"]);
    assert_eq!(numbers(&areas(" number=1", "")), ["now number 2"]);
    assert_eq!(numbers(&areas("", "")), ["now number 1", "now number 2"]);
}

/// Rooms told by number, by two letters, by a short form or by their level are named; one that is not is told.
#[test]
fn a_description_names_a_room_in_the_words_that_people_use() {
    let spec = |description: &str| {
        format!(
            "level \"top\" title=\"Upper floor\" storey=1 {{
    room \"b1\" title=\"Bedroom 1\" {{ window \"w1\" title=\"Window to the street\" }}
    room \"b2\" title=\"Bedroom 2\" {{ window \"w2\" title=\"Window to the yard\" }}
    room \"wc\" title=\"WC\" {{ window \"w3\" title=\"Small window\" }}
    room \"bath\" title=\"Bathroom\" {{ window \"w4\" title=\"Frosted window\" }}
}}
area \"house\" title=\"House\"
zone 1 \"{description}\" type=\"perimeter\" area=\"house\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"w1\" }}
        run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"w2\" }}
        run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"w3\" }}
        run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"w4\"; resistor \"2k2\" }}
    }}
}}
"
        )
    };
    for named in ["Bedroom 1, Bedroom 2, WC and bath", "Bedrooms 1 and 2, WC, bathroom", "Upper floor"] {
        assert!(!slugs(&spec(named)).contains(&"description-misses-room"), "{named}");
    }
    let missed = found(&spec("Bedroom 1, Bedroom 2 and bath"));
    let told = missed.iter().find(|finding| finding.rule.slug == "description-misses-room").unwrap();
    assert_eq!(told.title, "zone 1 also watches Reed contact, Small window, in WC");
}

/// What is armed with a garage alone is armed while nobody is in it; and a zone with two detectors at one door is one zone.
#[test]
fn inside_detection_of_an_area_that_nobody_lives_in_is_enough() {
    let spec = |kind: &str| {
        let twice = "detector \"motion\" title=\"Left\" supply=\"aux\" on=\"roller\" shares=#true; detector \"motion\" title=\"Right\" supply=\"aux\" on=\"roller\" shares=#true; resistor \"2k2\"";
        format!(
            "level \"ground\" title=\"Ground\" {{ room \"den\" title=\"Den\" kind=\"{kind}\" {{ door \"roller\" title=\"Roller door\" }} }}
area \"house\" title=\"House\" number=1
area \"other\" title=\"Other\" number=2
zone 1 \"Den motion\" type=\"interior\" area=\"other\" {{
    loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"den\" {{ {twice} }} }}
}}
"
        )
    };
    assert!(!slugs(&spec("garage")).contains(&"opening-free-at-home"));
    let told = found(&spec("living"));
    let told = told.iter().find(|finding| finding.rule.slug == "opening-free-at-home").unwrap();
    assert_eq!(told.title, "door `roller` is watched by inside detection alone: zone 1");
}

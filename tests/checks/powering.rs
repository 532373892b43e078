//! What powers and earths a board: its terminals, its leads, the cable to its transformer.

use loopwright::register::{Lead, OnTerminal, Register, keep};

use super::{found, only, slugs};

/// A board with terminals for everything; `more` stands in its part.
fn board(more: &str) -> String {
    format!(
        "part \"fed\" {{
    basis \"sheet\"
    ac-port a=\"AC1\" b=\"AC2\" min=(V)15
    battery-port positive=\"T+\" negative=\"T-\"
    output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(A)1
    draw idle=(mA)150 alarm=(mA)220
    charger current=(mA)400 cut-off=(V)10.5
    {more}
}}
"
    )
}

fn panel(transformer: &str, more: &str) -> String {
    format!(
        "panel \"fed\" part=\"fed\" room=\"lobby\" {{ battery capacity=(Ah)7 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\" {{ {transformer} }}; {more} }}\n"
    )
}

/// What is on the terminals of the board `fed`, by mark.
fn landed(spec: &str) -> Vec<(String, OnTerminal)> {
    let made = crate::packet::sites::site(&format!("{}{spec}", crate::pages::HEADER));
    let wiring = keep(&made.site, &Register::default()).wiring;
    let fed = made.site.boards.entries().find(|(_, board)| board.name.value == "fed").unwrap().0;
    let here = wiring.terminals.into_iter().filter(|((board, _), _)| *board == fed);
    here.flat_map(|((_, mark), things)| things.into_iter().map(move |thing| (mark.clone(), thing))).collect()
}

#[test]
fn leads_are_under_their_screws() {
    let spec = board("earth-terminal \"E\"") + &panel("", "earth size=(AWG)14 to=\"earth bar\"");
    assert_eq!(slugs(&spec), [""; 0]);
    let leads = [
        ("AC1", Lead::AcA),
        ("AC2", Lead::AcB),
        ("E", Lead::Earth),
        ("T+", Lead::BatteryPositive),
        ("T-", Lead::BatteryNegative),
    ];
    assert_eq!(landed(&spec), leads.map(|(mark, lead)| (mark.to_owned(), OnTerminal::Lead(lead))));
}

#[test]
fn the_cable_to_the_transformer_takes_the_place_of_its_leads() {
    let spec = board("") + &panel("run \"pair\" length=(ft)6 room=\"lobby\"", "");
    assert_eq!(slugs(&spec), [""; 0]);
    let landed = landed(&spec);
    let on = |mark: &str| landed.iter().filter(|(at, _)| at == mark).map(|(_, thing)| thing).collect::<Vec<_>>();
    assert!(matches!(on("AC1")[..], [OnTerminal::Conductor(..)]), "{landed:?}");
    assert!(matches!(on("AC2")[..], [OnTerminal::Conductor(..)]), "{landed:?}");
}

/// 0.22 A in alarm and 0.4 A of charger are 0.62 A, so 1 A from the transformer. Two conductors of 22 AWG have 16.14 Ω a
/// thousand feet each, 5.9 % more at 35 °C, and the least that copper may be is allowed for.
#[test]
fn a_long_cable_to_the_transformer_leaves_too_few_volts() {
    let cable = |feet: u32| board("") + &panel(&format!("run \"pair\" length=(ft){feet} room=\"lobby\""), "");
    assert_eq!(slugs(&cable(40)), [""; 0]);
    let finding = only(&cable(48), "transformer-volts-low");
    assert!(finding.title.starts_with("14.") && finding.title.ends_with("and it needs 15 V"), "{}", finding.title);
    assert!(finding.help.contains("ft at most"), "{}", finding.help);
}

/// 0.62 A of direct current are 1 A through the transformer, however long its cable: what that turns to heat is part of
/// 16.5 V times 1 A.
#[test]
fn what_the_cable_turns_to_heat_is_part_of_what_the_transformer_gives() {
    let cable = "run \"pair\" length=(ft)40 room=\"lobby\"";
    let of = |rating: &str| {
        let spec = board("").replace(" min=(V)15", "") + &panel(cable, "");
        found(&spec.replace("rating=(VA)75", rating))
    };
    assert!(of("rating=(VA)17").is_empty());
    let finding = of("rating=(VA)16").remove(0);
    assert_eq!(finding.rule.slug, "transformer-too-small");
    assert!(finding.title.ends_with("has 16 VA and 17 VA are needed"), "{}", finding.title);
}

/// A negative that the battery shares with an output is full with two.
#[test]
fn leads_take_room_under_a_screw() {
    let sounder = "circuit \"one\" board=\"fed\" output=\"aux\" { run \"pair\" length=(ft)9 room=\"lobby\" { sounder \"sounder\"; }; }\n";
    let spec = |wires: u32| {
        board(&format!("screw wires={wires}")).replace("negative=\"T-\"", "negative=\"A-\"") + &panel("", "") + sounder
    };
    let overfull = |wires| found(&spec(wires)).into_iter().find(|finding| finding.rule.slug == "terminal-overfull");
    assert!(overfull(2).is_none());
    let finding = overfull(1).unwrap();
    assert_eq!(finding.title, "terminal `A-` of panel `fed` takes 1 conductor and gets 2");
    assert_eq!(finding.figures, ["`A-`: `ONE-1` RD, battery lead (battery −)"]);
}

#[test]
fn an_earth_conductor_wants_a_terminal_that_is_there() {
    only(&(board("") + &panel("", "earth size=(AWG)14 to=\"bar\"")), "part-lacks-connection");
    let finding = only(&(board("") + &panel("", "earth size=(AWG)14 to=\"bar\" terminal=\"AC3\"")), "unknown-name");
    assert!(finding.title.contains("AC3"), "{}", finding.title);
    only(&(board("") + &panel("", "earth size=(AWG)14 to=\"bar\" terminal=\"AC1\"")), "earth-on-signal");
    // Some boards join the negative to the earth: that is their sheet's business.
    assert_eq!(slugs(&(board("") + &panel("", "earth size=(AWG)14 to=\"bar\" terminal=\"A-\""))), [""; 0]);
}

#[test]
fn the_schedule_never_calls_a_screw_free_that_the_spec_does_not_speak_of() {
    let spec = board(
        "terminals \"AC1\" \"AC2\" \"T+\" \"T-\" \"E\" \"LID\" \"A+\" \"A-\"; earth-terminal \"E\"; terminal \"LID\" for=\"cover switch\"",
    ) + &panel("", "");
    assert_eq!(slugs(&spec), [""; 0]);
    let made = crate::packet::sites::site(&format!("{}{spec}", crate::pages::HEADER));
    let sheet = crate::packet::sites::schedule(&made);
    for row in
        ["| **E** | *not in the spec* |  | *earth* |  |", "| **LID** | *not in the spec* |  | *cover switch* |  |"]
    {
        assert!(sheet.contains(row), "{row}: {sheet}");
    }
    assert!(sheet.contains("| **A+** | *free* |"), "{sheet}");
}

/// The order of the board's sheet is on every sheet that speaks of switching on and off.
#[test]
fn the_order_at_power_up_is_the_sheets() {
    let sheets = |connect: &str| {
        let spec = board("").replace("negative=\"T-\"", &format!("negative=\"T-\"{connect}")) + &panel("", "");
        let header = crate::pages::HEADER.split("panel").next().unwrap().to_owned();
        let made = crate::packet::sites::site(&(header + &spec));
        ["terminal-schedule", "safety-notes", "commissioning-sheet", "bus-sheet"]
            .map(|name| crate::packet::sites::markdown(&made, name))
    };
    const LAST: &str = "take one lead off the battery and cap it, then unplug the transformer";
    const FIRST: &str = "of its outlet, then take one lead off the battery and cap it";
    for (connect, off, other) in
        [("", LAST, FIRST), (" connect=\"last\"", LAST, FIRST), (" connect=\"first\"", FIRST, LAST)]
    {
        for sheet in sheets(connect) {
            assert!(sheet.contains(off) && !sheet.contains(other), "{connect}: {sheet}");
        }
    }
    assert!(sheets("")[0].contains("common practice; the board's sheet prevails"));
    assert!(sheets(" connect=\"first\"")[0].contains("(by the board's sheet)"));
}

/// At so many feet the cable would lose more volts than the transformer has.
#[test]
fn where_nothing_reaches_a_board_no_volts_below_zero_are_told() {
    let long = board("") + &panel("run \"pair\" length=(ft)600 room=\"lobby\"", "");
    let finding = only(&long, "transformer-volts-low");
    assert_eq!(finding.title, "nothing reaches panel `fed` from its transformer, and it needs 15 V");
    assert!(finding.labels.iter().any(|label| label.text.starts_with("would lose ")), "{finding:?}");
}

#[test]
fn a_detector_with_two_supplies_is_one_finding() {
    let supply = "part \"strong\" { basis \"sheet\"; output \"out\" positive=\"1+\" negative=\"1-\" volts=(V)27.6 limit=(A)1; draw idle=(mA)25; charger current=(mA)400 cut-off=(V)21; }
part \"beam\" senses=\"motion\" { basis \"sheet\"; supply min=(V)19 max=(V)30 idle=(mA)60; contact form=\"NC\" resistance=(ohm)1; }
power-supply \"strong\" part=\"strong\" room=\"lobby\" { battery capacity=(Ah)7 count=2 wired=\"series\" installed=\"2027-01-01\"; }
";
    let spec = |supply_here: &str, feed: &str| {
        format!(
            "{supply}zone 1 \"Beam\" type=\"interior\" {{ loop \"end-of-line\" board=\"board-a\" {{
    run \"quad\" length=(ft)20 room=\"lobby\" name=\"shared\" {{ detector \"beam\" name=\"beam\" {supply_here}; resistor \"2k2\" }}
}} }}
circuit \"feed\" board=\"strong\" output=\"out\" {{ run \"quad\" length=(ft)20 along=\"shared\" {{ {feed} }} }}
"
        )
    };
    only(&spec("supply=\"aux\"", "feed \"beam\""), "detector-supplied-twice");
    assert_eq!(slugs(&spec("", "feed \"beam\"")), [""; 0]);
}

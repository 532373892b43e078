//! Battery, charger, transformer and path of alder-mill, made to fail one at a time.

use loopwright::resolve::load::MemoryFiles;
use loopwright::session;

use crate::alder_mill::AlderMill;

const BOARDS: &str = "boards.kdl";
const BATTERY: &str = "battery capacity=(Ah)18";

/// Every finding about the battery shows the sum; this is the sum by hand, from the sheets of the parts:
/// board 90; keypads 2 × 20, receiver 20, adapter 35, expanders 12 and 14; motion 8 × 5, glass 3 × 8, carbon monoxide
/// 2 × 5, water 2, smoke 7 × 0.1, supply relays 2 × 10, the network switch 70, the porch lamp 15: 392.7 mA. In
/// alarm 160; 120, 25, 80, 15, 18; 96, 60, 60, 12; 210, 20; switch 70, porch lamp 15, lamp relay 45; sounders 600: 1.606 A.
#[test]
fn a_smaller_battery_is_short_and_the_help_is_enough() {
    let small = AlderMill::new().edited(BOARDS, BATTERY, "battery capacity=(Ah)7");
    let finding = small.only("battery-short");
    assert!(finding.title.contains("has 7 Ah and the profile asks for 11.92 Ah"), "{}", finding.title);
    // Not 12 Ah, which are enough while they are new and warm.
    let bought = finding.help.split("old and cold: ").nth(1).unwrap();
    let once = AlderMill::new().edited(BOARDS, BATTERY, bought);
    assert!(once.new_findings().is_empty(), "{bought}: {:#?}", once.new_findings());
    assert_eq!(
        finding.figures[..6],
        [
            "the board itself: 90 mA at rest, 160 mA in alarm",
            "output `aux`: 161 mA at rest, 358 mA in alarm",
            "output `fire`: 20.7 mA at rest, 230 mA in alarm",
            "output `siren`: 0 mA at rest, 600 mA in alarm",
            "bus port `bus`: 121 mA at rest, 258 mA in alarm",
            "392.7 mA × 24 h + 1.606 A × 4 min = 9.5 Ah; × 1.25 = 11.92 Ah",
        ]
    );

    let remedied = AlderMill::new().edited(BOARDS, BATTERY, "battery capacity=(Ah)12");
    let note = remedied.only("battery-without-reserve");
    let advised = note.help.split("battery ").nth(1).unwrap().split(';').next().unwrap();
    let reserve = AlderMill::new().edited(BOARDS, BATTERY, &format!("battery {advised}"));
    assert!(reserve.new_findings().is_empty(), "{:#?}", reserve.new_findings());
}

#[test]
fn two_batteries_side_by_side_count_together() {
    let two = AlderMill::new().edited(BOARDS, BATTERY, "battery count=2 wired=\"parallel\" capacity=(Ah)7");
    assert!(two.new_findings().iter().all(|finding| finding.rule.slug == "battery-without-reserve"));
    let one = AlderMill::new().edited(BOARDS, BATTERY, "battery count=1 capacity=(Ah)7");
    one.only("battery-short");
}

/// 26 Ah at 0.6 A: 26 × 1.2 ÷ 0.6 = 52 h, and UL 985 leaves 48 (from memory).
#[test]
fn a_large_battery_outgrows_the_charger() {
    let large = AlderMill::new().edited(BOARDS, BATTERY, "battery capacity=(Ah)26");
    let finding = large.only("battery-not-recharged");
    assert!(finding.title.contains("needs at least 52.0 h"), "{}", finding.title);
    assert!(finding.help.contains("may have 24.0 Ah at most"), "{}", finding.help);
    let remedied = AlderMill::new().edited(BOARDS, BATTERY, "battery capacity=(Ah)24");
    assert!(remedied.new_findings().is_empty());
}

#[test]
fn a_small_transformer_is_told_what_would_do() {
    let small = AlderMill::new().edited(BOARDS, "rating=(VA)60", "rating=(VA)40");
    let finding = small.only("transformer-too-small");
    let needed = finding.help.split("at least ").nth(1).unwrap().split(' ').next().unwrap().to_owned();
    let remedied = AlderMill::new().edited(BOARDS, "rating=(VA)60", &format!("rating=(VA){needed}"));
    assert!(remedied.new_findings().is_empty(), "{needed}");
}

#[test]
fn a_switched_outlet_and_a_missing_battery_are_found() {
    let switched = AlderMill::new().edited(BOARDS, "rating=(VA)60", "rating=(VA)60 switched=#true");
    switched.only("transformer-switched");
    let without = AlderMill::new().edited(
        BOARDS,
        "battery capacity=(Ah)18 installed=\"2027-03-14\" fuse=(A)3 positive=\"RD\" negative=\"BK\"",
        "",
    );
    without.only("battery-missing");
}

#[test]
fn a_router_without_backup_is_found_and_a_hop_on_the_panel_is_counted() {
    const ROUTER: &str = "hop \"router\" backup=(h)24";
    let bare = AlderMill::new().edited("communication.kdl", ROUTER, "hop \"router\"");
    let finding = bare.only("path-without-backup");
    assert!(finding.figures.iter().any(|figure| figure == "communicator `line`: nothing known that would stop it"));
    let fed = AlderMill::new().edited("communication.kdl", ROUTER, "hop \"router\" output=\"aux\"");
    let slugs: Vec<&str> = fed.new_findings().iter().map(|finding| finding.rule.slug).collect();
    assert_eq!(slugs, ["consumption-unknown", "hop-cable-missing"]);
    // 0.5 A more for 24 h is 12 Ah more, and 18 Ah no longer do.
    let counted = AlderMill::new().edited("communication.kdl", ROUTER, "hop \"router\" output=\"aux\" draw=(mA)500");
    let slugs: Vec<&str> = counted.new_findings().iter().map(|finding| finding.rule.slug).collect();
    assert!(slugs.contains(&"battery-short"), "{slugs:?}");
}

/// 9.53 Ah: with the factor of NFPA 72 to 2019 (1.20) 11.4 Ah, from 2022 on (1.25) 11.9 Ah.
#[test]
fn the_factor_follows_the_edition() {
    let small = AlderMill::new().edited(BOARDS, BATTERY, "battery capacity=(Ah)7");
    let earlier = small.edited("site.kdl", "profile \"us-household\"", "profile \"us-household\" edition=2019");
    let finding = earlier.only("battery-short");
    assert!(finding.title.ends_with("the profile asks for 11.44 Ah"), "{}", finding.title);
}

/// NFPA 720, 2015 edition (facts as summarised there): 24 h for a household with carbon monoxide detectors, where UL 1023
/// asks 4 h of a burglar alarm. The factor is borrowed from the edition that the site names.
#[test]
fn detectors_ask_for_their_hours_whatever_the_type_of_their_zone() {
    let found = |sense: &str, edition: u32| {
        let site = format!(
            "site \"co\" {{ revision \"A\" date=\"2027-01-01\"; profile \"us-household\" edition={edition}; }}
include \"../parts/example.kdl\"
level \"base\" {{ room \"hall\" title=\"Hall\"; }}
part \"sniffer\" senses=\"{sense}\" {{ basis \"sheet\"; supply min=(V)9 max=(V)16 idle=(mA)5; contact form=\"NO\"; }}
panel \"main\" part=\"control-a\" room=\"hall\" {{
    battery capacity=(Ah)0.3 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)75 outlet=\"hall\"
}}
area \"all\"
zone 1 \"Hall\" type=\"twenty-four-hour\" area=\"all\" {{
    loop \"end-of-line\" board=\"main\" {{ run \"quad\" length=(ft)30 room=\"hall\" {{ detector \"sniffer\" supply=\"aux\"; resistor \"2k2\"; }}; }}
}}
zone 2 \"Later\" type=\"smoke\" area=\"all\" reserved=#true
"
        );
        let parts = include_bytes!("../pages/example.kdl").to_vec();
        let files = [("site.kdl".to_owned(), site.into_bytes()), ("../parts/example.kdl".to_owned(), parts)];
        let found = session::check(&MemoryFiles(files.into())).diagnostics;
        let short: Vec<_> = found.into_iter().filter(|found| found.rule.slug == "battery-short").collect();
        assert_eq!(short.len(), 1, "{sense}");
        format!("{} {}", short[0].paragraph, short[0].figures.join("; "))
    };
    let now = found("carbon-monoxide", 2022);
    assert!(now.contains("24 h at rest") && now.contains("NFPA 720, 2015 edition") && now.contains("× 1.25"), "{now}");
    let earlier = found("carbon-monoxide", 2019);
    assert!(earlier.contains("24 h at rest") && earlier.contains("× 1.2 =") && !earlier.contains("2022"), "{earlier}");
    // A detector of smoke or heat is one of fire, whatever the type of its zone; a zone that is kept for later is none.
    for sense in ["smoke", "heat"] {
        let fire = found(sense, 2022);
        assert!(fire.contains("24 h at rest") && !fire.contains("UL 1023"), "{fire}");
    }
    let burglary = found("motion", 2022);
    assert!(burglary.contains("for 4 h at rest") && burglary.contains("UL 1023"), "{burglary}");
}

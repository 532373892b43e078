//! Where detectors of smoke and carbon monoxide are missing or do not belong.
//!
//! The places are those that NFPA 72 chapter 29 and IRC R314.3 and R315.3 name, as they are quoted in handouts of building
//! departments; editions differ.

use loopwright::diag::Diagnostic;

use super::{found, found_under};

/// The slugs of what is found in a site.
fn findings(site: &str) -> Vec<&'static str> {
    found_under("", site).iter().map(|finding| finding.rule.slug).collect()
}

/// The one finding of a site.
fn only(site: &str, slug: &str) -> Diagnostic {
    let mut found = found_under("", site);
    assert_eq!(found.iter().map(|finding| finding.rule.slug).collect::<Vec<_>>(), [slug], "{found:#?}");
    found.remove(0)
}

const FIRE_CABLE: &str = "cable \"fire-4\" conductors=4 size=(AWG)18 jacket=\"FPLR\" {
    conductor \"RD\" for=\"supply+\"
    conductor \"BK\" for=\"supply-\"
    conductor \"GN\" for=\"loop\"
    conductor \"WH\" for=\"loop\"
}
";

/// A house of some rooms with smoke detectors in some of them, each with what stands in its braces.
fn house(rooms: &str, smoke: &[(&str, &str)]) -> String {
    let last = smoke.len() - 1;
    let runs: String = smoke
        .iter()
        .enumerate()
        .map(|(at, (room, inside))| {
            let end = if at == last { "detector \"watch\" supply=\"fire\"; resistor \"2k2\"" } else { "" };
            format!("run \"fire-4\" length=(ft)90 room=\"{room}\" {{ detector \"smoke\" supply=\"fire\" {inside}; {end} }}\n")
        })
        .collect();
    format!(
        "site \"example\" {{ revision \"A\" date=\"2027-01-01\"; profile \"us-household\"; }}
include \"../parts/example.kdl\"
level \"base\" title=\"Base\" {{ {rooms} }}
panel \"board-a\" part=\"control-a\" room=\"lobby\" {{
    battery capacity=(Ah)12 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby, no switch\"
}}
area \"house\" number=1
{FIRE_CABLE}
zone 1 \"Smoke\" type=\"smoke\" area=\"house\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        {runs}
    }}
}}
"
    )
}

const LOBBY: &str = "room \"lobby\" kind=\"hall\" { rect (ft)0 (ft)0 (ft)10 (ft)10; }";

fn bedroom(name: &str, x: u32) -> String {
    format!("room \"{name}\" kind=\"bedroom\" {{ rect (ft){x} (ft)0 (ft)10 (ft)10; }}\n")
}

/// 21 ft from wall to wall is near enough, 22 ft is not; without measures nothing is concluded.
#[test]
fn a_detector_outside_the_bedrooms_is_near_enough_or_not() {
    let with = |x: u32| house(&format!("{LOBBY}\n{}", bedroom("far", x)), &[("lobby", ""), ("far", "")]);
    assert_eq!(findings(&with(31)), [""; 0]);
    let far = only(&with(32), "smoke-detector-missing");
    assert_eq!(far.title, "no smoke detector outside the bedrooms of level `base`: `far`");
    assert_eq!(findings(&with(32).replace(" rect (ft)32 (ft)0 (ft)10 (ft)10;", "")), [""; 0]);
}

/// Outside the bedrooms is where people live, and a detector hangs at its spot.
#[test]
fn a_detector_in_a_workshop_or_at_a_far_spot_is_not_outside_the_bedrooms() {
    let rooms = format!("{LOBBY}\n{}", bedroom("near", 10));
    let spec = |inside| house(&rooms, &[("lobby", inside), ("near", "")]);
    assert_eq!(findings(&spec("")), [""; 0]);
    only(&spec("").replace("kind=\"hall\"", "kind=\"workshop\""), "smoke-detector-missing");
    let long = |spot: &str| {
        let rooms =
            "room \"lobby\" kind=\"hall\" { rect (ft)0 (ft)0 (ft)60 (ft)10; }\n".to_owned() + &bedroom("near", 60);
        house(&rooms, &[("lobby", &format!("{{ spot (ft){spot} (ft)5; }}")), ("near", "")])
    };
    assert_eq!(findings(&long("40")), [""; 0]);
    only(&long("30"), "smoke-detector-missing");
}

/// One hall detector too few is one finding, however many bedrooms it is for.
#[test]
fn one_missing_detector_is_one_finding() {
    let rooms = format!("{LOBBY}\n{}{}", bedroom("one", 10), bedroom("two", 20));
    let finding = only(&house(&rooms, &[("one", ""), ("two", "")]), "smoke-detector-missing");
    assert_eq!(finding.title, "no smoke detector outside the bedrooms of level `base`: `one` and `two`");
    assert_eq!(finding.labels.len(), 3);
}

#[test]
fn each_unsuited_place_is_told_once_and_counts_for_nothing() {
    for kind in ["attic", "garage", "crawlspace", "kitchen", "bathroom", "outdoors"] {
        let rooms = format!("{LOBBY}\nroom \"other\" kind=\"{kind}\"");
        let told = findings(&house(&rooms, &[("lobby", ""), ("other", "")]));
        let smoke: Vec<&&str> = told.iter().filter(|slug| slug.starts_with("smoke")).collect();
        assert_eq!(smoke, [&"smoke-detector-unsuited"], "{kind}: {told:?}");
    }
    for kind in ["living", "utility", "workshop", "stair", "cellar"] {
        let rooms = format!("{LOBBY}\nroom \"other\" kind=\"{kind}\"");
        assert_eq!(findings(&house(&rooms, &[("lobby", ""), ("other", "")])), [""; 0], "{kind}");
    }
}

/// 3 ft from a bathroom's door (IRC R314.3), 36 in from a register or a fan, 21 ft to a bedroom's door (NFPA 72 chapter
/// 29, quoted); 10 ft from cooking (editions before 2019, from memory); 12 in below the ceiling (common practice).
#[test]
fn each_distance_is_judged_at_its_row() {
    for (what, good, bad) in [
        ("bathroom-door", "3", "2.9"),
        ("supply-register", "3", "2.9"),
        ("fan", "3", "2.9"),
        ("cooking", "10", "9.9"),
        ("bedroom-door", "21", "21.1"),
        ("ceiling", "1", "1.1"),
    ] {
        let with = |feet: &str| house(LOBBY, &[("lobby", &format!("{{ near \"{what}\" (ft){feet}; }}"))]);
        assert_eq!(findings(&with(good)), [""; 0], "{what}");
        only(&with(bad), "smoke-detector-distance");
    }
}

/// What starts the entry delay is called what it is.
#[test]
fn the_opening_that_leads_to_a_panel_has_its_noun() {
    for noun in ["door", "window", "hatch"] {
        let spec = format!(
            "level \"low\" title=\"Low\" {{ room \"porch\" title=\"Porch\" {{ {noun} \"way-in\" title=\"Way in\"; }}; }}\narea \"house\" entry=(s)30 exit=(s)60 abort=(s)30\nzone 1 \"Porch\" type=\"entry-exit\" area=\"house\" {{ loop \"end-of-line\" board=\"board-b\" {{ run \"pair\" length=(ft)9 {{ contact \"reed\" on=\"way-in\"; resistor \"2k2\"; }}; }}; }}\npanel \"board-b\" part=\"control-a\" room=\"porch\" {{ battery capacity=(Ah)12; transformer volts=(V)16.5 rating=(VA)75; }}\n"
        );
        let found = found(&spec);
        let finding = found.iter().find(|finding| finding.rule.slug == "panel-in-reach").unwrap();
        assert!(finding.title.contains(&format!("a {noun} with an entry delay")), "{}", finding.title);
    }
}

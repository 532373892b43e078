//! The times of the demos' areas and their sounders: what is written wrong on purpose gives one finding, and following its
//! help takes it away.

use loopwright::resolve::load::MemoryFiles;
use loopwright::session::{self, Outcome};

use crate::demos;

/// A demo with replacements in its texts, each of which must be there.
fn with(demo: &str, changes: &[(&str, &str)]) -> Outcome {
    let mut files = demos::texts(demo);
    for (old, new) in changes {
        let (_, text) = files.iter_mut().find(|(_, text)| text.contains(old)).unwrap_or_else(|| panic!("no {old}"));
        *text = text.replacen(old, new, 1);
    }
    session::check(&MemoryFiles(files.into_iter().map(|(name, text)| (name, text.into_bytes())).collect()))
}

/// What a change gives that was not there before: rule and help.
fn new_findings(demo: &str, changes: &[(&str, &str)]) -> Vec<(&'static str, String)> {
    let told = |outcome: Outcome| -> Vec<(&'static str, String, String)> {
        let found = outcome.diagnostics.into_iter().filter(|found| found.accepted.is_none());
        found.map(|found| (found.rule.slug, found.title, found.help)).collect()
    };
    let before = told(with(demo, &[]));
    let after = told(with(demo, changes)).into_iter();
    after.filter(|found| !before.contains(found)).map(|(slug, _, help)| (slug, help)).collect()
}

const HOUSES: [(&str, &str); 2] = [
    ("alder-mill", "area \"house\" title=\"House\" number=1 entry=(s)30 exit=(s)60 abort=(s)20"),
    ("larch-bungalow", "area \"house\" title=\"House\" number=1 entry=(s)30 exit=(s)60 abort=(s)30"),
];

/// The words behind "Write " in a help, up to the first comma.
fn written(help: &str) -> &str {
    help.strip_prefix("Write ").unwrap().split(',').next().unwrap()
}

#[test]
fn a_delay_set_wrong_is_one_finding_whose_help_takes_it_away() {
    for (demo, area) in HOUSES {
        for (old, wrong, slug) in [
            ("entry=(s)30", "entry=(s)200", "entry-and-abort-long"),
            ("entry=(s)30", "entry=(s)0", "delay-outside-range"),
            ("entry=(s)30", "entry=(h)1", "delay-outside-range"),
            ("exit=(s)60", "exit=(s)0", "delay-outside-range"),
            ("exit=(s)60", "exit=(h)1", "delay-outside-range"),
            ("abort=(s)", "abort=(min)", "delay-outside-range"),
        ] {
            let broken = area.replacen(old, wrong, 1);
            let found = new_findings(demo, &[(area, &broken)]);
            let [(told, help)] = found.as_slice() else { panic!("{demo}, {wrong}: {found:?}") };
            assert_eq!(*told, slug, "{demo}, {wrong}");
            // The help names each property with its value: put them in place of what stands there.
            let mut cured = broken;
            for property in written(help).split(' ') {
                let name = property.split('=').next().unwrap();
                let start = cured.find(&format!(" {name}=")).unwrap() + 1;
                let end = cured[start..].find(' ').map_or(cured.len(), |length| start + length);
                cured.replace_range(start..end, property);
            }
            assert_eq!(new_findings(demo, &[(area, &cured)]), [], "{demo}, {wrong}: {help} gave {cured}");
        }
    }
}

#[test]
fn a_sounder_that_is_far_from_a_bedroom_is_one_finding() {
    for (demo, near, far, back) in [
        (
            "larch-bungalow",
            "length=(ft)46 room=\"passage\"",
            "length=(ft)38 room=\"hall\"",
            "length=(ft)46 room=\"child\"",
        ),
        (
            "alder-mill",
            "length=(ft)36 room=\"landing\"",
            "length=(ft)36 room=\"stone-floor\"",
            "length=(ft)36 room=\"landing\"",
        ),
    ] {
        let found: Vec<_> = new_findings(demo, &[(near, far)]);
        let heard = found.iter().filter(|(slug, _)| *slug == "bedroom-not-heard").count();
        assert_eq!(heard, 1, "{demo}: {found:?}");
        assert!(new_findings(demo, &[(near, back)]).iter().all(|(slug, _)| *slug != "bedroom-not-heard"), "{demo}");
    }
}

#[test]
fn a_detector_on_the_way_in_that_does_not_wait_is_one_finding() {
    for zone in [
        "zone 2 \"Hall motion\" type=\"interior\" area=\"house\"",
        "zone 31 \"Workshop motion\" type=\"interior\" area=\"workshop\"",
    ] {
        let found = new_findings("alder-mill", &[(&format!("{zone} follows=#true"), zone)]);
        assert!(matches!(found.as_slice(), [("zone-alarms-on-way-in", _)]), "{found:?}");
    }
}

#[test]
fn the_longest_way_decides_whether_a_delay_is_long_enough() {
    let walk = "walk \"back-door\" to=\"hall-keypad\" length=(ft)52";
    let found = new_findings("alder-mill", &[(walk, &walk.replace("52", "90"))]);
    let [("entry-shorter-than-walk", help)] = found.as_slice() else { panic!("{found:?}") };
    // 90 ft at 3 ft/s are 30 s, and 10 s for door and keys.
    assert!(help.starts_with("Write entry=(s)40, "), "{help}");
    let (_, area) = HOUSES[0];
    let cured = area.replace("entry=(s)30", "entry=(s)40");
    assert_eq!(new_findings("alder-mill", &[(walk, &walk.replace("52", "90")), (area, &cured)]), []);
}

/// A door's zone without area= arms with the only area there is: that it is not written is the one finding.
#[test]
fn the_only_area_has_the_doors_that_name_none() {
    let zone = "zone 1 \"Front door\" type=\"entry-exit\" area=\"flat\"";
    let found = new_findings("garden-flat", &[(zone, &zone.replace(" area=\"flat\"", ""))]);
    assert!(matches!(found.as_slice(), [("area-missing", _)]), "{found:?}");
    let both = [zone.to_owned(), zone.replace("1 \"Front", "2 \"Garden")];
    let none = both.each_ref().map(|zone| (zone.as_str(), zone.replace(" area=\"flat\"", "")));
    let none = none.each_ref().map(|(zone, without)| (*zone, without.as_str()));
    let found = new_findings("garden-flat", &none);
    assert!(found.iter().all(|(slug, _)| *slug == "area-missing"), "{found:?}");
}

#[test]
fn an_area_that_nobody_can_enter_is_one_finding() {
    let doors = [
        (
            "zone 1 \"Doors and front windows\" type=\"entry-exit\"",
            "zone 1 \"Doors and front windows\" type=\"perimeter\"",
        ),
        // Nothing is left then that this accepts.
        ("accept \"zone-type-unlikely\"", "// accept \"zone-type-unlikely\""),
        ("zone 5 \"Cellar door\" type=\"entry-exit\"", "zone 5 \"Cellar door\" type=\"perimeter\""),
    ];
    let found = new_findings("larch-bungalow", &doors);
    assert!(matches!(found.as_slice(), [("area-not-enterable", _)]), "{found:?}");
    // One door with a delay is enough.
    assert!(new_findings("larch-bungalow", &doors[..2]).iter().all(|(slug, _)| *slug != "area-not-enterable"));
}

/// How many findings of a rule a change of the mill gives.
fn count(slug: &str, changes: &[(&str, &str)]) -> usize {
    new_findings("alder-mill", changes).iter().filter(|(told, _)| *told == slug).count()
}

#[test]
fn a_house_without_a_sounder_is_one_finding() {
    for demo in ["alder-mill", "larch-bungalow"] {
        let file = if demo == "alder-mill" { "power.kdl" } else { "circuits.kdl" };
        let text = demos::texts(demo)[file].clone();
        let start = text.find("circuit \"sounders\"").unwrap();
        let end = start + text[start..].find("\n}\n").unwrap() + 3;
        let found = new_findings(demo, &[(&text[start..end], "")]);
        let told = found.iter().filter(|(slug, _)| *slug == "alarm-without-sounder").count();
        assert_eq!(told, 1, "{demo}: {found:?}");
    }
}

#[test]
fn a_way_that_is_written_twice_or_cannot_be_walked_is_one_finding() {
    let walk = "walk \"front-door\" to=\"hall-keypad\" time=(s)8";
    for wrong in [format!("{walk}\n    {}", walk.replace("(s)8", "(s)4")), walk.replace("(s)8", "(s)4 length=(m)100")] {
        let found = new_findings("alder-mill", &[(walk, &wrong)]);
        assert!(matches!(found.as_slice(), [("walk-contradiction", _)]), "{wrong}: {found:?}");
    }
    // No exit delay is long enough: only a nearer keypad helps.
    let found = new_findings("alder-mill", &[(walk, &walk.replace("(s)8", "(s)400"))]);
    let told = found.iter().find(|(slug, _)| *slug == "exit-shorter-than-walk");
    assert!(told.is_some_and(|(_, help)| help.starts_with("Put a keypad nearer")), "{found:?}");
}

#[test]
fn cross_zones_that_are_written_wrong_are_one_finding() {
    let group = "cross-zones 35 46 window=(min)2";
    for wrong in [
        "cross-zones 35 46".to_owned(),
        "cross-zones 35 46 window=(ms)1".to_owned(),
        "cross-zones 35 46 window=(year)1".to_owned(),
        format!("{group}\n    {group}"),
    ] {
        let found = new_findings("alder-mill", &[(group, &wrong)]);
        assert!(matches!(found.as_slice(), [("cross-zones-unfit", _)]), "{wrong}: {found:?}");
    }
}

#[test]
fn a_plan_that_cannot_be_is_one_finding() {
    let door = "door \"front-door\" title=\"Front door\" wall=\"south\" at=(ft)3";
    assert_eq!(count("opening-outside-wall", &[(door, &door.replace("(ft)3", "(ft)300"))]), 1);
    let kitchen = "rect (ft)28 (ft)6 (ft)20 (ft)16";
    assert_eq!(count("rooms-overlap", &[(kitchen, &kitchen.replace("(ft)28", "(ft)24"))]), 1);
    assert_eq!(count("room-too-large", &[(kitchen, &kitchen.replace("(ft)20", "(m)1000000000"))]), 1);
}

#[test]
fn an_entry_delay_that_is_too_long_alone_is_said_without_an_abort_window_too() {
    let (_, area) = HOUSES[0];
    let broken = area.replace("entry=(s)30", "entry=(s)61").replace(" abort=(s)20", "");
    let found = new_findings("alder-mill", &[(area, &broken)]);
    assert_eq!(found.iter().filter(|(slug, _)| *slug == "entry-and-abort-long").count(), 1, "{found:?}");
}

//! Bundles and holes: what is pulled together stands together, with a hole that fits, and nothing is guessed.

use loopwright::compiled::Compiled;
use loopwright::views::DOCUMENTS;

use super::sites::{FULL, full_site, markdown, site};
use crate::pages::HEADER;

fn rows(site: &Compiled, name: &str) -> Vec<Vec<String>> {
    let document = DOCUMENTS.iter().find(|document| document.name == name).unwrap();
    document.table.unwrap()(site).rows
}

const HOUSE: &str = "level \"up\" storey=1 { room \"den\" title=\"Den\"; room \"loft\" title=\"Loft\"; }
cable \"thick\" title=\"Thick\" conductors=2 size=(AWG)22 diameter=(in)0.16
cable \"unknown\" title=\"Unknown\" conductors=2 size=(AWG)22
";

fn cables(count: usize, words: &str) -> String {
    let one = |nth| format!("spare-cable \"s{nth}\" board=\"board-a\" {{ run \"thick\" length=(ft)20 {words} }}\n");
    (1..=count).map(one).collect()
}

#[test]
fn cables_of_one_way_have_one_hole_until_it_is_too_wide() {
    let row = |count: usize, words: &str| {
        let made = site(&format!("{HEADER}{HOUSE}{}", cables(count, words)));
        let mut rows = rows(&made, "bundles");
        assert_eq!(rows.len(), 1, "{rows:?}");
        let row = rows.remove(0);
        [row[1].clone(), row[2].clone(), row[4].clone(), row[5].clone(), row[6].clone(), row[7].clone()]
    };
    let studs = "room=\"den\" passes=\"stud\" route=\"Up the wall, then left\"";
    let way = "Up the wall";
    assert_eq!(row(1, studs), [way, "stud", "1", "0.16 in", "1/4 in", "7 % of a 2×4 stud"]);
    assert_eq!(row(4, studs), [way, "stud", "4", "0.40 in", "1/2 in", "14 % of a 2×4 stud"]);
    assert_eq!(row(17, studs), [way, "stud", "17", "0.82 in", "2 × 3/4 in", "21 % of a 2×4 stud"]);
    // A joist has room for one hole, and so has whatever is no timber.
    let joists = "room=\"den\" passes=\"joist\"";
    assert_eq!(row(17, joists), ["to Den", "joist", "17", "0.82 in", "1 1/8 in", "16 % of a 2×8 joist"]);
    assert_eq!(row(17, "room=\"den\""), ["to Den", "", "17", "0.82 in", "1 1/8 in", ""]);
}

#[test]
fn without_a_diameter_nothing_is_computed() {
    let mixed = "spare-cable \"u\" board=\"board-a\" { run \"unknown\" length=(ft)20 room=\"den\" passes=\"stud\" }\n";
    let made = site(&format!("{HEADER}{HOUSE}{}{mixed}", cables(2, "room=\"den\" passes=\"stud\"")));
    let row = rows(&made, "bundles").remove(0);
    assert_eq!(row[4..], ["3", "no diameter", "", ""].map(str::to_owned));
    let sheet = markdown(&made, "bundles");
    assert!(sheet.contains("Nothing is computed where a cable has no diameter in the spec: Unknown."), "{sheet}");
    assert!(sheet.contains("| Thick | 0.16 in |"), "{sheet}");
}

#[test]
fn what_was_there_or_stays_in_its_room_needs_no_hole() {
    let words = "room=\"den\" passes=\"stud\" existing=#true";
    assert_eq!(rows(&site(&format!("{HEADER}{HOUSE}{}", cables(1, words))), "bundles").len(), 0);
    let made = site(&format!("{HEADER}{HOUSE}{}", cables(2, "room=\"lobby\" route=\"along the wall\"")));
    assert_eq!(rows(&made, "bundles").len(), 0);
    assert!(markdown(&made, "bundles").contains("No cable of the spec passes from one room to another."));
}

/// The label list says what is pulled together; here it goes through one hole.
#[test]
fn the_label_list_and_the_bundles_say_the_same() {
    let routes = FULL.replace("passes=\"riser\"", "passes=\"riser\" route=\"up the shaft, on\"");
    for made in [full_site(), site(&routes)] {
        let bundles = rows(&made, "bundles");
        let labels = |row: &[String]| -> Vec<String> {
            let kinds = row[3].split("; ").map(|kind| kind.split_once(": ").unwrap().1);
            kinds.flat_map(|labels| labels.split(", ").map(str::to_owned).collect::<Vec<_>>()).collect()
        };
        let mut seen: Vec<String> = Vec::new();
        for row in rows(&made, "wire-labels").iter().filter(|row| ["in use", "spare"].contains(&row[10].as_str())) {
            let mine: Vec<_> = bundles.iter().filter(|bundle| labels(bundle).contains(&row[0])).collect();
            assert!(mine.len() < 2, "{row:?} is in two bundles");
            let with = row[8].split(';').next().unwrap().strip_prefix("with ").unwrap_or_default();
            let with = with.trim_end_matches(" and more").replace(" and ", ", ");
            for bundle in mine {
                seen.push(row[0].clone());
                for other in with.split(", ").filter(|other| !other.is_empty()) {
                    // One that stays in its room is pulled with it, and needs no hole.
                    let bored = bundles.iter().any(|bundle| labels(bundle).contains(&other.to_owned()));
                    assert!(!bored || labels(bundle).contains(&other.to_owned()), "{row:?} {bundle:?}");
                }
            }
        }
        let all: usize = bundles.iter().map(|bundle| labels(bundle).len()).sum();
        assert!(seen.len() == all && all > 5, "{all}: {seen:?}");
    }
}

/// Two boards of one room, a chain of two links in one, and a conduit.
const TWO_BOARDS: &str = "level \"up\" storey=1 { room \"den\" title=\"Den\"; }
spare-cable \"spare\" board=\"board-a\" { run \"pair\" name=\"spare-cable\" length=(ft)50 room=\"den\"; }
bus \"data\" board=\"board-a\" rate=(baud)9600 {
    run \"bus-cable\" length=(ft)5 room=\"lobby\" { keypad \"low\" title=\"Low keypad\" part=\"keypad-a\" address=1; }
    run \"bus-cable\" length=(ft)40 room=\"den\" { keypad \"high\" title=\"High keypad\" part=\"keypad-a\" address=2; }
    run \"bus-cable\" name=\"last\" length=(ft)60 room=\"lobby\" passes=\"stud\" { keypad \"last\" title=\"Last keypad\" part=\"keypad-a\" address=3; terminator (ohm)120; }
}
zone 1 \"Den\" type=\"perimeter\" {
    loop \"end-of-line\" board=\"board-a\" input=1 {
        run \"pair\" length=(ft)45 room=\"den\" { contact \"reed\" title=\"One\"; }
        run \"pair\" length=(ft)5 room=\"den\" { contact \"reed\" title=\"Two\"; }
        run \"pair\" length=(ft)5 room=\"den\" { contact \"reed\" title=\"Three\"; resistor \"2k2\"; }
    }
}
conduit \"Duct\" inside=(mm)26.6 { holds \"last\" \"spare-cable\"; }
";

#[test]
fn what_is_pulled_together_starts_at_one_place_whatever_board_it_is_of_and_all_sheets_know_it() {
    let made = site(&format!("{HEADER}{TWO_BOARDS}"));
    let notes = |label: &str| rows(&made, "wire-labels").into_iter().find(|row| row[0] == label).unwrap()[8].clone();
    assert_eq!(notes("Z1"), "with SPARE-1 and DATA-2");
    assert_eq!(notes("DATA-2"), "with SPARE-1 and Z1");
    // Links of a chain start at different places.
    assert_eq!([notes("Z1-2"), notes("Z1-3")], ["", ""]);
    let order = markdown(&made, "installation-order");
    let together = "together, to Den: SPARE-1 (with DATA-3 in Duct), Z1 and DATA-2 (from Low keypad)";
    assert!(order.contains(together), "{order}");
    assert_eq!(order.matches("Z1-2 (from One)").count(), 1, "{order}");
    assert_eq!(order.matches("DATA-2 (from").count(), 1, "{order}");
    let bored = rows(&made, "bundles").into_iter().find(|row| row[1] == "to Den").unwrap();
    assert!(bored[4] == "3" && bored[3].contains("DATA-2"), "{bored:?}");
}

#[test]
fn a_conduit_is_named_where_its_cables_are_pulled() {
    let made = site(&format!("{HEADER}{TWO_BOARDS}"));
    let row = |label: &str| rows(&made, "wire-labels").into_iter().find(|row| row[0] == label).unwrap();
    let last = row("DATA-3");
    assert_eq!([last[7].as_str(), last[8].as_str()], ["passes stud; in Duct", "with SPARE-1 in Duct"]);
    let spare = row("SPARE-1");
    assert_eq!([spare[7].as_str(), spare[8].as_str()], ["in Duct", "with Z1 and DATA-2; with DATA-3 in Duct"]);
    let order = markdown(&made, "installation-order");
    assert!(order.contains("DATA-3 (from High keypad; with SPARE-1 in Duct)"), "{order}");
}

/// What is pulled with others through a hole is in it, though its room is that in which it starts.
#[test]
fn a_cable_that_comes_back_to_its_room_is_in_the_hole_of_its_way() {
    let way = "route=\"through the partition, then down\"";
    let words = [format!("room=\"den\" passes=\"stud\" {way}"), format!("room=\"lobby\" {way}")];
    let text: String = words.iter().map(|words| cables(1, words)).collect();
    let text = text.replacen("\"s1\"", "\"s0\"", 1);
    let made = site(&format!("{HEADER}{HOUSE}{text}"));
    let bored = rows(&made, "bundles");
    assert!(bored.len() == 1 && bored[0][4] == "2", "{bored:?}");
}

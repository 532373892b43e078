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
        for row in rows(&made, "wire-labels").iter().filter(|row| row[10] == "in use") {
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

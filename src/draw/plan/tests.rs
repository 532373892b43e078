//! Levels of every form on paper: what is drawn is legible, and nothing is missing.

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;
use crate::draw::scene::Shape;
use crate::draw::tests::{HOSTILE, assert_only_ours, faults};

const ACROSS: Size = Size { width: 254.0, height: 175.0 };
const UPRIGHT: Size = Size { width: 185.0, height: 240.0 };

fn thing(words: &str) -> Thing {
    let lines = vec![Line::Words(words.to_owned()), Line::Tag { label: format!("Z{words}"), from: "Panel".to_owned() }];
    Thing {
        sign: Sign::Sensor("C", "contact"),
        lines,
        spot: None,
        coverage: None,
        number: None,
        link: Link { to: "rough-in.html#device-1".into(), id: format!("device {words}") },
    }
}

fn opening(leaf: Leaf, wall: Option<(Side, f64)>, things: Vec<Thing>) -> Opening {
    Opening { leaf, title: "Window".into(), wall, things }
}

fn room(title: &str, [x, y, width, depth]: [f64; 4], openings: Vec<Opening>, things: Vec<Thing>) -> Room {
    let outline = Some(Outline { x, y, width, depth });
    Room { title: title.into(), outline, outdoors: false, openings, things }
}

fn plan(rooms: Vec<Room>) -> Plan {
    let block = TitleBlock { title: "Ground floor".into(), ..TitleBlock::default() };
    Plan { block, rooms, ..Plan::default() }
}

/// All words of the sheets of a level.
fn said(parts: &[Part]) -> Vec<String> {
    let marks = parts.iter().flat_map(|part| &part.scene.marks);
    marks
        .filter_map(|mark| if let Shape::Text { text, .. } = &mark.shape { Some(text.clone()) } else { None })
        .collect()
}

/// All sheets of a level.
fn draw(plan: &Plan, size: Size) -> Vec<Part> {
    let Sheets { levels, rooms, .. } = super::draw(std::slice::from_ref(plan), size, 24.0);
    levels.into_iter().flatten().chain(rooms).collect()
}

/// Draws a level; it is legible, inside its sheets, and says each of some words.
fn assert_drawn(plan: &Plan, words: &[String]) -> Vec<Part> {
    let parts = draw(plan, ACROSS);
    for part in &parts {
        assert_eq!(faults(&part.scene), Vec::<String>::new(), "{}", part.title);
        assert!(part.scene.size.width <= ACROSS.width && part.scene.size.height <= ACROSS.height + 1e-6);
    }
    let said: BTreeSet<String> = said(&parts).into_iter().collect();
    for word in words {
        assert!(said.contains(word), "{word} is missing");
    }
    parts
}

#[test]
fn a_house_stands_on_one_sheet_with_all_that_is_known() {
    let window = |side, at, words| opening(Leaf::Window, Some((side, at)), vec![thing(words)]);
    let mut heat = thing("heat");
    heat.spot = Some((6.0, 2.0));
    let mut house = plan(vec![
        room(
            "Hall",
            [0.0, 0.0, 4.0, 3.0],
            vec![opening(Leaf::Door, Some((Side::South, 1.0)), vec![thing("door")])],
            vec![thing("listed")],
        ),
        room(
            "Kitchen",
            [4.0, 0.0, 5.0, 4.0],
            vec![window(Side::East, 2.0, "east"), window(Side::North, 2.5, "north")],
            vec![heat],
        ),
    ]);
    house.ways = vec![Way { label: "Z9".into(), points: vec![(1.0, 1.5), (5.0, 1.5), (5.0, 2.0)] }];
    let words = ["Hall", "Kitchen", "door", "east", "north", "listed", "heat", "Zheat", "Panel", "Z9", "1:100"];
    let parts = assert_drawn(&house, &words.map(str::to_owned));
    assert_eq!(parts.len(), 1);
    assert!(!said(&parts).iter().any(|word| word.starts_with("In full")));
}

#[test]
fn two_hundred_things_in_a_room_are_all_told() {
    let names: Vec<String> = (0..200).map(|nth| format!("thing {nth}")).collect();
    let things = || names.iter().map(|name| thing(name)).collect::<Vec<_>>();
    let cable: Vec<String> = names.iter().map(|name| format!("Z{name}")).collect();
    let listed = plan(vec![room("Hall", [0.0, 0.0, 4.0, 3.0], Vec::new(), things())]);
    let at_one = plan(vec![room(
        "Hall",
        [0.0, 0.0, 4.0, 3.0],
        vec![opening(Leaf::Window, Some((Side::East, 1.0)), things())],
        Vec::new(),
    )]);
    let mut unmeasured = listed.clone();
    unmeasured.rooms[0].outline = None;
    for plan in [listed, at_one, unmeasured] {
        let parts = assert_drawn(&plan, &[names.clone(), cable.clone()].concat());
        assert!(said(&parts).iter().any(|word| word == "continued: Hall"));
    }
}

/// Fifty windows in one wall: their words have no room, so they are in a list, with numbers where there is room for these.
#[test]
fn a_crowded_wall_is_told_in_full_in_a_list() {
    let names: Vec<String> = (0..50).map(|nth| format!("window {nth}")).collect();
    let openings = names
        .iter()
        .zip(1..)
        .map(|(name, nth)| opening(Leaf::Window, Some((Side::South, 0.2 * f64::from(nth))), vec![thing(name)]));
    let rooms = vec![
        room("Gallery", [0.0, 0.0, 11.0, 3.0], openings.collect(), Vec::new()),
        room("Shed", [20.0, 0.0, 2.0, 2.0], Vec::new(), Vec::new()),
    ];
    let parts = assert_drawn(&plan(rooms), &names);
    assert!(parts.len() > 1);
    assert!(said(&parts[..1]).iter().any(|word| word.starts_with("More in the lists")));
    // Whoever looks for a thing is led to one place.
    let links = parts.iter().flat_map(|part| &part.scene.marks).filter_map(|mark| mark.link.as_ref());
    let ids: Vec<&str> = links.map(|link| link.id.as_str()).filter(|id| !id.is_empty()).collect();
    assert_eq!((ids.len(), ids.iter().collect::<BTreeSet<_>>().len()), (names.len(), names.len()));
}

/// A sign that has no room for its words has the number of its row on another sheet; the lists then only repeat that sheet.
#[test]
fn a_number_is_that_of_the_row_elsewhere() {
    let opening = |nth: usize| {
        let thing = Thing { number: Some(900 + nth), ..thing(&format!("window {nth}")) };
        opening(Leaf::Window, Some((Side::South, 0.2 * f64::from(u32::try_from(nth).unwrap()))), vec![thing])
    };
    let gallery = room("Gallery", [0.0, 0.0, 11.0, 3.0], (1..50).map(opening).collect(), Vec::new());
    let mut house = plan(vec![gallery]);
    for has_rows in [false, true] {
        house.has_rows = has_rows;
        let Sheets { levels, rooms, rooms_first } = super::draw(std::slice::from_ref(&house), ACROSS, 24.0);
        let said = said(&levels.concat());
        let numbers = said.iter().filter(|word| word.parse().is_ok_and(|number: usize| number > 900)).count();
        assert!(numbers > 5, "{said:?}");
        assert_eq!(said.iter().any(|word| word.starts_with("More on the rough-in sheet")), has_rows);
        assert_eq!(rooms.iter().all(|part| part.scene.lists_rooms), has_rows && !rooms_first);
    }
}

#[test]
fn the_title_of_a_list_is_told_in_full() {
    let title = "Workshop in the eastern wing, beside the yard of the old mill and under the granary";
    let mut shop = room(title, [0.0; 4], Vec::new(), vec![thing("lamp")]);
    shop.outline = None;
    let said = said(&assert_drawn(&plan(vec![shop]), &["lamp".to_owned()])).join(" ");
    assert!(said.contains(title), "{said}");
}

#[test]
fn rooms_of_every_size_and_distance_are_drawn() {
    let far = [[0.0, 0.0, 4.0, 3.0], [900.0, 0.0, 4.0, 3.0], [0.0, 700.0, 0.6, 0.6]];
    let rooms = |rects: &[[f64; 4]]| {
        rects
            .iter()
            .map(|rect| {
                room(
                    "Room",
                    *rect,
                    vec![opening(Leaf::Door, Some((Side::West, 9e9)), vec![thing("door")])],
                    vec![thing("in")],
                )
            })
            .collect::<Vec<_>>()
    };
    // Each on a sheet of its own: together they would be dots.
    let parts = assert_drawn(&plan(rooms(&far)), &["door".into(), "in".into()]);
    assert_eq!(parts.len(), 3);
    assert_drawn(&plan(rooms(&[[0.0, 0.0, 122.0, 122.0], [1.0, 1.0, 0.6, 0.6]])), &["door".into()]);
    // On one another, and of no size at all.
    assert_drawn(&plan(rooms(&[[0.0, 0.0, 4.0, 3.0], [0.0, 0.0, 4.0, 3.0], [2.0, 1.0, 4.0, 3.0]])), &["door".into()]);
    assert_drawn(&plan(rooms(&[[5.0, 5.0, 0.0, 0.0]])), &["in".into()]);
    assert_drawn(&plan(rooms(&[[0.0, 0.0, 1e12, 1e12]])), &["in".into()]);
    assert!(draw(&plan(Vec::new()), ACROSS).is_empty());
}

/// Two boards in one spot stand beside each other, each with a line to it; one far off its room is listed.
/// Nothing of them has a place on the plan: all are in lists, and the search for places ends.
#[test]
fn rooms_on_top_of_each_other_are_told_in_lists() {
    let rooms = |at: fn(usize) -> [f64; 4]| -> Vec<Room> {
        (0..300)
            .map(|nth| room(&format!("Room {nth}"), at(nth), vec![], vec![thing(&format!("thing {nth}"))]))
            .collect()
    };
    let words: Vec<String> = (0..300).flat_map(|nth| [format!("Room {nth}"), format!("thing {nth}")]).collect();
    assert_drawn(&plan(rooms(|_| [0.0, 0.0, 9.0, 6.0])), &words);
    let shifted = |nth: usize| {
        let along = f64::from(u32::try_from(nth % 20).unwrap());
        [along, f64::from(u32::try_from(nth / 20).unwrap()), 3.0, 3.0]
    };
    assert_drawn(&plan(rooms(shifted)), &words);
}

#[test]
fn what_is_in_one_spot_stands_beside_it() {
    let mut things = vec![thing("one"), thing("two"), thing("three"), thing("far")];
    for thing in &mut things {
        thing.spot = Some((2.0, 1.5));
    }
    things[3].spot = Some((5e6, 1.5));
    assert_drawn(
        &plan(vec![room("Plant", [0.0, 0.0, 4.0, 3.0], Vec::new(), things)]),
        &["one", "two", "three", "far"].map(str::to_owned),
    );
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let mut all = plan(vec![
            room(
                word,
                [0.0, 0.0, 4.0, 3.0],
                vec![opening(Leaf::Hatch, Some((Side::East, 1.0)), vec![thing(word)])],
                vec![thing(word)],
            ),
            Room {
                outline: None,
                ..room(word, [0.0; 4], vec![opening(Leaf::Hatch, None, Vec::new())], vec![thing(word)])
            },
        ]);
        all.block.title = word.into();
        all.rooms[0].openings[0].title = word.into();
        all.ways = vec![Way { label: word.into(), points: vec![(1.0, 1.0), (3.0, 2.0)] }];
        for part in draw(&all, ACROSS) {
            assert_only_ours(&part.scene, word, word);
        }
    }
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![4 => "[A-Za-z -]{1,30}", 1 => "\\PC{0,20}", 1 => "W{1,200}", 1 => "[\u{5d0}-\u{5ea}]{1,20}", 1 => "[\u{4e00}-\u{4fff}]{1,60}"]
}

fn any_thing() -> impl Strategy<Value = Thing> {
    let sign = prop_oneof![
        Just(Sign::Sensor("GB", "glass")),
        Just(Sign::Wireless("C", "contact")),
        Just(Sign::Worker("SO", "sounder")),
        Just(Sign::Board("P", "panel")),
        Just(Sign::Joint),
        Just(Sign::End),
        Just(Sign::Unwatched),
    ];
    let line = prop_oneof![
        words().prop_map(Line::Words),
        ("[A-Z0-9-]{1,16}", words()).prop_map(|(label, from)| Line::Tag { label, from })
    ];
    let coverage = prop::option::of((0.1..30.0, 1_u32..=360, 0_u32..360).prop_map(|(range, angle, toward)| Coverage {
        range,
        angle,
        toward,
    }));
    let spot = prop::option::of((0.0..12.0, 0.0..12.0));
    (sign, prop::collection::vec(line, 0..4), spot, coverage).prop_map(|(sign, lines, spot, coverage)| Thing {
        sign,
        lines,
        spot,
        coverage,
        number: None,
        link: Link::default(),
    })
}

fn any_room() -> impl Strategy<Value = Room> {
    let leaf = prop_oneof![Just(Leaf::Door), Just(Leaf::Window), Just(Leaf::Hatch)];
    let side = prop_oneof![Just(Side::North), Just(Side::East), Just(Side::South), Just(Side::West)];
    let things = || prop::collection::vec(any_thing(), 0..4);
    let opening = (leaf, words(), prop::option::of((side, 0.0..8.0)), things())
        .prop_map(|(leaf, title, wall, things)| Opening { leaf, title, wall, things });
    let outline =
        (0.0..10.0, 0.0..10.0, 0.5..6.0, 0.5..6.0).prop_map(|(x, y, width, depth)| Outline { x, y, width, depth });
    (words(), prop::option::of(outline), any::<bool>(), prop::collection::vec(opening, 0..4), things())
        .prop_map(|(title, outline, outdoors, openings, things)| Room { title, outline, outdoors, openings, things })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(rooms in prop::collection::vec(any_room(), 0..9), ways in prop::collection::vec(prop::collection::vec((0.0..12.0, 0.0..12.0), 0..5), 0..3), feet in any::<bool>()) {
        let ways = ways.into_iter().map(|points| Way { label: "Z1".into(), points }).collect();
        let plan = Plan { feet, ways, ..plan(rooms) };
        for room in [ACROSS, UPRIGHT] {
            for part in draw(&plan, room) {
                prop_assert_eq!(faults(&part.scene), Vec::<String>::new());
                prop_assert!(part.scene.size.width <= room.width && part.scene.size.height <= room.height + 1e-6);
            }
        }
    }

    /// Every label of a cable stands on one of the sheets, whatever is crowded.
    #[test]
    fn no_cable_is_left_out(rooms in prop::collection::vec(any_room(), 1..6)) {
        let mut rooms = rooms;
        let mut labels = Vec::new();
        let things = rooms.iter_mut().flat_map(|room| room.things.iter_mut().chain(room.openings.iter_mut().flat_map(|opening| &mut opening.things)));
        for (nth, thing) in things.enumerate() {
            let label = format!("CABLE-{nth}");
            thing.lines.push(Line::Tag { label: label.clone(), from: "Panel".into() });
            labels.push(label);
        }
        let parts = draw(&plan(rooms), ACROSS);
        let said: BTreeSet<String> = said(&parts).into_iter().collect();
        prop_assert!(labels.iter().all(|label| said.contains(label)), "{:?}", labels.iter().filter(|label| !said.contains(*label)).collect::<Vec<_>>());
    }
}

//! Houses of every form on paper, from none to a tower, with words of every length.

use proptest::prelude::*;

use super::*;
use crate::draw::scene::{Mark, Shape};
use crate::draw::tests::{HOSTILE, assert_only_ours, faults, words};

const ROOMS: [Size; 2] = [Size { width: 254.0, height: 175.0 }, Size { width: 185.0, height: 240.0 }];

fn block(title: &str) -> TitleBlock {
    TitleBlock { title: title.into(), site: title.into(), ..TitleBlock::default() }
}

fn board(id: usize, title: &str) -> Board {
    Board {
        id,
        kind: Kind::Fed,
        number: (id + 1).to_string(),
        letter: String::new(),
        title: title.into(),
        room: "Room".into(),
        lines: Vec::new(),
        ends: Vec::new(),
        link: None,
    }
}

fn bundle(words: &str, labels: usize) -> Bundle {
    let label = |nth: usize| Label { text: format!("Z{}", nth + 1), link: None };
    Bundle { words: words.into(), labels: (0..labels).map(label).collect(), idle: false }
}

fn wire(from: usize, to: usize) -> Wire {
    Wire { from, to, words: format!("DATA-{to}, 22 ft"), link: None }
}

fn level(title: &str, boards: Vec<Board>, rooms: Vec<Room>) -> Level {
    Level { title: title.into(), boards, rooms }
}

fn house(level: Level) -> Storey {
    Storey { house: Some(level), apart: Vec::new() }
}

fn lines(scene: &Scene, role: Role) -> usize {
    scene.marks.iter().filter(|mark| mark.role == role && matches!(mark.shape, Shape::Line(_))).count()
}

/// Every box and label of the bus, the wires once each, whole where both ends are on a page and told where they are not.
#[test]
fn forty_boards_on_eight_floors_are_all_there_and_their_wires_are_drawn_or_told() {
    let floor = |floor: usize| {
        let boards = (0..5).map(|nth| board(floor * 5 + nth, "Expander over the stair")).collect();
        house(level(&format!("Floor {floor}"), boards, vec![]))
    };
    let riser = Riser {
        block: block("Riser"),
        storeys: (0..8).map(floor).collect(),
        wires: (1..40).map(|nth| wire(nth - 1, nth)).collect(),
    };
    for room in ROOMS {
        let scenes = draw(&riser, room, 27.0);
        assert!(scenes.len() > 1);
        let said: Vec<&str> = scenes.iter().flat_map(words).collect();
        for nth in 1..=40 {
            assert_eq!(said.iter().filter(|word| **word == format!("no. {nth}")).count(), 1);
        }
        let told = said.iter().filter(|word| word.starts_with("from ")).count();
        let going = said.iter().filter(|word| word.starts_with("to ")).count();
        assert_eq!(told, going, "{said:?}");
        // A wire that is told has a stub at both ends.
        let drawn: usize = scenes.iter().map(|scene| lines(scene, Role::Cable)).sum();
        // The legend of each page has a sample of a wire, and none of a cable in a box.
        assert_eq!(drawn, 39 - told + 2 * told + scenes.len());
        for scene in &scenes {
            assert_eq!(faults(scene), Vec::<String>::new());
        }
    }
}

#[test]
fn two_hundred_cables_to_one_room_are_all_named_and_a_star_says_where_it_goes() {
    let kitchen = Room { title: "Kitchen".into(), ends: vec![bundle("A: 200 × 22 AWG", 200)], exits: vec![] };
    let boards = (0..12).map(|nth| board(nth, "Keypad")).collect();
    let riser = Riser {
        block: block("Riser"),
        storeys: vec![house(level("Ground", boards, vec![kitchen]))],
        wires: (1..12).map(|nth| wire(0, nth)).collect(),
    };
    let scenes = draw(&riser, ROOMS[0], 27.0);
    let said: Vec<&str> = scenes.iter().flat_map(words).collect();
    for nth in 1..=200 {
        assert_eq!(said.iter().filter(|word| **word == format!("Z{nth}")).count(), 1, "Z{nth}");
    }
    assert!(said.contains(&"Kitchen, further"));
    for nth in 1..12 {
        assert_eq!(said.iter().filter(|word| **word == format!("DATA-{nth}, 22 ft")).count(), 1);
    }
    for scene in &scenes {
        assert_eq!(faults(scene), Vec::<String>::new());
    }
}

#[test]
fn what_stands_apart_is_beside_the_house() {
    let rooms =
        |title: &str| vec![Room { title: title.into(), ends: vec![bundle("A: 1 × 22 AWG", 1)], exits: vec![] }];
    let storey = Storey {
        house: Some(level("Ground floor", vec![board(0, "Panel")], rooms("Hall"))),
        apart: vec![level("Workshop", vec![board(1, "Expander")], rooms("Bench"))],
    };
    let riser = Riser { block: block("Riser"), storeys: vec![storey], wires: vec![wire(0, 1)] };
    let scene = draw(&riser, ROOMS[0], 27.0).remove(0);
    let area = |nth: usize| {
        let levels = scene.marks.iter().filter(|mark| mark.role == Role::Level);
        let areas = levels.filter_map(|mark| if let Shape::Rectangle(area) = &mark.shape { Some(*area) } else { None });
        areas.collect::<Vec<_>>()[nth]
    };
    let (house, apart) = (area(0), area(1));
    assert!(house.corner.x + house.size.width < apart.corner.x);
    assert!((house.corner.y - apart.corner.y).abs() < 1e-9);
    // One whole wire, and no dot where it would go on.
    assert!(scene.marks.iter().all(|mark| mark.role != Role::Joint));
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let own = || word.to_owned();
        let ends = vec![Bundle { words: own(), labels: vec![Label { text: own(), link: None }], idle: false }];
        let one = Board {
            number: own(),
            letter: own(),
            title: own(),
            room: own(),
            lines: vec![own()],
            ends: ends.clone(),
            ..board(0, "")
        };
        let room = Room { title: own(), ends, exits: vec![own()] };
        let wires = vec![Wire { from: 0, to: 1, words: own(), link: None }];
        let storeys = vec![house(level(word, vec![one, board(1, word)], vec![room]))];
        for scene in draw(&Riser { block: block(word), storeys, wires }, ROOMS[0], 0.0) {
            assert_only_ours(&scene, word, word);
        }
    }
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![4 => "[A-Za-z -]{0,30}", 1 => "\\PC{0,20}", 1 => "W{1,300}", 1 => "[a-z]{200}"]
}

fn any_bundles() -> impl Strategy<Value = Vec<Bundle>> {
    let labels = prop::collection::vec(name().prop_map(|text| Label { text, link: None }), 0..40);
    prop::collection::vec((name(), labels).prop_map(|(words, labels)| Bundle { words, labels, idle: false }), 0..4)
}

fn any_board() -> impl Strategy<Value = Board> {
    let kind = prop_oneof![Just(Kind::Supply), Just(Kind::Fed), Just(Kind::Bare)];
    let words = (name(), name(), "[0-9]{0,3}", "[A-Z]{0,2}");
    (kind, words, prop::collection::vec(name(), 0..4), any_bundles()).prop_map(|(kind, words, lines, ends)| {
        let (title, room, number, letter) = words;
        Board { kind, number, letter, title, room, lines, ends, ..board(0, "") }
    })
}

fn any_level() -> impl Strategy<Value = Level> {
    let room = (name(), any_bundles(), prop::collection::vec(name(), 0..3));
    let room = room.prop_map(|(title, ends, exits)| Room { title, ends, exits });
    (name(), prop::collection::vec(any_board(), 0..9), prop::collection::vec(room, 0..9))
        .prop_map(|(title, boards, rooms)| Level { title, boards, rooms })
}

/// Wires as a tree: each leads to a board from one before it.
fn any_riser() -> impl Strategy<Value = Riser> {
    let storey = (prop::option::of(any_level()), prop::collection::vec(any_level(), 0..3));
    let storeys = prop::collection::vec(storey.prop_map(|(house, apart)| Storey { house, apart }), 0..4);
    let wires =
        prop::collection::vec((any::<prop::sample::Index>(), prop_oneof![3 => name(), 1 => Just(String::new())]), 60);
    (name(), storeys, wires).prop_map(|(title, mut storeys, wires)| {
        let levels = storeys.iter_mut().flat_map(|storey| storey.house.iter_mut().chain(&mut storey.apart));
        let mut boards = 0;
        for board in levels.flat_map(|level| &mut level.boards) {
            board.id = boards;
            boards += 1;
        }
        let wires = wires.into_iter().enumerate().map(|(at, (from, words))| (at + 1, from, words));
        let wires = wires.take_while(|(to, ..)| *to < boards);
        let wires = wires.map(|(to, from, words)| Wire { from: from.index(to), to, words, link: None });
        Riser { block: block(&title), wires: wires.collect(), storeys }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]
    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(riser in any_riser()) {
        for room in ROOMS {
            for scene in draw(&riser, room, 27.0) {
                prop_assert_eq!(faults(&scene), Vec::<String>::new());
                prop_assert!(scene.size.height <= room.height && scene.size.width <= room.width);
            }
        }
    }
}

/// From each side of the channel one wire comes at one height: theirs would read as one line.
#[test]
fn wires_from_both_sides_at_one_height_do_not_touch() {
    let storeys = vec![
        house(level("Upper floor", vec![board(2, "Receiver"), board(3, "Expander")], vec![])),
        Storey {
            house: Some(level("Ground floor", vec![board(0, "Panel"), board(1, "Keypad")], vec![])),
            apart: vec![level("Workshop", vec![board(4, "Keypad")], vec![])],
        },
    ];
    for wires in
        [vec![wire(0, 1), wire(1, 2), wire(2, 3), wire(3, 4)], vec![wire(0, 1), wire(3, 4), wire(2, 3), wire(1, 2)]]
    {
        let riser = Riser { block: block("Riser"), storeys: storeys.clone(), wires };
        for scene in draw(&riser, ROOMS[0], 27.0) {
            let cables = scene.marks.iter().filter(|mark| mark.role == Role::Cable);
            // Of each its level pieces: height, left and right end.
            let level = |mark: &Mark| -> Vec<(f64, f64, f64)> {
                let Shape::Line(points) = &mark.shape else { return Vec::new() };
                let pieces = points.windows(2).filter(|two| (two[0].y - two[1].y).abs() < 1e-9);
                pieces.map(|two| (two[0].y, two[0].x.min(two[1].x), two[0].x.max(two[1].x))).collect()
            };
            let lines: Vec<Vec<(f64, f64, f64)>> = cables.map(level).collect();
            for (nth, one) in lines.iter().enumerate() {
                for other in &lines[nth + 1..] {
                    for (y, left, right) in one {
                        for (other_y, other_left, other_right) in other {
                            let is_clear =
                                (y - other_y).abs() > 1.9 || right + 2.0 < *other_left || other_right + 2.0 < *left;
                            assert!(is_clear, "at {y}: {left} to {right} and {other_left} to {other_right}");
                        }
                    }
                }
            }
        }
    }
}

/// All rooms stand behind the boards of a page, or none; a level without boards is no empty box before its rooms.
#[test]
fn the_rooms_of_all_levels_stand_together() {
    let room = |title: &str| Room { title: title.into(), ends: vec![bundle("A: 60 × 22 AWG", 60)], exits: vec![] };
    let boards = |from: usize| (from..from + 6).map(|nth| board(nth, "Expander")).collect();
    for count in [1, 4, 8, 16] {
        let riser = Riser {
            block: block("Riser"),
            storeys: vec![
                house(level("Upper", vec![], vec![room("Landing")])),
                house(level("Ground", boards(0), (0..count).map(|nth| room(&format!("Room {nth}"))).collect())),
            ],
            wires: (1..6).map(|nth| wire(nth - 1, nth)).collect(),
        };
        for paper in ROOMS {
            let scenes = draw(&riser, paper, 27.0);
            let with_boards: Vec<bool> = scenes.iter().map(|scene| !scene.lists_rooms).collect();
            let has = |scene: &Scene, word: &str| words(scene).iter().any(|said| said.starts_with(word));
            for (scene, _) in scenes.iter().zip(&with_boards).filter(|(_, boards)| **boards && scenes.len() > 1) {
                assert!(!has(scene, "Landing") && !has(scene, "Room 0"), "{count}");
                assert!(!has(scene, "Upper"), "{count}");
            }
            assert!(scenes.iter().any(|scene| has(scene, "Landing")));
        }
    }
}

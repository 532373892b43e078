//! Buses of every form on paper, from one box to a hundred, with words of every length.

use proptest::prelude::*;

use super::*;
use crate::draw::scene::{Mark, Shape};
use crate::draw::tests::{HOSTILE, assert_only_ours, faults};

const UPRIGHT: Size = Size { width: 185.0, height: 240.0 };
const ACROSS: Size = Size { width: 254.0, height: 175.0 };

fn block(kind: Kind, title: &str) -> Block {
    Block { kind, title: title.into(), address: String::new(), terminators: Vec::new(), stubs: Vec::new() }
}

fn place(number: String, cable: &str, blocks: Vec<Block>) -> Place {
    Place { number, cable: cable.into(), length: "12 ft".into(), room: "Room".into(), blocks }
}

/// A board and modules along one trunk.
fn trunk(modules: usize) -> Line {
    let start = place("1".into(), "", vec![block(Kind::Board, "Panel")]);
    let modules = (0..modules).map(|nth| {
        let module = Block { address: (nth + 1).to_string(), ..block(Kind::Module, "Keypad in the upper corridor") };
        place((nth + 2).to_string(), &format!("DATA-{}", nth + 1), vec![module])
    });
    Line {
        title: "Bus data".into(),
        paths: vec![Path { from: String::new(), places: std::iter::once(start).chain(modules).collect() }],
    }
}

fn words(scene: &Scene) -> Vec<&str> {
    let text =
        |mark| if let &Mark { shape: Shape::Text { ref text, .. }, .. } = mark { Some(text.as_str()) } else { None };
    scene.marks.iter().filter_map(text).collect()
}

#[test]
fn forty_modules_are_legible_and_none_is_missing() {
    for room in [UPRIGHT, ACROSS] {
        let scenes = draw(&trunk(40), room);
        assert!(scenes.len() > 1);
        for scene in &scenes {
            assert_eq!(faults(scene), Vec::<String>::new());
            assert!(scene.size.height <= room.height && scene.size.width <= room.width);
        }
        let said: Vec<&str> = scenes.iter().flat_map(words).collect();
        for nth in 1..=40 {
            assert_eq!(said.iter().filter(|word| **word == format!("addr. {nth}")).count(), 1);
            assert_eq!(said.iter().filter(|word| **word == format!("DATA-{nth}")).count(), 1);
        }
        // A further page tells where its cable comes from.
        assert!(words(&scenes[1]).iter().any(|word| word.starts_with("from ")), "{:?}", words(&scenes[1]));
    }
}

#[test]
fn the_legend_tells_what_occurs_and_nothing_else() {
    let meanings = |line: &Line| {
        let scene = draw(line, UPRIGHT).remove(0);
        let said: Vec<String> = words(&scene).into_iter().map(str::to_owned).collect();
        LEGEND.iter().map(|(_, words)| said.iter().any(|said| said == words)).collect::<Vec<_>>()
    };
    assert_eq!(meanings(&trunk(2)), [true, true, true, false, false, false, false]);
    let mut all = trunk(2);
    let ends = &mut all.paths[0].places[2];
    ends.blocks[0].terminators.push("120 Ω fitted".into());
    ends.blocks[0].stubs.push("3a".into());
    ends.blocks.insert(0, block(Kind::Module, "Receiver"));
    all.paths.push(Path {
        from: "3".into(),
        places: vec![place("3a".into(), "DATA-3", vec![block(Kind::Bare, "end of DATA-3")])],
    });
    assert_eq!(meanings(&all), [true; 7]);
    assert_eq!(faults(&draw(&all, UPRIGHT)[0]), Vec::<String>::new());
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let own = || word.to_owned();
        let block =
            Block { kind: Kind::Module, title: own(), address: own(), terminators: vec![own()], stubs: vec![own()] };
        let place = Place { number: own(), cable: own(), length: own(), room: own(), blocks: vec![block] };
        let line = Line { title: own(), paths: vec![Path { from: own(), places: vec![place; 9] }; 2] };
        for scene in draw(&line, UPRIGHT) {
            assert_only_ours(&scene, word, word);
        }
    }
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z -]{0,30}",
        1 => "\\PC{0,20}",
        1 => "W{1,300}",
        1 => "[a-z]{200}",
    ]
}

fn any_block() -> impl Strategy<Value = Block> {
    let kind = prop_oneof![Just(Kind::Board), Just(Kind::Module), Just(Kind::Bare)];
    let hanging = || prop::collection::vec(prop_oneof![Just("120 Ω built in".to_owned()), "[0-9a-z]{1,6}"], 0..4);
    (kind, name(), prop_oneof![Just(String::new()), "[0-9]{1,9}"], hanging(), hanging())
        .prop_map(|(kind, title, address, terminators, stubs)| Block { kind, title, address, terminators, stubs })
}

fn any_place() -> impl Strategy<Value = Place> {
    ("[0-9]{1,3}[a-z]{0,3}", name(), name(), name(), prop::collection::vec(any_block(), 1..4))
        .prop_map(|(number, cable, length, room, blocks)| Place { number, cable, length, room, blocks })
}

fn any_line() -> impl Strategy<Value = Line> {
    let path = ("[0-9]{0,3}[a-z]{0,3}", prop::collection::vec(any_place(), 1..12));
    let path = path.prop_map(|(from, places)| Path { from, places });
    (name(), prop::collection::vec(path, 1..6)).prop_map(|(title, paths)| Line { title, paths })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]
    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(line in any_line()) {
        for room in [UPRIGHT, ACROSS] {
            for scene in draw(&line, room) {
                prop_assert_eq!(faults(&scene), Vec::<String>::new());
                prop_assert!(scene.size.height <= room.height && scene.size.width <= room.width);
            }
        }
    }
}

//! Lines of boxes of every form on paper, from one box to a hundred, with words of every length.

use proptest::prelude::*;

use super::*;
use crate::draw::bus_line::{self, LEGEND};
use crate::draw::tests::{HOSTILE, assert_only_ours, faults, words};

const UPRIGHT: Size = Size { width: 185.0, height: 240.0 };
const ACROSS: Size = Size { width: 254.0, height: 175.0 };

fn titled(title: &str) -> TitleBlock {
    TitleBlock { title: title.into(), site: title.into(), scale: "not to scale".into(), ..TitleBlock::default() }
}

fn block(kind: Kind, title: &str) -> Block {
    Block { kind, title: title.into(), beside: String::new(), hanging: Vec::new(), stubs: Vec::new() }
}

fn place(number: String, cable: &str, blocks: Vec<Block>) -> Place {
    let comes = if cable.is_empty() { Comes::Nothing } else { Comes::Cable };
    Place { number, comes, cable: cable.into(), length: "12 ft".into(), room: "Room".into(), link: None, blocks }
}

/// A board and modules along one trunk.
fn trunk(modules: usize) -> Chain {
    let start = place("1".into(), "", vec![block(Kind::Board, "Panel")]);
    let modules = (0..modules).map(|nth| {
        let module =
            Block { beside: format!("addr. {}", nth + 1), ..block(Kind::Module, "Keypad in the upper corridor") };
        place((nth + 2).to_string(), &format!("DATA-{}", nth + 1), vec![module])
    });
    Chain {
        block: titled("Bus data"),
        paths: vec![Path { from: String::new(), places: std::iter::once(start).chain(modules).collect() }],
    }
}

#[test]
fn forty_modules_are_legible_and_none_is_missing() {
    for room in [UPRIGHT, ACROSS] {
        let scenes = bus_line::draw(&trunk(40), room);
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
    let meanings = |line: &Chain| {
        let scene = bus_line::draw(line, UPRIGHT).remove(0);
        let said: Vec<String> = words(&scene).into_iter().map(str::to_owned).collect();
        LEGEND.iter().map(|(_, words)| said.iter().any(|said| said == words)).collect::<Vec<_>>()
    };
    assert_eq!(meanings(&trunk(2)), [true, true, true, false, false, false, false, false]);
    let mut all = trunk(2);
    let ends = &mut all.paths[0].places[2];
    let hangs = |what| Hanging { what, words: "120 Ω fitted".into() };
    ends.blocks[0].hanging = [Hangs::Resistor, Hangs::Meter].map(hangs).into();
    ends.blocks[0].stubs.push("3a".into());
    ends.blocks.insert(0, block(Kind::Module, "Receiver"));
    all.paths.push(Path {
        from: "3".into(),
        places: vec![place("3a".into(), "DATA-3", vec![block(Kind::Bare, "end of DATA-3")])],
    });
    assert_eq!(meanings(&all), [true; 8]);
    assert_eq!(faults(&bus_line::draw(&all, UPRIGHT)[0]), Vec::<String>::new());
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let own = || word.to_owned();
        let hanging = vec![Hanging { what: Hangs::Supply, words: own() }];
        let block = Block { kind: Kind::Module, title: own(), beside: own(), hanging, stubs: vec![own()] };
        let place =
            Place { number: own(), cable: own(), length: own(), room: own(), ..place(own(), "Z1", vec![block]) };
        let line = Chain { block: titled(&own()), paths: vec![Path { from: own(), places: vec![place; 9] }; 2] };
        for scene in bus_line::draw(&line, UPRIGHT) {
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
    let what = prop_oneof![Just(Hangs::Resistor), Just(Hangs::Supply), Just(Hangs::Meter)];
    let hanging = (what, name()).prop_map(|(what, words)| Hanging { what, words });
    let (hanging, stubs) = (prop::collection::vec(hanging, 0..3), prop::collection::vec("[0-9a-z]{1,6}", 0..4));
    (kind, name(), prop_oneof![Just(String::new()), "addr. [0-9]{1,9}"], hanging, stubs)
        .prop_map(|(kind, title, beside, hanging, stubs)| Block { kind, title, beside, hanging, stubs })
}

fn any_place() -> impl Strategy<Value = Place> {
    let comes = prop_oneof![Just(Comes::Nothing), Just(Comes::Cable), Just(Comes::Wires), Just(Comes::Unwritten)];
    ("[0-9]{1,3}[a-z]{0,3}", comes, name(), name(), name(), prop::collection::vec(any_block(), 1..4)).prop_map(
        |(number, comes, cable, length, room, blocks)| Place { number, comes, cable, length, room, link: None, blocks },
    )
}

fn any_line() -> impl Strategy<Value = Chain> {
    let path = ("[0-9]{0,3}[a-z]{0,3}", prop::collection::vec(any_place(), 1..12));
    let path = path.prop_map(|(from, places)| Path { from, places });
    (name(), prop::collection::vec(path, 1..6)).prop_map(|(title, paths)| Chain { block: titled(&title), paths })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]
    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(line in any_line()) {
        for room in [UPRIGHT, ACROSS] {
            for scene in draw(&line, LEGEND, room) {
                prop_assert_eq!(faults(&scene), Vec::<String>::new());
                prop_assert!(scene.size.height <= room.height && scene.size.width <= room.width);
            }
        }
    }
}

//! Loops of every form on paper, with words of every length.

use proptest::prelude::*;

use super::*;
use crate::draw::tests::{HOSTILE, assert_only_ours, faults, words};

const ROOM: Size = Size { width: 185.0, height: 240.0 };

fn board() -> Board {
    Board {
        terminals: ["I12".into(), "R12".into()],
        pull_up: Some(("5.00 V".into(), "2.2 kΩ".into())),
        fed_at_return: false,
    }
}

fn contact(title: &str) -> Net {
    Net::Contact(Contact { title: title.into(), closed: true, rows: "row 2".into(), shunt: Some("2.2 kΩ".into()) })
}

fn cable(name: &str, behind: Net) -> Net {
    let cable =
        Cable { name: name.into(), far: "Hall".into(), faults: "cut 3 · short 4".into(), link: Link::default() };
    Net::Cable(cable, Box::new(behind))
}

#[test]
fn a_long_chain_goes_on_at_letters_and_nothing_is_left_out() {
    let chain = (1..=200).rev().fold(Net::Resistor("1 kΩ".into()), |behind, nth| {
        cable(&format!("Z{nth}"), Net::Series(vec![contact(&format!("W{nth}")), behind]))
    });
    let scenes = draw(&Sketch { board: board(), net: chain }, ROOM);
    assert!(scenes.len() > 1);
    let said: Vec<&str> = scenes.iter().flat_map(words).collect();
    for nth in 1..=200 {
        assert_eq!(said.iter().filter(|word| **word == format!("W{nth}")).count(), 1, "{nth}");
        assert_eq!(said.iter().filter(|word| **word == format!("Z{nth}")).count(), 1, "{nth}");
    }
    // Each letter stands at the end of two lines, and at the start of the two that go on from them.
    for letter in ["A", "Z", "AA"] {
        assert_eq!(said.iter().filter(|word| **word == letter).count(), 4, "{letter}");
    }
    for scene in &scenes {
        assert_eq!(faults(scene), Vec::<String>::new());
    }
}

#[test]
fn a_star_of_forty_branches_is_forty_rows() {
    let branches = (1..=40).map(|nth| cable(&format!("Z{nth}"), contact("Window")));
    let scenes = draw(&Sketch { board: board(), net: Net::Series(branches.collect()) }, ROOM);
    let said: Vec<&str> = scenes.iter().flat_map(words).collect();
    assert_eq!(said.iter().filter(|word| **word == "Window").count(), 40);
    for scene in &scenes {
        assert_eq!(faults(scene), Vec::<String>::new());
        assert!(scene.size.height <= ROOM.height);
    }
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z ,-]{1,30}",
        1 => "\\PC{0,20}",
        1 => "W{1,300}",
        1 => Just("صالة 入口 hall".to_owned()),
    ]
}

fn any_contact() -> impl Strategy<Value = Net> {
    (name(), any::<bool>(), prop_oneof![Just(String::new()), Just("row 2, 4".to_owned())], prop::option::of(name()))
        .prop_map(|(title, closed, rows, shunt)| Net::Contact(Contact { title, closed, rows, shunt }))
}

fn any_net() -> impl Strategy<Value = Net> {
    let leaf = prop_oneof![
        3 => any_contact(),
        2 => name().prop_map(Net::Resistor),
        1 => name().prop_map(|title| Net::Detector(title, "row 3".into())),
        1 => Just(Net::Joined),
        1 => Just(Net::Open),
    ];
    leaf.prop_recursive(6, 40, 5, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 1..5).prop_map(Net::Series),
            (inner.clone(), inner.clone()).prop_map(|(one, other)| Net::Across(Box::new(one), Box::new(other))),
            (name(), name(), name(), inner).prop_map(|(name, far, faults, behind)| {
                Net::Cable(Cable { name, far, faults, link: Link::default() }, Box::new(behind))
            }),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(net in any_net()) {
        for scene in draw(&Sketch { board: board(), net }, ROOM) {
            prop_assert_eq!(faults(&scene), Vec::<String>::new());
        }
    }
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let own = || word.to_owned();
        let contact = Net::Contact(Contact { title: own(), closed: false, rows: own(), shunt: Some(own()) });
        let cable = Cable { name: own(), far: own(), faults: own(), link: Link::default() };
        let net = Net::Cable(cable, Box::new(Net::Series(vec![contact, Net::Resistor(own())])));
        let board = Board { terminals: [own(), own()], pull_up: Some((own(), own())), fed_at_return: false };
        for scene in draw(&Sketch { board, net }, ROOM) {
            assert_only_ours(&scene, word, word);
        }
    }
}

//! Boards of every form on paper, with words of every length.

use proptest::prelude::*;

use super::*;
use crate::draw::scene::{Mark, Shape};
use crate::draw::tests::{HOSTILE, assert_only_ours, faults, words};
use crate::quantity::colour::Hue;

const UPRIGHT: Size = Size { width: 185.0, height: 240.0 };

/// A conductor of a cable.
fn core(of: &str, letters: &str) -> Wire {
    Wire {
        letters: letters.into(),
        colour: Some(Colour::new(Hue::Green, None)),
        does: "zone 1 loop, out".into(),
        leaves: Leaves::Live,
        of: of.into(),
        into: Into::Cable,
        goes: "Contact, hall".into(),
        link: Link { to: "terminal-schedule.html#board-1-1".into(), id: String::new() },
    }
}

fn station(mark: &str, wires: Vec<Wire>) -> Station {
    Station { kind: Kind::Terminal, mark: mark.into(), wires }
}

fn board(stations: Vec<Station>) -> Enclosure {
    let block = TitleBlock { title: "Terminals of Panel".into(), ..TitleBlock::default() };
    Enclosure { block, facts: "panel in the hall".into(), stations }
}

/// Inputs with a cable each, two inputs to a return.
fn inputs(count: usize) -> Enclosure {
    let input = |nth: usize| station(&format!("I{nth}"), vec![core(&format!("Z{nth}"), "GN")]);
    let back = |nth: usize| {
        let wires = [nth, nth + 1].map(|nth| core(&format!("Z{nth}"), "WH"));
        station(&format!("R{nth}"), wires.to_vec())
    };
    board((1..=count).step_by(2).flat_map(|nth| [input(nth), back(nth), input(nth + 1)]).collect())
}

fn lines(scene: &Scene, role: Role) -> Vec<&Vec<crate::draw::scene::Point>> {
    let of = |mark: &&Mark| mark.role == role;
    let points = |mark: &'_ Mark| matches!(mark.shape, Shape::Line(_));
    scene
        .marks
        .iter()
        .filter(of)
        .filter(|mark| points(mark))
        .filter_map(|mark| if let Shape::Line(points) = &mark.shape { Some(points) } else { None })
        .collect()
}

#[test]
fn a_long_board_goes_on_and_nothing_is_missing_or_twice() {
    let scenes = draw(&inputs(96), UPRIGHT, 0.0);
    assert!(scenes.len() > 2);
    let said: Vec<&str> = scenes.iter().flat_map(words).collect();
    for nth in 1..=96 {
        assert_eq!(said.iter().filter(|word| **word == format!("I{nth}")).count(), 1);
        // A return that two pages share would part a cable, and none need be parted.
        assert_eq!(said.iter().filter(|word| **word == format!("Z{nth}")).count(), 1, "Z{nth}");
    }
    assert!(!said.iter().any(|word| word.starts_with("more of it")));
    for (number, scene) in (1..).zip(&scenes) {
        assert_eq!(faults(scene), Vec::<String>::new());
        let part = format!("part {number} of {}", scenes.len());
        assert!(words(scene).iter().any(|word| word.contains(&part)), "{:?}", words(scene));
    }
}

#[test]
fn a_cable_on_two_pages_says_on_each_where_the_rest_is() {
    let mut long = inputs(96);
    for at in [0, 143] {
        long.stations[at].wires.push(core("DATA-1", "RD"));
    }
    let scenes = draw(&long, UPRIGHT, 0.0);
    let last = scenes.len();
    let more = |scene: &Scene| words(scene).into_iter().find(|word| word.starts_with("more of it")).map(str::to_owned);
    assert_eq!(more(&scenes[0]), Some(format!("more of it: I96 on part {last}")));
    assert_eq!(more(&scenes[last - 1]), Some("more of it: I1 on part 1".into()));
}

/// Cables that are there at the same height keep beside each other, however many.
#[test]
fn no_two_cables_meet() {
    for count in [2, 7, 8, 9, 20, 35] {
        let there = (0..count).map(|nth| station(&format!("{nth}+"), vec![core(&format!("Z{nth}"), "RD")]));
        let back = (0..count).map(|nth| station(&format!("{nth}-"), vec![core(&format!("Z{nth}"), "BK")]));
        for scene in draw(&board(there.chain(back).collect()), UPRIGHT, 0.0) {
            assert_eq!(faults(&scene), Vec::<String>::new());
            let cables = lines(&scene, Role::Cable);
            let pieces: Vec<_> = cables
                .iter()
                .enumerate()
                .flat_map(|(nth, points)| points.windows(2).map(move |ends| (nth, ends[0], ends[1])))
                .collect();
            for (one, from, to) in &pieces {
                for (other, start, end) in pieces.iter().filter(|(other, ..)| other != one) {
                    let apart = |a: f64, b: f64, c: f64, d: f64| a.max(b) < c.min(d) || c.max(d) < a.min(b);
                    assert!(
                        apart(from.x, to.x, start.x, end.x) || apart(from.y, to.y, start.y, end.y),
                        "{count} cables: {one} meets {other}"
                    );
                }
            }
        }
    }
}

#[test]
fn a_resistor_in_series_stands_before_its_conductor() {
    let mut behind = core("Z2", "WH");
    behind.leaves = Leaves::Behind;
    let bands = vec![Colour::new(Hue::Red, None); 3];
    let resistor = Wire { into: Into::InSeries(vec![bands]), colour: None, ..core("resistor", "lead") };
    let scene = draw(&board(vec![station("I2", vec![behind, resistor])]), UPRIGHT, 0.0).remove(0);
    assert_eq!(faults(&scene), Vec::<String>::new());
    assert_eq!(scene.marks.iter().filter(|mark| mark.role == Role::Band).count(), 3);
    let wires = lines(&scene, Role::Conductor);
    // No wire that starts at the terminal is as high as the conductor.
    let (conductor, others): (Vec<_>, Vec<_>) =
        wires.into_iter().partition(|points| points.len() == 2 && points[1].x > 100.0);
    let edge = scene.marks.iter().find_map(|mark| match (&mark.shape, mark.role) {
        (Shape::Rectangle(area), Role::Terminal) => Some(area.corner.x + area.size.width),
        _ => None,
    });
    assert!(conductor.iter().all(|points| points[0].x > edge.unwrap() + 5.0), "{conductor:?}");
    assert!(others.iter().any(|points| (points[0].x - edge.unwrap()).abs() < 1e-9), "{others:?}");
}

#[test]
fn two_leads_of_one_battery_meet_in_its_sign_with_the_fuse_in_one() {
    let lead = |mark: &str, fused: bool| {
        station(mark, vec![Wire { into: Into::Pair(1, Thing::Battery(fused)), ..core("battery lead", "RD") }])
    };
    for fused in [[true, false], [false, true], [false, false]] {
        let scene = draw(&board(vec![lead("BT+", fused[0]), lead("BT-", fused[1])]), UPRIGHT, 0.0).remove(0);
        assert_eq!(faults(&scene), Vec::<String>::new());
        let count = |role: Role| scene.marks.iter().filter(|mark| mark.role == role).count();
        assert_eq!(count(Role::Symbol), 2, "two plates");
        // One in the drawing, one in the legend.
        assert_eq!(count(Role::Resistor), if fused.contains(&true) { 2 } else { 0 });
        assert!(lines(&scene, Role::Cable).is_empty());
    }
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let own = || word.to_owned();
        let wire = Wire { letters: own(), does: own(), of: own(), goes: own(), ..core("", "") };
        let block = TitleBlock { title: own(), site: own(), ..TitleBlock::default() };
        let station = Station { kind: Kind::Terminal, mark: own(), wires: vec![wire; 3] };
        let board = Enclosure { block, facts: own(), stations: vec![station; 20] };
        for scene in draw(&board, UPRIGHT, 0.0) {
            assert_only_ours(&scene, word, word);
        }
    }
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => "[A-Za-z -]{0,30}",
        1 => "\\PC{0,20}",
        1 => "W{1,300}",
        1 => "[a-z ]{200}",
    ]
}

fn any_wire() -> impl Strategy<Value = Wire> {
    let leaves = prop_oneof![
        1 => Just(Leaves::Nothing),
        6 => Just(Leaves::Live),
        1 => Just(Leaves::Idle),
        1 => Just(Leaves::Behind)
    ];
    let bands = || prop::collection::vec(Just(Colour::new(Hue::White, None)), 0..6);
    let into = prop_oneof![
        8 => Just(Into::Cable),
        1 => Just(Into::Words),
        1 => Just(Into::Earth),
        1 => prop::collection::vec(bands(), 0..5).prop_map(Into::InSeries),
        1 => (0..3_usize, bands()).prop_map(|(number, bands)| Into::Pair(number, Thing::Resistor(bands))),
        1 => (3..6_usize, any::<bool>()).prop_map(|(number, fused)| Into::Pair(number, Thing::Battery(fused))),
        1 => (6..9_usize, any::<bool>()).prop_map(|(number, fused)| Into::Pair(number, Thing::Transformer(fused))),
        1 => (9..12_usize).prop_map(|number| Into::Pair(number, Thing::Link)),
    ];
    let of = prop_oneof![4 => "Z[0-9]", 1 => name()];
    (name(), name(), of, name(), leaves, into).prop_map(|(letters, does, of, goes, leaves, into)| Wire {
        letters,
        colour: None,
        does,
        leaves,
        of,
        into,
        goes,
        link: Link::default(),
    })
}

fn any_board() -> impl Strategy<Value = Enclosure> {
    let kind = prop_oneof![
        4 => Just(Kind::Terminal),
        1 => Just(Kind::Socket),
        1 => Just(Kind::Joint),
        1 => Just(Kind::Cap),
        1 => Just(Kind::Unknown)
    ];
    let station = (kind, name(), prop::collection::vec(any_wire(), 1..5));
    let station = station.prop_map(|(kind, mark, wires)| Station { kind, mark, wires });
    (name(), prop::collection::vec(station, 1..30)).prop_map(|(facts, stations)| Enclosure { facts, ..board(stations) })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]
    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(board in any_board()) {
        for scene in draw(&board, UPRIGHT, 0.0) {
            prop_assert_eq!(faults(&scene), Vec::<String>::new());
            prop_assert!(scene.size.height <= UPRIGHT.height && scene.size.width <= UPRIGHT.width);
        }
    }
}

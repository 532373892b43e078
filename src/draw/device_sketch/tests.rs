//! Sketches of every form, with words of every length.

use proptest::prelude::*;

use super::*;
use crate::draw::tests::{HOSTILE, assert_only_ours, faults};

fn rung(comes: &[&str], mark: Option<&str>) -> Rung {
    let comes = comes.iter().map(|&words| words.to_owned()).collect();
    Rung { comes, mark: mark.map(str::to_owned), ..Rung::default() }
}

fn count(scene: &Scene, role: Role) -> usize {
    scene.marks.iter().filter(|mark| mark.role == role).count()
}

#[test]
fn a_detector_with_everything_is_legible() {
    let sketch = Sketch {
        title: "Motion detector".into(),
        rungs: vec![
            rung(&["supply +", "supply +, on by the next cable"], Some("+")),
            rung(&["supply −"], Some("-")),
            Rung { contact: Some(true), ..rung(&["loop, out"], Some("tamper")) },
            Rung { fitted: Fitted::Wire, ..rung(&[], Some("tamper")) },
            Rung {
                contact: Some(true),
                fitted: Fitted::Parts(vec!["1 kΩ ±5 % (brown black red gold)".into()]),
                ..rung(&[], Some("alarm"))
            },
            Rung { fitted: Fitted::Parts(vec!["2.2 kΩ".into()]), ..rung(&[], Some("alarm")) },
            rung(&["loop, back", "loop, back of the next cable"], None),
        ],
    };
    let scene = draw(&sketch);
    assert_eq!(faults(&scene), Vec::<String>::new());
    assert_eq!(count(&scene, Role::Terminal), 6);
    assert_eq!(count(&scene, Role::Closed), 2);
    assert_eq!(count(&scene, Role::Resistor), 2);
    assert_eq!(count(&scene, Role::Joint), 2, "the two conductors of the joint");
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let rung = Rung { fitted: Fitted::Parts(vec![word.to_owned(); 2]), ..rung(&[word, word], Some(word)) };
        let scene = draw(&Sketch { title: word.to_owned(), rungs: vec![rung; 4] });
        assert_only_ours(&scene, word, word);
    }
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![4 => "[A-Za-z -]{0,30}", 1 => "\\PC{0,20}", 1 => "W{1,300}", 1 => "[a-z ]{200}"]
}

fn any_rung() -> impl Strategy<Value = Rung> {
    let fitted = prop_oneof![
        3 => Just(Fitted::Nothing),
        1 => Just(Fitted::Wire),
        1 => prop::collection::vec(name(), 1..4).prop_map(Fitted::Parts)
    ];
    (prop::collection::vec(name(), 0..4), prop::option::of(name()), prop::option::of(any::<bool>()), fitted)
        .prop_map(|(comes, mark, contact, fitted)| Rung { comes, mark, contact, fitted })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(title in name(), rungs in prop::collection::vec(any_rung(), 0..12)) {
        let scene = draw(&Sketch { title, rungs });
        prop_assert_eq!(faults(&scene), Vec::<String>::new());
        prop_assert!(scene.size.width <= 185.0);
    }
}

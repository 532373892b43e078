//! Supplies of every form on paper.

use proptest::prelude::*;

use super::*;
use crate::draw::scene::{Mark, Shape};
use crate::draw::tests::{HOSTILE, assert_only_ours, faults};

const ROOM: Size = Size { width: 254.0, height: 175.0 };

fn load(title: &str, volts: f64) -> Load {
    Load { title: title.into(), figures: "20 mA, 1.2 V left".into(), volts: Some(volts), least: Some(9.0) }
}

fn place(depth: usize, loads: Vec<Load>) -> Place {
    Place { depth, cable: "Z1, 30 ft".into(), figures: "45 mA, 11.2 V".into(), loads }
}

#[test]
fn a_dot_stands_at_its_volts_and_a_stroke_at_the_least() {
    let supply = Supply { title: "Aux".into(), places: vec![place(0, vec![load("Motion", 12.0)])] };
    let scenes = draw(&supply, ROOM);
    let on_scale = |role: Role| -> Vec<f64> {
        let marks = scenes[0].marks.iter().filter(|mark| mark.role == role);
        let x = |mark: &Mark| match &mark.shape {
            Shape::Circle { center, .. } => center.x,
            Shape::Line(points) => points[0].x,
            Shape::Polygon(_) | Shape::Rectangle(_) | Shape::Text { .. } => panic!("{mark:?}"),
        };
        marks.map(x).filter(|x| *x > 170.0).collect()
    };
    // 9 to 12 V over 70 mm, its right end 4.5 mm from the edge.
    assert_eq!(on_scale(Role::Joint), [249.5]);
    assert_eq!(on_scale(Role::Limit), [179.5]);
}

#[test]
fn what_does_not_fit_goes_on_and_nothing_is_left_out() {
    let places = (0..300).map(|nth| place((nth % 14).min(nth), vec![load(&format!("D{nth}"), 11.0)])).collect();
    let scenes = draw(&Supply { title: "Aux".into(), places }, ROOM);
    assert!(scenes.len() > 1);
    for nth in 0..300 {
        let name = format!("D{nth}");
        let is = |mark: &&Mark| matches!(&mark.shape, Shape::Text { text, .. } if *text == name);
        assert_eq!(scenes.iter().flat_map(|scene| &scene.marks).filter(is).count(), 1, "{name}");
    }
    for scene in &scenes {
        assert_eq!(faults(scene), Vec::<String>::new());
        assert!(scene.size.height <= ROOM.height);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn no_words_meet_and_all_is_inside_the_frame(
        places in prop::collection::vec(
            (0_usize..14, "\\PC{0,60}", "[0-9A-Za-z ,.]{0,80}", prop::collection::vec(("\\PC{0,200}", prop::option::of(0.0..60.0_f64)), 0..4)),
            1..40,
        ),
    ) {
        let mut deepest = 0;
        let places = places.into_iter().map(|(depth, cable, figures, loads)| Place {
            depth: {
                let here = depth.min(deepest);
                deepest = here + 1;
                here
            },
            cable,
            figures: figures.clone(),
            loads: loads.into_iter().map(|(title, volts)| Load { title, figures: figures.clone(), volts, least: volts }).collect(),
        });
        for scene in draw(&Supply { title: "W".repeat(300), places: places.collect() }, ROOM) {
            prop_assert_eq!(faults(&scene), Vec::<String>::new());
        }
    }
}

#[test]
fn hostile_words_stay_words_wherever_they_stand() {
    for word in HOSTILE {
        let own = || word.to_owned();
        let load = Load { title: own(), figures: own(), volts: Some(12.0), least: None };
        let place = Place { depth: 1, cable: own(), figures: own(), loads: vec![load] };
        for scene in draw(&Supply { title: own(), places: vec![place] }, ROOM) {
            assert_only_ours(&scene, word, word);
        }
    }
}

//! What a detector covers by its sheet: a part of a circle, as far as its room goes.

use crate::draw::placing::{Edges, Spot};

/// What a sheet says, and where the detector looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Coverage {
    /// How far it reaches, in metres.
    pub(crate) range: f64,
    /// How wide it looks, in degrees; 360 is all around.
    pub(crate) angle: u32,
    /// The middle of that, in degrees from the right of the plan towards its upper side.
    pub(crate) toward: u32,
}

/// Its outline on paper, from a place, with a range in millimetres, within a room; empty where nothing of it is in there.
pub(crate) fn outline(coverage: &Coverage, at: Spot, range: f64, room: &Edges) -> Vec<Spot> {
    let half = coverage.angle.min(360) / 2;
    let on_edge = |degrees: u32| {
        let (right, up) = direction((coverage.toward + 360 - half + degrees) % 360);
        (at.0 + right * range, at.1 - up * range)
    };
    let steps = (0..2 * half).step_by(5).chain((half < 180).then_some(2 * half));
    let mut points: Vec<Spot> = steps.map(on_edge).collect();
    if half < 180 {
        points.push(at);
    }
    within(points, room)
}

/// What of a closed line is within a rectangle, side by side (Sutherland and Hodgman).
fn within(points: Vec<Spot>, room: &Edges) -> Vec<Spot> {
    let sides: [fn(Spot, &Edges) -> f64; 4] = [
        |(x, _), room| x - room.left,
        |(x, _), room| room.right - x,
        |(_, y), room| y - room.top,
        |(_, y), room| room.bottom - y,
    ];
    sides.into_iter().fold(points, |points, inside| {
        let next = points.iter().cycle().skip(1);
        let mut kept = Vec::new();
        for (from, to) in points.iter().zip(next) {
            let (here, there) = (inside(*from, room), inside(*to, room));
            if here >= 0.0 {
                kept.push(*from);
            }
            if (here > 0.0 && there < 0.0) || (here < 0.0 && there > 0.0) {
                let part = here / (here - there);
                kept.push((from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1)));
            }
        }
        kept
    })
}

/// A direction by whole degrees from the right towards the upper side, turned a degree at a time: sines of the library
/// differ from machine to machine.
fn direction(degrees: u32) -> Spot {
    const COSINE: f64 = 0.999_847_695_156_391_3;
    const SINE: f64 = 0.017_452_406_437_283_51;
    (0..degrees).fold((1.0, 0.0), |(right, up), _| (right * COSINE - up * SINE, right * SINE + up * COSINE))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Edges = Edges { left: 0.0, top: 0.0, right: 40.0, bottom: 30.0 };

    fn area(points: &[Spot]) -> f64 {
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
    }

    /// From a corner a quarter of a circle of 10 mm; a range beyond the room is the room.
    #[test]
    fn an_outline_is_a_part_of_a_circle_within_the_room() {
        let from_corner = |range| {
            let coverage = Coverage { range: 1.0, angle: 90, toward: 315 };
            area(&outline(&coverage, (0.0, 0.0), range, &ROOM))
        };
        assert!((from_corner(10.0) - std::f64::consts::PI * 25.0).abs() < 0.5, "{}", from_corner(10.0));
        assert!((from_corner(100.0) - 1200.0).abs() < 1e-6, "{}", from_corner(100.0));
        let around = Coverage { range: 1.0, angle: 360, toward: 0 };
        assert!((area(&outline(&around, (20.0, 15.0), 10.0, &ROOM)) - 314.2).abs() < 2.0);
        assert_eq!(outline(&around, (200.0, 15.0), 10.0, &ROOM), []);
    }

    #[test]
    fn a_direction_is_turned_without_drifting() {
        let (right, up) = direction(225);
        assert!((right + std::f64::consts::FRAC_1_SQRT_2).abs() < 1e-12 && (right - up).abs() < 1e-12);
    }
}

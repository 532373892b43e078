//! How a battery runs down: hours to the right, what is left of its rated charge upwards; a line for each state of it.

use super::role::Role;
use super::scene::{Anchor, Scene, Size};
use super::text::{self, wrap};

/// A battery.
#[derive(Clone, Debug)]
pub(crate) struct Battery {
    /// The hours that are asked for.
    pub(crate) asked: f64,
    /// A line for each state.
    pub(crate) lines: Vec<Line>,
}

/// A battery in one state.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// The state, and how long it lasts, in words.
    pub(crate) title: String,
    /// Hours and what is left, from 0 to 1, corner by corner.
    pub(crate) corners: Vec<(f64, f64)>,
}

const INSET: f64 = 2.5;
/// Room for the figures at the left and below; width of the list; height of the plot.
const LEFT: f64 = 14.0;
const BELOW: f64 = 13.0;
const LIST: f64 = 86.0;
const PLOT: f64 = 44.0;
/// Between the numbers below the lines.
const APART: f64 = 4.5;

/// The drawing, as wide as `width`; `None` where no line has an end.
pub(crate) fn draw(battery: &Battery, width: f64) -> Option<Scene> {
    let ends = battery.lines.iter().filter_map(|line| line.corners.last()).map(|(hours, _)| *hours);
    let longest = ends.chain([battery.asked]).filter(|hours| hours.is_finite()).reduce(f64::max)?;
    let (step, most) = steps(longest);
    let (left, right) = (INSET + LEFT, width - INSET - LIST);
    let (top, bottom) = (INSET + 2.5, INSET + 2.5 + PLOT);
    let across = |hours: f64| left + hours.min(most) / most * (right - left);
    let down = |share: f64| bottom - share * PLOT;
    let mut scene = Scene::default();
    for (share, said) in [(0.0, "0 %"), (0.5, "50 %"), (1.0, "100 %")] {
        scene.line(Role::Grid, &[(left, down(share)), (right, down(share))]);
        let middle = down(share) - text::height(1, Role::Label) / 2.0;
        scene.text(Role::Label, (left - 1.5, middle), Anchor::End, &[said.to_owned()]);
    }
    let mut hours = 0.0;
    while hours <= most + 1e-9 {
        scene.line(Role::Grid, &[(across(hours), top), (across(hours), bottom)]);
        let said = format!("{hours:.0} h");
        scene.text(Role::Label, (across(hours), bottom + 8.0), Anchor::Middle, &[said]);
        hours += step;
    }
    scene.line(Role::Limit, &[(across(battery.asked), top), (across(battery.asked), bottom)]);
    let mut numbers: Vec<(f64, usize)> = Vec::new();
    let mut y = top;
    for (number, line) in (1..).zip(&battery.lines) {
        let corners: Vec<(f64, f64)> =
            line.corners.iter().map(|(hours, share)| (across(*hours), down(*share))).collect();
        numbers.extend(corners.last().map(|(x, _)| (*x, number)));
        scene.line(Role::Course, &corners);
        let lines = wrap(&format!("{number}  {}", line.title), Role::Label.style().text, LIST - 8.0, 2);
        y = scene.text(Role::Label, (right + 8.0, y), Anchor::Start, &lines) + 0.8;
    }
    let asked = wrap("thick line: the time that is asked for", Role::Label.style().text, LIST - 8.0, 2);
    scene.text(Role::Label, (right + 8.0, y), Anchor::Start, &asked);
    // A number stands below the end of its line, and to the right where another stands there.
    numbers.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut free = left;
    for (x, number) in numbers {
        let at = x.max(free);
        free = at + APART;
        scene.line(Role::Leader, &[(x, bottom), (at, bottom + 2.5)]);
        scene.text(Role::Label, (at, bottom + 3.0), Anchor::Middle, &[number.to_string()]);
    }
    Some(scene.framed(Size { width, height: bottom + BELOW }))
}

/// The step between the lines of hours, and the hours of the last one.
fn steps(longest: f64) -> (f64, f64) {
    let step = [1.0, 2.0, 6.0, 12.0, 24.0, 48.0, 96.0, 240.0, 1000.0, 10_000.0, 1e5, 1e6];
    let step = step.into_iter().find(|step| longest / step <= 8.0).unwrap_or(longest / 8.0);
    (step, (longest / step).ceil().max(1.0) * step)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::tests::faults;

    #[test]
    fn lines_that_end_together_have_their_numbers_side_by_side() {
        for hours in [0.2, 9.0, 41.0, 700.0, 123_456.0] {
            let line = |end: f64| Line {
                title: "due for replacement, 10 °C: 22.4 h at rest, then 4 min in alarm".into(),
                corners: vec![(0.0, 1.0), (end, 0.1), (end + 0.1, 0.0)],
            };
            let battery =
                Battery { asked: 24.0, lines: vec![line(hours), line(hours * 0.99), line(hours * 0.5), line(0.0)] };
            let scene = draw(&battery, 254.0).unwrap();
            assert_eq!(faults(&scene), Vec::<String>::new(), "{hours}");
        }
    }

    #[test]
    fn a_battery_without_end_has_no_drawing() {
        let line = Line { title: String::new(), corners: vec![(0.0, 1.0), (f64::INFINITY, 0.0)] };
        assert!(draw(&Battery { asked: f64::INFINITY, lines: vec![line] }, 254.0).is_none());
    }
}

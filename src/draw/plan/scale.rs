//! From metres of a house to millimetres on paper: a usual scale, and groups of rooms that lie far from each other.

use super::{Outline, Room};
use crate::draw::placing::{Edges, Spot};

/// How much larger the house is than its drawing, with what is said of that in feet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ratio {
    pub(crate) times: f64,
    inches: &'static str,
}

const METRIC: [f64; 3] = [20.0, 50.0, 100.0];
/// Of an inch to the foot.
const FEET: [(f64, &str); 7] =
    [(24.0, "1/2"), (32.0, "3/8"), (48.0, "1/4"), (64.0, "3/16"), (96.0, "1/8"), (128.0, "3/32"), (192.0, "1/16")];

impl Ratio {
    /// "1:100", "1:96 (1/8 in = 1 ft)".
    pub(crate) fn words(self) -> String {
        match self.inches {
            "" => format!("1:{}", self.times),
            inches => format!("1:{} ({inches} in = 1 ft)", self.times),
        }
    }
}

/// Every usual scale, the largest first.
fn ratios(feet: bool) -> Box<dyn Iterator<Item = Ratio>> {
    let further = |first: f64| std::iter::successors(Some(first), |times| Some(times * 2.0));
    let plain = |times: f64| Ratio { times, inches: "" };
    if feet {
        let usual = FEET.iter().map(|(times, inches)| Ratio { times: *times, inches });
        Box::new(usual.chain(further(384.0).map(plain)))
    } else {
        // 200, 500, 1000, 2000, 5000 …
        let tens = std::iter::successors(Some(100.0), |ten| Some(ten * 10.0));
        let rest = tens.flat_map(|ten: f64| [2.0, 5.0, 10.0].map(|times| ten * times));
        Box::new(METRIC.into_iter().chain(rest).map(plain))
    }
}

/// What rooms cover together, in metres: left, lower, right, upper edge.
pub(crate) fn extent(outlines: &[Outline]) -> (f64, f64, f64, f64) {
    outlines.iter().fold((f64::MAX, f64::MAX, f64::MIN, f64::MIN), |edges, outline| {
        let Outline { x, y, width, depth } = outline;
        (edges.0.min(*x), edges.1.min(*y), edges.2.max(x + width), edges.3.max(y + depth))
    })
}

/// Where on paper a place on the plan is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scale {
    pub(crate) ratio: Ratio,
    /// The plan's origin on paper.
    origin: Spot,
}

impl Scale {
    /// The largest usual scale at which rooms fit into an area with some margin beside and above them; they stand in its
    /// middle.
    pub(crate) fn fitting(outlines: &[Outline], area: &Edges, (beside, above): (f64, f64), feet: bool) -> Option<Self> {
        let (left, low, right, high) = extent(outlines);
        let room = area.size();
        let fits = |ratio: &Ratio| {
            let on_paper = |metres: f64| metres * 1000.0 / ratio.times;
            on_paper(right - left) <= room.width - 2.0 * beside && on_paper(high - low) <= room.height - 2.0 * above
        };
        // A house as large as the earth still fits.
        let ratio = ratios(feet).take(40).find(fits)?;
        let on_paper = |metres: f64| metres * 1000.0 / ratio.times;
        let middle = (f64::midpoint(area.left, area.right), f64::midpoint(area.top, area.bottom));
        let origin = (middle.0 - on_paper(f64::midpoint(left, right)), middle.1 + on_paper(f64::midpoint(low, high)));
        Some(Self { ratio, origin })
    }

    /// A length on paper.
    pub(crate) fn length(&self, metres: f64) -> f64 {
        metres * 1000.0 / self.ratio.times
    }

    /// A place on paper; north is up.
    pub(crate) fn place(&self, (x, y): (f64, f64)) -> Spot {
        (self.origin.0 + self.length(x), self.origin.1 - self.length(y))
    }

    /// A room on paper.
    pub(crate) fn edges(&self, outline: &Outline) -> Edges {
        let (left, bottom) = self.place((outline.x, outline.y));
        let (right, top) = self.place((outline.x + outline.width, outline.y + outline.depth));
        Edges { left, top, right, bottom }
    }
}

/// From this on, rooms that lie apart are drawn apart.
const SMALL: f64 = 200.0;
/// Rooms no farther from each other than this stand together, in metres.
const TOGETHER: f64 = 4.0;

/// The rooms that stand on one drawing each: all of them, or where they would become too small, those that stand
/// together.
pub(crate) fn groups<'p>(
    rooms: Vec<(&'p Room, Outline)>,
    area: &Edges,
    margins: (f64, f64),
    feet: bool,
) -> Vec<Vec<(&'p Room, Outline)>> {
    let outlines: Vec<Outline> = rooms.iter().map(|(_, outline)| *outline).collect();
    let whole = Scale::fitting(&outlines, area, margins, feet);
    if rooms.is_empty() || whole.is_some_and(|scale| scale.ratio.times <= SMALL) {
        return if rooms.is_empty() { Vec::new() } else { vec![rooms] };
    }
    let mut groups: Vec<Vec<(&Room, Outline)>> = Vec::new();
    for (room, outline) in rooms {
        let near = |group: &Vec<(&Room, Outline)>| group.iter().any(|(_, other)| outline.gap(other) <= TOGETHER);
        let (mut joined, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(near);
        let mut all: Vec<(&Room, Outline)> = joined.drain(..).flatten().collect();
        all.push((room, outline));
        groups = apart;
        groups.push(all);
    }
    groups
}

//! Free places on paper: where words may stand, and the leader from what they name.
//!
//! What is drawn is *taken*: *boxes* (words and symbols) that nothing may meet, *leaders* that words and other leaders
//! keep away from, and *lines* (walls, cables) that words keep away from but a leader may cross. A place is looked for
//! from near to far around what is named, in a fixed order, and is the first that is free.
//!
//! On a sheet on which everything is on top of everything else no place is found, and that has to be seen soon: a square
//! that many lines pass is full, and after many places that were looked at the sheet is.

use std::cell::Cell;

use super::scene::Size;

/// A place on paper.
pub(crate) type Spot = (f64, f64);

/// A rectangle by its edges.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Edges {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Edges {
    /// By the upper left corner.
    pub(crate) fn at((left, top): Spot, size: Size) -> Self {
        Self { left, top, right: left + size.width, bottom: top + size.height }
    }

    /// A square around a point.
    pub(crate) fn around((x, y): Spot, reach: f64) -> Self {
        Self { left: x - reach, top: y - reach, right: x + reach, bottom: y + reach }
    }

    pub(crate) fn size(&self) -> Size {
        Size { width: self.right - self.left, height: self.bottom - self.top }
    }

    /// Smaller by so much at every edge.
    pub(crate) fn inside(&self, by: f64) -> Self {
        Self { left: self.left + by, top: self.top + by, right: self.right - by, bottom: self.bottom - by }
    }

    /// What is around both.
    pub(crate) fn with(&self, other: &Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// True where a place is in it.
    pub(crate) fn has(&self, (x, y): Spot) -> bool {
        self.left < x && x < self.right && self.top < y && y < self.bottom
    }

    /// From a place to the nearest of it; nothing for a place in it.
    pub(crate) fn distance(&self, (x, y): Spot) -> f64 {
        let beside = (self.left - x).max(x - self.right).max(0.0);
        beside.hypot((self.top - y).max(y - self.bottom).max(0.0))
    }

    fn holds(&self, other: &Self) -> bool {
        self.left <= other.left && self.top <= other.top && self.right >= other.right && self.bottom >= other.bottom
    }

    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }

    /// True where a straight line passes through it.
    pub(crate) fn is_crossed(&self, from: Spot, to: Spot) -> bool {
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (start, end, low, high) in [(from.0, to.0, self.left, self.right), (from.1, to.1, self.top, self.bottom)] {
            let way = end - start;
            if way.abs() < 1e-9 {
                if start <= low || start >= high {
                    return false;
                }
                continue;
            }
            let (near, far) = ((low - start) / way, (high - start) / way);
            enters = enters.max(near.min(far));
            leaves = leaves.min(near.max(far));
        }
        enters < leaves
    }
}

/// What stands in the way of words.
#[derive(Clone, Copy, Debug)]
enum Taken {
    /// Words or a symbol.
    Box(Edges),
    /// A leader.
    Leader(Spot, Spot),
    /// Any other line; half of its width.
    Line(Spot, Spot, f64),
}

/// Between a leader and words that it passes.
const TOUCH: f64 = 0.15;
/// Between words and what they must not meet.
const CLEAR: f64 = 0.5;
/// Side of the squares in which what is taken is looked up.
const CELL: f64 = 8.0;
/// Where so much passes one square, nothing can be read in it: a door at a corner with its cables is 20.
const MOST_IN_CELL: usize = 60;
/// After so many places that were looked at a sheet is full: a level of a house takes 3,000.
const MOST_LOOKS: u32 = 60_000;

/// A part of a sheet with what is taken of it.
#[derive(Clone, Debug)]
pub(crate) struct Places {
    area: Edges,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<Taken>>,
    /// How many places were looked at.
    looks: Cell<u32>,
}

/// A side of what is named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Toward {
    Right,
    Down,
    Left,
    Up,
}

/// What words are to be placed for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Named {
    /// Its middle.
    pub(crate) at: Spot,
    /// From there to its edge.
    pub(crate) reach: f64,
    /// The direction in which its words stand best.
    pub(crate) best: Toward,
}

/// Where words would be taken for those of something else.
pub(crate) type Foreign<'f> = &'f dyn Fn(&Edges) -> bool;

/// Where words stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Found {
    /// Their upper left corner.
    pub(crate) corner: Spot,
    /// The line from what they name, where they do not stand right beside it.
    pub(crate) leader: Option<(Spot, Spot)>,
}

impl Places {
    /// All free.
    pub(crate) fn new(area: Edges) -> Self {
        let size = area.size();
        let count = |length: f64| count_of(length / CELL) + 1;
        let (columns, rows) = (count(size.width), count(size.height));
        Self { area, columns, rows, cells: vec![Vec::new(); columns * rows], looks: Cell::new(0) }
    }

    pub(crate) fn middle(&self) -> Spot {
        (f64::midpoint(self.area.left, self.area.right), f64::midpoint(self.area.top, self.area.bottom))
    }

    /// Takes a box.
    pub(crate) fn take(&mut self, edges: Edges) {
        self.enter(&edges, Taken::Box(edges));
    }

    /// Takes a line of some width.
    pub(crate) fn take_line(&mut self, from: Spot, to: Spot, width: f64) {
        let half = width / 2.0;
        self.enter(&span(from, to).inside(-half), Taken::Line(from, to, half));
    }

    /// Takes what was found for words of some size.
    pub(crate) fn take_found(&mut self, found: &Found, size: Size) {
        self.take(Edges::at(found.corner, size));
        if let Some((from, to)) = found.leader {
            self.enter(&span(from, to), Taken::Leader(from, to));
        }
    }

    /// True where nothing is in the way of words or a symbol.
    pub(crate) fn is_free(&self, edges: &Edges) -> bool {
        let near = edges.inside(-CLEAR);
        self.area.holds(edges)
            && self.all_near(&near, |taken| match taken {
                Taken::Box(other) => !near.meets(other),
                Taken::Leader(from, to) => !near.is_crossed(*from, *to),
                Taken::Line(from, to, half) => !near.inside(-half).is_crossed(*from, *to),
            })
    }

    /// True where a leader may end: in no words and no symbol.
    pub(crate) fn may_end(&self, at: Spot) -> bool {
        let around = Edges::around(at, CLEAR);
        self.all_near(&around, |taken| !matches!(taken, Taken::Box(other) if around.meets(other)))
    }

    /// True where a leader meets neither words nor symbols nor another leader, nor lines unless it may cross them.
    fn is_clear(&self, from: Spot, to: Spot, crossing: bool) -> bool {
        let around = span(from, to);
        self.area.holds(&around)
            && self.all_near(&around, |taken| match taken {
                Taken::Box(other) => !other.inside(-TOUCH).is_crossed(from, to),
                Taken::Leader(start, end) => !cross((from, to), (*start, *end)),
                Taken::Line(start, end, _) => crossing || !cross((from, to), (*start, *end)),
            })
    }

    /// A free place for words beside what they name, else at the end of a leader of at most some length.
    pub(crate) fn beside(&self, named: &Named, size: Size, longest: f64, foreign: Foreign) -> Option<Found> {
        let beside = |way: Spot| Found { corner: corner(edge(named, way, CLEAR), way, size), leader: None };
        let fits = |edges: Edges| self.is_free(&edges) && !foreign(&edges);
        let near = ways(2, named.best).map(beside).find(|found| fits(Edges::at(found.corner, size)));
        near.or_else(|| self.led(named, size, longest, foreign))
    }

    /// A free place for words at the end of a leader of at most some length, which crosses a line only where it has to.
    pub(crate) fn led(&self, named: &Named, size: Size, longest: f64, foreign: Foreign) -> Option<Found> {
        [false, true].into_iter().find_map(|crossing| self.led_across(named, size, longest, crossing, foreign))
    }

    fn led_across(&self, named: &Named, size: Size, longest: f64, crossing: bool, foreign: Foreign) -> Option<Found> {
        const STEP: f64 = 4.0;
        let lengths = std::iter::successors(Some(STEP), |length| Some(length + STEP));
        let places = lengths.take_while(|length| *length <= longest).flat_map(|length| {
            ways(1, named.best).map(move |way| {
                let end = edge(named, way, length);
                let start = edge(named, way, 0.0);
                let tip = (end.0 - way.0 * CLEAR, end.1 - way.1 * CLEAR);
                Found { corner: corner(end, way, size), leader: Some((start, tip)) }
            })
        });
        let fits = |found: &Found| {
            let edges = Edges::at(found.corner, size);
            // What costs least is asked first.
            self.area.holds(&edges)
                && found
                    .leader
                    .is_none_or(|(from, to)| !edges.is_crossed(from, to) && self.is_clear(from, to, crossing))
                && self.is_free(&edges)
                && !foreign(&edges)
        };
        places.into_iter().take_while(|_| self.may_look()).find(fits)
    }

    /// A free place inside a box, looked for from its upper left corner.
    pub(crate) fn inside(&self, within: &Edges, size: Size) -> Option<Spot> {
        const STEP: f64 = 1.5;
        let Size { width, height } = within.size();
        let tries =
            |room: f64| std::iter::successors(Some(0.0), |at| Some(at + STEP)).take_while(move |at| *at <= room);
        let corners = tries(height - size.height)
            .flat_map(|down| tries(width - size.width).map(move |right| (within.left + right, within.top + down)));
        let mut corners = corners.into_iter().take_while(|_| self.may_look());
        corners.find(|corner| self.is_free(&Edges::at(*corner, size)))
    }

    /// Counts a look at a place; false where the sheet is full.
    fn may_look(&self) -> bool {
        let looks = self.looks.get();
        self.looks.set(looks.saturating_add(1));
        looks < MOST_LOOKS
    }

    fn enter(&mut self, edges: &Edges, taken: Taken) {
        let columns = self.columns;
        for (column, row) in self.cells_of(edges) {
            if let Some(cell) = self.cells.get_mut(row * columns + column).filter(|cell| cell.len() < MOST_IN_CELL) {
                cell.push(taken);
            }
        }
    }

    /// True where no square that a box is in is full, and all that is taken there is clear of something.
    fn all_near(&self, edges: &Edges, is_clear: impl Fn(&Taken) -> bool) -> bool {
        let mut cells = self.cells_of(edges).filter_map(|(column, row)| self.cells.get(row * self.columns + column));
        cells.all(|cell| cell.len() < MOST_IN_CELL && cell.iter().all(&is_clear))
    }

    fn cells_of(&self, edges: &Edges) -> impl Iterator<Item = (usize, usize)> + use<> {
        let column = |x: f64| count_of((x - self.area.left) / CELL).min(self.columns - 1);
        let row = |y: f64| count_of((y - self.area.top) / CELL).min(self.rows - 1);
        let (columns, rows) = (column(edges.left)..=column(edges.right), row(edges.top)..=row(edges.bottom));
        rows.flat_map(move |row| columns.clone().map(move |column| (column, row)))
    }
}

/// Sixteen directions, the first to the right, then clockwise. Sines of the library differ from machine to machine.
const WAYS: [Spot; 16] = {
    const FLAT: f64 = 0.923_879_532_511_286_7;
    const STEEP: f64 = 0.382_683_432_365_089_8;
    const SLANTED: f64 = std::f64::consts::FRAC_1_SQRT_2;
    [
        (1.0, 0.0),
        (FLAT, STEEP),
        (SLANTED, SLANTED),
        (STEEP, FLAT),
        (0.0, 1.0),
        (-STEEP, FLAT),
        (-SLANTED, SLANTED),
        (-FLAT, STEEP),
        (-1.0, 0.0),
        (-FLAT, -STEEP),
        (-SLANTED, -SLANTED),
        (-STEEP, -FLAT),
        (0.0, -1.0),
        (STEEP, -FLAT),
        (SLANTED, -SLANTED),
        (FLAT, -STEEP),
    ]
};

/// Every direction, or every so many-th, from the best one to its opposite, to both sides in turn.
fn ways(every: usize, best: Toward) -> impl Iterator<Item = Spot> {
    let first = match best {
        Toward::Right => 0,
        Toward::Down => 4,
        Toward::Left => 8,
        Toward::Up => 12,
    };
    (0..WAYS.len() / every).filter_map(move |nth| {
        let off = nth.div_ceil(2) * every;
        let at = if nth % 2 == 0 { first + off } else { first + WAYS.len() - off };
        WAYS.get(at % WAYS.len()).copied()
    })
}

/// A point outside a named square, in a direction.
fn edge(named: &Named, way: Spot, off: f64) -> Spot {
    let reach = named.reach / way.0.abs().max(way.1.abs()) + CLEAR + off;
    (named.at.0 + way.0 * reach, named.at.1 + way.1 * reach)
}

/// The upper left corner of words that are led to in a direction.
fn corner((x, y): Spot, way: Spot, size: Size) -> Spot {
    let back = |way: f64, size: f64| match way {
        ahead if ahead > 0.35 => 0.0,
        behind if behind < -0.35 => size,
        _ => size / 2.0,
    };
    (x - back(way.0, size.width), y - back(way.1, size.height))
}

fn span(from: Spot, to: Spot) -> Edges {
    Edges { left: from.0.min(to.0), top: from.1.min(to.1), right: from.0.max(to.0), bottom: from.1.max(to.1) }
}

fn cross(one: (Spot, Spot), other: (Spot, Spot)) -> bool {
    let side =
        |(from, to): (Spot, Spot), at: Spot| (to.0 - from.0) * (at.1 - from.1) - (to.1 - from.1) * (at.0 - from.0);
    let parts = |line: (Spot, Spot), ends: (Spot, Spot)| side(line, ends.0) * side(line, ends.1) < 0.0;
    parts(one, other) && parts(other, one)
}

/// A number of cells; none where it is less than one.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a part of a sheet has few cells; what is less than none is none"
)]
fn count_of(cells: f64) -> usize {
    cells.clamp(0.0, 1000.0) as usize
}

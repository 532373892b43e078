//! Marks on paper.

use super::role::Role;
use super::text;

/// Width and height in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Size {
    /// To the right.
    pub(crate) width: f64,
    /// Down.
    pub(crate) height: f64,
}

/// A place on paper, in millimetres from the left and from the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Point {
    /// From the left.
    pub(crate) x: f64,
    /// From the top.
    pub(crate) y: f64,
}

/// A rectangle on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Area {
    /// Its upper left corner.
    pub(crate) corner: Point,
    /// Its extent.
    pub(crate) size: Size,
}

/// Which part of a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// Its start.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// What a mark is on paper.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Shape {
    /// A line through points.
    Line(Vec<Point>),
    /// An upright rectangle.
    Rectangle(Area),
    /// A circle.
    Circle {
        /// Its middle.
        center: Point,
        /// Its radius.
        radius: f64,
    },
    /// One line of text.
    Text {
        /// Where its anchor stands on the base line.
        at: Point,
        /// What of it stands there.
        anchor: Anchor,
        /// The text as it is, not escaped.
        text: String,
    },
}

/// A shape with what it stands for.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Mark {
    /// What it stands for.
    pub(crate) role: Role,
    /// What it is on paper.
    pub(crate) shape: Shape,
}

/// A drawing: its extent and its marks, the lower ones first.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Scene {
    /// Its extent.
    pub(crate) size: Size,
    /// Its marks.
    pub(crate) marks: Vec<Mark>,
}

impl Scene {
    /// The scene on a sheet of some size, with a frame around it below all else.
    pub(crate) fn framed(mut self, size: Size) -> Self {
        // The line of the frame is inside as well.
        let half = Role::Frame.style().line / 2.0;
        let corner = Point { x: half, y: half };
        let within = Size { width: size.width - 2.0 * half, height: size.height - 2.0 * half };
        let frame = Mark { role: Role::Frame, shape: Shape::Rectangle(Area { corner, size: within }) };
        self.marks.insert(0, frame);
        Self { size, ..self }
    }

    /// Adds a line through points, each from the left and from the top.
    pub(crate) fn line(&mut self, role: Role, points: &[(f64, f64)]) {
        let points = points.iter().map(|&(x, y)| Point { x, y }).collect();
        self.marks.push(Mark { role, shape: Shape::Line(points) });
    }

    /// Adds a rectangle by its upper left corner, its width and height.
    pub(crate) fn rectangle(&mut self, role: Role, (x, y): (f64, f64), (width, height): (f64, f64)) {
        let area = Area { corner: Point { x, y }, size: Size { width, height } };
        self.marks.push(Mark { role, shape: Shape::Rectangle(area) });
    }

    /// Adds a filled dot.
    pub(crate) fn dot(&mut self, role: Role, (x, y): (f64, f64), radius: f64) {
        self.marks.push(Mark { role, shape: Shape::Circle { center: Point { x, y }, radius } });
    }

    /// Adds lines of text below one another, the upper edge of the first at `y`; the lower edge of the last.
    pub(crate) fn text(&mut self, role: Role, (x, y): (f64, f64), anchor: Anchor, lines: &[String]) -> f64 {
        let mut top = y;
        for text in lines {
            let at = Point { x, y: top + text::ASCENT * role.style().text };
            self.marks.push(Mark { role, shape: Shape::Text { at, anchor, text: text.clone() } });
            top += text::height(1, role);
        }
        top
    }
}

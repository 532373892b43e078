//! Marks on paper.

use super::placing::Edges;
use super::role::Role;
use super::text;
use crate::quantity::colour::Colour;

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
    /// A closed line through points.
    Polygon(Vec<Point>),
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

/// Where a mark leads on screen, and its name as a place that others lead to. Both are made of our own words and numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Link {
    /// Where it leads: "terminal-schedule.html#board-1-t7"; empty where nowhere.
    pub(crate) to: String,
    /// Its name in the page; empty where nothing leads to it.
    pub(crate) id: String,
}

/// A shape with what it stands for.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Mark {
    /// What it stands for.
    pub(crate) role: Role,
    /// What it is on paper.
    pub(crate) shape: Shape,
    /// The colour of the conductor or band that it is: of a line itself, of an outline what is inside.
    pub(crate) colour: Option<Colour>,
    /// Where it leads, where it leads anywhere or others lead to it.
    pub(crate) link: Option<Link>,
}

impl Mark {
    /// The same, to the right and down.
    fn moved(mut self, right: f64, down: f64) -> Self {
        let shift = |point: &mut Point| {
            point.x += right;
            point.y += down;
        };
        match &mut self.shape {
            Shape::Line(points) | Shape::Polygon(points) => points.iter_mut().for_each(shift),
            Shape::Rectangle(area) => shift(&mut area.corner),
            Shape::Circle { center, .. } => shift(center),
            Shape::Text { at, .. } => shift(at),
        }
        self
    }

    /// What it covers, with the width of its line.
    pub(crate) fn edges(&self) -> Edges {
        let style = self.role.style();
        let half = style.line / 2.0;
        match &self.shape {
            Shape::Text { at, anchor, text } => {
                let width = text::width(text, style.text);
                let before = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => width / 2.0,
                    Anchor::End => width,
                };
                let height = text::height(1, self.role);
                Edges::at((at.x - before, at.y - text::ASCENT * style.text), Size { width, height })
            }
            Shape::Line(points) | Shape::Polygon(points) => {
                let each = points.iter().map(|point| Edges::around((point.x, point.y), half));
                each.reduce(|one, other| one.with(&other)).unwrap_or_default()
            }
            Shape::Rectangle(area) => Edges::at((area.corner.x, area.corner.y), area.size).inside(-half),
            Shape::Circle { center, radius } => Edges::around((center.x, center.y), radius + half),
        }
    }
}

/// A drawing: its extent and its marks, the lower ones first.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Scene {
    /// Its extent.
    pub(crate) size: Size,
    /// Its marks.
    pub(crate) marks: Vec<Mark>,
    /// True where it only lists, room by room, what rows of other sheets say as well.
    pub(crate) lists_rooms: bool,
}

impl Scene {
    /// The scene on a sheet of some size, with a frame around it below all else.
    pub(crate) fn framed(mut self, size: Size) -> Self {
        // The line of the frame is inside as well.
        let half = Role::Frame.style().line / 2.0;
        let corner = Point { x: half, y: half };
        let within = Size { width: size.width - 2.0 * half, height: size.height - 2.0 * half };
        self.marks.insert(0, mark(Role::Frame, Shape::Rectangle(Area { corner, size: within })));
        Self { size, ..self }
    }

    /// The same without the words of its title block: what is drawn, whatever the revision.
    pub(crate) fn without_title_block(mut self) -> Self {
        self.marks.retain(|mark| !matches!(mark.role, Role::Title | Role::Field));
        self
    }

    /// The same around its marks, with so much beside them.
    pub(crate) fn cropped(self, pad: f64) -> Self {
        let edges = self.marks.iter().map(Mark::edges).reduce(|one, other| one.with(&other)).unwrap_or_default();
        let edges = edges.inside(-pad);
        let mut cropped = Self { size: edges.size(), ..Self::default() };
        cropped.add(self, (-edges.left, -edges.top));
        cropped
    }

    /// Adds the marks of another drawing, moved to the right and down.
    pub(crate) fn add(&mut self, other: Self, (right, down): (f64, f64)) {
        self.marks.extend(other.marks.into_iter().map(|mark| mark.moved(right, down)));
    }

    /// Adds a line through points, each from the left and from the top.
    pub(crate) fn line(&mut self, role: Role, points: &[(f64, f64)]) {
        self.marks.push(mark(role, Shape::Line(places(points))));
    }

    /// Adds a closed line through points.
    pub(crate) fn polygon(&mut self, role: Role, points: &[(f64, f64)]) {
        self.marks.push(mark(role, Shape::Polygon(places(points))));
    }

    /// Adds a rectangle by its upper left corner, its width and height.
    pub(crate) fn rectangle(&mut self, role: Role, (x, y): (f64, f64), (width, height): (f64, f64)) {
        let area = Area { corner: Point { x, y }, size: Size { width, height } };
        self.marks.push(mark(role, Shape::Rectangle(area)));
    }

    /// Adds a circle: a dot where its role is filled.
    pub(crate) fn circle(&mut self, role: Role, (x, y): (f64, f64), radius: f64) {
        self.marks.push(mark(role, Shape::Circle { center: Point { x, y }, radius }));
    }

    /// Adds lines of text below one another, the upper edge of the first at `y`; the lower edge of the last.
    pub(crate) fn text(&mut self, role: Role, (x, y): (f64, f64), anchor: Anchor, lines: &[String]) -> f64 {
        let mut top = y;
        for text in lines {
            let at = Point { x, y: top + text::ASCENT * role.style().text };
            self.marks.push(mark(role, Shape::Text { at, anchor, text: closed_up(text) }));
            top += text::height(1, role);
        }
        top
    }

    /// Gives all that `draw` adds a colour.
    pub(crate) fn coloured(&mut self, colour: Colour, draw: impl FnOnce(&mut Self)) {
        let before = self.marks.len();
        draw(self);
        for mark in self.marks.iter_mut().skip(before) {
            mark.colour = Some(colour);
        }
    }

    /// Gives all texts that `draw` adds a place to lead to, where there is one; the first of them is the place that others lead to.
    pub(crate) fn linked(&mut self, link: Option<&Link>, draw: impl FnOnce(&mut Self)) {
        let before = self.marks.len();
        draw(self);
        let Some(link) = link else { return };
        let texts = self.marks.iter_mut().skip(before).filter(|mark| matches!(mark.shape, Shape::Text { .. }));
        for (at, mark) in texts.enumerate() {
            let id = if at == 0 { link.id.clone() } else { String::new() };
            mark.link = Some(Link { to: link.to.clone(), id });
        }
    }
}

fn mark(role: Role, shape: Shape) -> Mark {
    Mark { role, shape, colour: None, link: None }
}

fn places(points: &[(f64, f64)]) -> Vec<Point> {
    points.iter().map(|&(x, y)| Point { x, y }).collect()
}

/// Blanks one behind the other as one, which is how a drawing shows them.
fn closed_up(text: &str) -> String {
    text.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

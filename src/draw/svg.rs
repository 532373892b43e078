//! A scene as SVG that stands alone: in a file, or inside a page.
//!
//! The only place that writes SVG. It knows the shapes and nothing else, so there is no element or attribute in it that
//! is not written here; text is escaped. Names of places are made by the views of our own words and numbers.
//!
//! A page has the face in its style ([`face_rule`]). A file alone is read with a face of the reader's machine, so each text
//! says how long it is: its box is right in any face.

use std::fmt::{self, Display, Formatter, Write};

use super::face;
use super::ink;
use super::role::{Fill, Style};
use super::scene::{Anchor, Mark, Point, Scene, Shape};
use super::text;
use crate::base::markup::escaped;

/// The width of the black edge of a line in colour.
const EDGE: f64 = 0.18;

/// The rule of a style that says where the face is.
pub(crate) fn face_rule(url: &str) -> String {
    format!("@font-face {{ font-family: \"{}\"; src: url({url}) format(\"truetype\"); }}", face::FAMILY)
}

/// The drawing, with its title and what it shows in words for whoever cannot see it.
pub(crate) fn print(scene: &Scene, title: &str, words: &str) -> String {
    let (width, height) = (Number(scene.size.width), Number(scene.size.height));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" role=\"graphics-document\" font-family=\"{}, sans-serif\" font-kerning=\"none\">\n\
         <title>{}</title>\n<desc>{}</desc>\n",
        face::FAMILY,
        escaped(title),
        escaped(words),
    );
    for mark in &scene.marks {
        svg.push_str(&linked(mark));
        svg.push('\n');
    }
    svg.push_str("</svg>\n");
    svg
}

/// A mark, inside a link where it leads somewhere or is led to.
fn linked(mark: &Mark) -> String {
    let Some(link) = &mark.link else { return element(mark) };
    let attribute = |name: &str, value: &str| {
        if value.is_empty() { String::new() } else { format!(" {name}=\"{}\"", escaped(value)) }
    };
    format!("<a{}{}>{}</a>", attribute("id", &link.id), attribute("href", &link.to), element(mark))
}

fn element(mark: &Mark) -> String {
    let style = mark.role.style();
    let class = mark.role.name();
    match &mark.shape {
        Shape::Line(points) => path(mark, &format!("M{}", through(points))),
        Shape::Polygon(points) => path(mark, &format!("M{}Z", through(points))),
        Shape::Rectangle(area) => format!(
            "<rect class=\"{class}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>",
            Number(area.corner.x),
            Number(area.corner.y),
            Number(area.size.width),
            Number(area.size.height),
            outline(mark),
        ),
        Shape::Circle { center, radius } => format!(
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
            Number(center.x),
            Number(center.y),
            Number(*radius),
            outline(mark)
        ),
        Shape::Text { at, anchor, text } => {
            let anchor = match anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            };
            let leans = if style.leans { " font-style=\"italic\"" } else { "" };
            // What the face lacks is drawn in another, whose width is not known.
            let length = if face::has(text) {
                format!(" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"", Number(text::width(text, style.text)))
            } else {
                String::new()
            };
            let (x, y) = (Number(at.x), Number(at.y));
            format!(
                "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" font-size=\"{}\"{anchor}{leans}{length}>{}</text>",
                Number(style.text),
                escaped(text)
            )
        }
    }
}

/// A line, open or closed. One in colour has black edges, and dashes of the second colour where there is one.
fn path(mark: &Mark, way: &str) -> String {
    let (style, class) = (mark.role.style(), mark.role.name());
    let closed = matches!(mark.shape, Shape::Polygon(_));
    let Some(colour) = mark.colour.filter(|_| !closed) else {
        return format!("<path class=\"{class}\" d=\"{way}\"{}/>", outline(mark));
    };
    let stroke = |class: &str, paint: &str, width: f64, dash: &str| {
        format!(
            "<path class=\"{class}\" d=\"{way}\" fill=\"none\" stroke=\"{paint}\" stroke-width=\"{}\"{dash}/>",
            Number(width)
        )
    };
    let edge = stroke(&class, "#000", style.line + 2.0 * EDGE, "");
    let base = stroke("colour", ink::paint(colour.base), style.line, "");
    let tracer =
        colour.tracer.map(|hue| stroke("colour", ink::paint(hue), style.line, " stroke-dasharray=\"1.2 1.8\""));
    edge + &base + &tracer.unwrap_or_default()
}

/// Fill and line of an outline.
fn outline(mark: &Mark) -> String {
    let style: Style = mark.role.style();
    let fill = match (mark.colour, style.fill) {
        (Some(colour), _) => ink::paint(colour.base),
        (None, Fill::None) => "none",
        (None, Fill::White) => "#fff",
        (None, Fill::Black) => "#000",
    };
    let mut paint = format!(" fill=\"{fill}\"");
    // Writing to a string cannot fail.
    if style.line > 0.0 {
        let _ = write!(paint, " stroke=\"#000\" stroke-width=\"{}\"", Number(style.line));
    }
    if let Some((dash, gap)) = style.dash {
        let _ = write!(paint, " stroke-dasharray=\"{} {}\"", Number(dash), Number(gap));
    }
    paint
}

fn through(points: &[Point]) -> String {
    let mut way = String::with_capacity(points.len() * 12);
    for Point { x, y } in points {
        let next = if way.is_empty() { "" } else { "L" };
        // Writing to a string cannot fail.
        let _ = write!(way, "{next}{} {}", Number(*x), Number(*y));
    }
    way
}

/// Hundredths of a millimetre, without what says nothing. A packet holds a quarter of a million of them: whole numbers are
/// printed several times as fast as broken ones.
struct Number(f64);

impl Display for Number {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        #[allow(clippy::cast_possible_truncation)] // a sheet is some metres at most
        let hundredths = (self.0 * 100.0).round() as i64;
        let sign = if hundredths < 0 { "-" } else { "" };
        let (whole, part) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
        match part {
            0 => write!(f, "{sign}{whole}"),
            part if part % 10 == 0 => write!(f, "{sign}{whole}.{}", part / 10),
            part => write!(f, "{sign}{whole}.{part:02}"),
        }
    }
}

//! A scene as SVG that stands alone: in a file, or inside a page.
//!
//! The only place that writes SVG. It knows the shapes and nothing else, so there is no element or attribute in it that
//! is not written here; text is escaped. Nothing has an id, so that several stand in one page.

use std::fmt::Write;

use super::role::{Fill, Style};
use super::scene::{Anchor, Mark, Point, Scene, Shape};
use crate::base::markup::escaped;

/// The faces that the sheets are printed in, too.
const FACES: &str = "Liberation Sans, DejaVu Sans, Arial, sans-serif";

/// The drawing, with its title and what it shows in words for whoever cannot see it.
pub(crate) fn print(scene: &Scene, title: &str, words: &str) -> String {
    let (width, height) = (number(scene.size.width), number(scene.size.height));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" aria-label=\"{}\" font-family=\"{FACES}\">\n<desc>{}</desc>\n",
        escaped(title),
        escaped(words),
    );
    for mark in &scene.marks {
        svg.push_str(&element(mark));
        svg.push('\n');
    }
    svg.push_str("</svg>\n");
    svg
}

fn element(mark: &Mark) -> String {
    let style = mark.role.style();
    match &mark.shape {
        Shape::Line(points) => {
            let points: Vec<String> = points.iter().map(|point| place(*point)).collect();
            format!("<path d=\"M{}\"{}/>", points.join("L"), paint(style))
        }
        Shape::Rectangle(area) => format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>",
            number(area.corner.x),
            number(area.corner.y),
            number(area.size.width),
            number(area.size.height),
            paint(style),
        ),
        Shape::Circle { center, radius } => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
            number(center.x),
            number(center.y),
            number(*radius),
            paint(style)
        ),
        Shape::Text { at, anchor, text } => {
            let anchor = match anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            };
            let leans = if style.leans { " font-style=\"italic\"" } else { "" };
            format!(
                "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{anchor}{leans}>{}</text>",
                number(at.x),
                number(at.y),
                number(style.text),
                escaped(text)
            )
        }
    }
}

/// Fill and line.
fn paint(style: Style) -> String {
    let mut paint = match style.fill {
        Fill::None => " fill=\"none\"".to_owned(),
        Fill::White => " fill=\"#fff\"".to_owned(),
        Fill::Black => " fill=\"#000\"".to_owned(),
    };
    // Writing to a string cannot fail.
    if style.line > 0.0 {
        let _ = write!(paint, " stroke=\"#000\" stroke-width=\"{}\"", number(style.line));
    }
    if let Some((dash, gap)) = style.dash {
        let _ = write!(paint, " stroke-dasharray=\"{} {}\"", number(dash), number(gap));
    }
    paint
}

fn place(point: Point) -> String {
    format!("{} {}", number(point.x), number(point.y))
}

/// Hundredths of a millimetre, without what says nothing.
fn number(value: f64) -> String {
    let printed = format!("{:.2}", value + 0.0);
    printed.trim_end_matches('0').trim_end_matches('.').to_owned()
}

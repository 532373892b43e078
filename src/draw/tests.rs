//! Test help for every drawing: what holds of marks on paper, whatever is drawn.

use super::role::Role;
use super::scene::{Anchor, Mark, Scene, Shape, Size};
use super::svg;
use super::text;

/// Left, top, right, lower edge.
type Edges = (f64, f64, f64, f64);

/// From the left, from the top.
type Place = (f64, f64);

/// Marks that meet may touch within this.
const TOUCH: f64 = 1e-6;

/// Height of capitals, in sizes of text.
const CAPITALS: f64 = 0.725;

/// Every fault of a scene: marks outside its frame, words on words, lines through words, letters too small to read.
pub(crate) fn faults(scene: &Scene) -> Vec<String> {
    let Size { width, height } = scene.size;
    let all: Vec<Edges> = scene.marks.iter().map(around).collect();
    let mut faults = Vec::new();
    for ((left, top, right, bottom), mark) in all.iter().zip(&scene.marks) {
        if *left < -TOUCH || *top < -TOUCH || *right > width + TOUCH || *bottom > height + TOUCH {
            faults.push(format!("outside: {mark:?}"));
        }
    }
    let is_text = |mark: &Mark| matches!(mark.shape, Shape::Text { .. });
    let outlines: Vec<Vec<Place>> = scene.marks.iter().map(corners).collect();
    let texts: Vec<(&Edges, &Mark)> = all.iter().zip(&scene.marks).filter(|(_, mark)| is_text(mark)).collect();
    for (at, (edges, mark)) in texts.iter().enumerate() {
        if mark.role.style().text * CAPITALS < 2.2 {
            faults.push(format!("too small: {mark:?}"));
        }
        for (_, other) in texts.iter().skip(at + 1).filter(|(other, _)| meet(edges, other)) {
            faults.push(format!("{mark:?} on {other:?}"));
        }
        for ((line, outline), around) in scene.marks.iter().zip(&outlines).zip(&all) {
            if meet(edges, around) && crosses(line, outline, edges) {
                faults.push(format!("{line:?} through {mark:?}"));
            }
        }
    }
    faults
}

fn meet(one: &Edges, other: &Edges) -> bool {
    one.0 < other.2 - TOUCH && other.0 < one.2 - TOUCH && one.1 < other.3 - TOUCH && other.1 < one.3 - TOUCH
}

/// True where a straight piece, as wide as its line, passes through a box.
fn passes(&(from, to): &(Place, Place), half: f64, edges: &Edges) -> bool {
    let (left, top, right, bottom) =
        (edges.0 - half + TOUCH, edges.1 - half + TOUCH, edges.2 + half - TOUCH, edges.3 + half - TOUCH);
    let mut span = (0.0_f64, 1.0_f64);
    for (start, end, low, high) in [(from.0, to.0, left, right), (from.1, to.1, top, bottom)] {
        let way = end - start;
        if way.abs() < 1e-12 {
            if start <= low || start >= high {
                return false;
            }
            continue;
        }
        let (one, other) = ((low - start) / way, (high - start) / way);
        span = (span.0.max(one.min(other)), span.1.min(one.max(other)));
    }
    span.0 < span.1
}

/// What a mark covers, with the width of its line.
fn around(mark: &Mark) -> Edges {
    let edges = mark.edges();
    (edges.left, edges.top, edges.right, edges.bottom)
}

/// The corners of what is drawn with a line, in order; a curve as many short pieces. None of a text.
fn corners(mark: &Mark) -> Vec<Place> {
    let curve = |x: f64, y: f64, radius: f64, from: f64, sweep: f64| {
        let at = |nth: i32| (from + sweep * f64::from(nth) / 36.0).to_radians();
        (0..=36).map(|nth| (x + radius * at(nth).cos(), y + radius * at(nth).sin())).collect()
    };
    match &mark.shape {
        Shape::Line(points) => points.iter().map(|point| (point.x, point.y)).collect(),
        Shape::Polygon(points) => points.iter().chain(points.first()).map(|point| (point.x, point.y)).collect(),
        Shape::Rectangle(area) => {
            let (x, y) = (area.corner.x, area.corner.y);
            let (right, bottom) = (x + area.size.width, y + area.size.height);
            vec![(x, y), (right, y), (right, bottom), (x, bottom), (x, y)]
        }
        Shape::Circle { center, radius } => curve(center.x, center.y, *radius, 0.0, 360.0),
        Shape::Text { .. } => Vec::new(),
    }
}

/// True where the line of a mark, by its corners, passes through a box.
fn crosses(mark: &Mark, corners: &[Place], edges: &Edges) -> bool {
    let half = mark.role.style().line / 2.0;
    corners.windows(2).any(|ends| passes(&(ends[0], ends[1]), half, edges))
}

/// The words of a scene, in the order in which they are drawn.
pub(crate) fn words(scene: &Scene) -> Vec<&str> {
    scene.marks.iter().filter_map(text_of).collect()
}

/// The words of a mark that has any.
fn text_of(mark: &Mark) -> Option<&str> {
    if let Shape::Text { text, .. } = &mark.shape { Some(text) } else { None }
}

/// Words that try to leave their text or attribute, or that XML has not.
pub(crate) const HOSTILE: [&str; 9] = [
    "</svg><script>alert(1)</script>",
    "a]]>b",
    "&amp; & \"c\" 'd' &#60;",
    "<img src=x onerror=alert(1)>",
    "\u{202E}e\u{2066}\u{0}\u{1b}[2J\r\n\u{7f}\u{FFFE}\u{2028}",
    "<!-- -- f",
    "<![CDATA[<?g?>",
    "</desc></text><a href=\"javascript:h\">",
    "<!DOCTYPE i [<!ENTITY j 'k'>]>&j;",
];

const SVG: &str = "http://www.w3.org/2000/svg";

/// The drawing as XML holds an element for each mark and no other, with the attributes that marks have, and it says the
/// title and the words as they are.
pub(crate) fn assert_only_ours(scene: &Scene, title: &str, words: &str) {
    let text = svg::print(scene, title, words);
    let parsed = roxmltree::Document::parse(&text).unwrap_or_else(|fault| panic!("{fault}\n{text}"));
    let elements: Vec<_> = parsed.descendants().filter(roxmltree::Node::is_element).collect();
    let named = |name: &str| elements.iter().filter(|element| element.has_tag_name((SVG, name))).count();
    let texts = scene.marks.iter().filter(|mark| matches!(mark.shape, Shape::Text { .. }));
    assert_eq!(named("text"), texts.count(), "{text}");
    assert_eq!(named("a"), scene.marks.iter().filter(|mark| mark.link.is_some()).count(), "{text}");
    assert!(parsed.descendants().all(|node| node.is_root() || node.is_element() || node.is_text()), "{text}");
    for element in &elements {
        let name = element.tag_name().name();
        let allowed: &[&str] = match name {
            "svg" => &["width", "height", "viewBox", "role", "font-family", "font-kerning"],
            "title" | "desc" => &[],
            "a" => &["id", "href"],
            "rect" => &["class", "x", "y", "width", "height", "fill", "stroke", "stroke-width", "stroke-dasharray"],
            "path" => &["class", "d", "fill", "stroke", "stroke-width", "stroke-dasharray"],
            "circle" => &["class", "cx", "cy", "r", "fill", "stroke", "stroke-width", "stroke-dasharray"],
            "text" => &[
                "class",
                "x",
                "y",
                "font-size",
                "font-style",
                "text-anchor",
                "textLength",
                "lengthAdjust",
                "transform",
            ],
            _ => panic!("<{name}> in {text}"),
        };
        for attribute in element.attributes() {
            assert!(allowed.contains(&attribute.name()), "{} of <{name}> in {text}", attribute.name());
        }
    }
    let read = |text: &str| -> String {
        let blank = |c: char| crate::base::wording::is_control(c) || c == '\u{2028}';
        text.chars()
            .map(|c| if blank(c) { ' ' } else { c })
            .map(|c| if c == '\u{FFFE}' { '\u{FFFD}' } else { c })
            .collect()
    };
    assert_eq!(elements[1].text().unwrap_or_default(), read(title));
    assert_eq!(elements[2].text().unwrap_or_default(), read(words));
}

#[test]
fn what_must_not_be_is_found() {
    let size = Size { width: 50.0, height: 20.0 };
    let words = |x: f64, y: f64| {
        let mut scene = Scene::default();
        scene.text(Role::Label, (x, y), Anchor::Start, &["words".to_owned()]);
        scene
    };
    assert_eq!(faults(&words(1.0, 1.0).framed(size)), Vec::<String>::new());
    assert!(!faults(&words(45.0, 1.0).framed(size)).is_empty(), "outside");
    let mut crossed = words(1.0, 5.0);
    crossed.line(Role::Cable, &[(0.5, 7.0), (49.0, 7.0)]);
    assert_eq!(faults(&crossed.framed(size)).len(), 1, "a line through words");
    let mut beside = words(5.0, 5.0);
    beside.line(Role::Cable, &[(1.0, 6.0), (14.0, 19.0)]);
    assert_eq!(faults(&beside.framed(size)), Vec::<String>::new(), "a slanted line that passes below");
    let mut slanted = words(5.0, 5.0);
    slanted.line(Role::Cable, &[(1.0, 2.0), (14.0, 12.0)]);
    assert_eq!(faults(&slanted.framed(size)).len(), 1, "a slanted line through words");
    let mut twice = words(1.0, 5.0);
    twice.text(Role::Label, (2.0, 6.0), Anchor::Start, &["words".to_owned()]);
    assert_eq!(faults(&twice.framed(size)).len(), 1, "words on words");
}

#[test]
fn text_breaks_where_it_may_and_nothing_is_lost() {
    let size = 3.5;
    let wrap = |text: &str, room: f64| text::wrap(text, size, room, 9);
    assert_eq!(wrap("Expander in the hoist room", 24.0), ["Expander in", "the hoist room"]);
    assert_eq!(wrap("BURIED-BUS", 16.0), ["BURIED-", "BUS"]);
    assert_eq!(wrap("end of DATA-3", 21.0), ["end of", "DATA-3"]);
    assert_eq!(wrap("  ", 16.0), Vec::<String>::new());
    let long = "W".repeat(20) + " é漢字\u{301}";
    let lines = wrap(&long, 16.0);
    assert_eq!(lines.concat(), long.replace(' ', ""));
    assert!(lines.iter().all(|line| text::width(line, size) <= 16.0), "{lines:?}");
    assert_eq!(text::wrap("one two three four", size, 15.0, 2), ["one two", "three…"]);
}

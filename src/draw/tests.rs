//! Test help for every drawing: what holds of marks on paper, whatever is drawn.

use super::role::Role;
use super::scene::{Anchor, Mark, Scene, Shape, Size};
use super::svg;
use super::text::{self, ASCENT, DESCENT};

/// Left, top, right, lower edge.
type Edges = (f64, f64, f64, f64);

/// Marks that meet may touch within this.
const TOUCH: f64 = 1e-6;

/// Every fault of a scene: marks outside its frame, words on words, lines through words, letters too small to read.
pub(crate) fn faults(scene: &Scene) -> Vec<String> {
    let Size { width, height } = scene.size;
    let edges: Vec<Edges> = scene.marks.iter().map(around).collect();
    let mut faults = Vec::new();
    for ((left, top, right, bottom), mark) in edges.iter().zip(&scene.marks) {
        if *left < -TOUCH || *top < -TOUCH || *right > width + TOUCH || *bottom > height + TOUCH {
            faults.push(format!("outside: {mark:?}"));
        }
    }
    let is_text = |mark: &Mark| matches!(mark.shape, Shape::Text { .. });
    let texts: Vec<(&Edges, &Mark)> = edges.iter().zip(&scene.marks).filter(|(_, mark)| is_text(mark)).collect();
    for (at, (edges, mark)) in texts.iter().enumerate() {
        if mark.role.style().text < 3.5 {
            faults.push(format!("too small: {mark:?}"));
        }
        for (_, other) in texts.iter().skip(at + 1).filter(|(other, _)| meet(edges, other)) {
            faults.push(format!("{mark:?} on {other:?}"));
        }
        for line in scene.marks.iter().filter(|line| segments(line).iter().any(|segment| meet(edges, segment))) {
            faults.push(format!("{line:?} through {mark:?}"));
        }
    }
    faults
}

fn meet(one: &Edges, other: &Edges) -> bool {
    one.0 < other.2 - TOUCH && other.0 < one.2 - TOUCH && one.1 < other.3 - TOUCH && other.1 < one.3 - TOUCH
}

/// What a mark covers, with the width of its line.
fn around(mark: &Mark) -> Edges {
    let style = mark.role.style();
    let half = style.line / 2.0;
    match &mark.shape {
        Shape::Line(points) => points.iter().fold((f64::MAX, f64::MAX, f64::MIN, f64::MIN), |edges, point| {
            let (x, y) = (point.x, point.y);
            (edges.0.min(x - half), edges.1.min(y - half), edges.2.max(x + half), edges.3.max(y + half))
        }),
        Shape::Rectangle(area) => {
            let (x, y) = (area.corner.x, area.corner.y);
            (x - half, y - half, x + area.size.width + half, y + area.size.height + half)
        }
        Shape::Circle { center, radius } => {
            let reach = radius + half;
            (center.x - reach, center.y - reach, center.x + reach, center.y + reach)
        }
        Shape::Text { at, anchor, text } => {
            let width = text::width(text, style.text);
            let left = match anchor {
                Anchor::Start => at.x,
                Anchor::Middle => at.x - width / 2.0,
                Anchor::End => at.x - width,
            };
            (left, at.y - ASCENT * style.text, left + width, at.y + DESCENT * style.text)
        }
    }
}

/// The straight pieces of a line or an outline; a dot as a whole.
fn segments(mark: &Mark) -> Vec<Edges> {
    let corners = |mark: &Mark| match &mark.shape {
        Shape::Line(points) => points.iter().map(|point| (point.x, point.y)).collect(),
        Shape::Rectangle(area) => {
            let (x, y) = (area.corner.x, area.corner.y);
            let (right, bottom) = (x + area.size.width, y + area.size.height);
            vec![(x, y), (right, y), (right, bottom), (x, bottom), (x, y)]
        }
        Shape::Circle { .. } | Shape::Text { .. } => Vec::new(),
    };
    let corners: Vec<(f64, f64)> = corners(mark);
    let half = mark.role.style().line / 2.0;
    let dot = matches!(mark.shape, Shape::Circle { .. }).then(|| around(mark));
    let pieces = corners.windows(2).map(|ends| {
        let ((x, y), (to_x, to_y)) = (ends[0], ends[1]);
        (x.min(to_x) - half, y.min(to_y) - half, x.max(to_x) + half, y.max(to_y) + half)
    });
    pieces.chain(dot).collect()
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

/// The drawing as XML holds an element for each mark and no other, with the attributes that marks have, and it says the
/// title and the words as they are.
pub(crate) fn assert_only_ours(scene: &Scene, title: &str, words: &str) {
    let text = svg::print(scene, title, words);
    let parsed = roxmltree::Document::parse(&text).unwrap_or_else(|fault| panic!("{fault}\n{text}"));
    let elements: Vec<_> = parsed.descendants().filter(roxmltree::Node::is_element).collect();
    assert_eq!(elements.len(), scene.marks.len() + 2, "{text}");
    assert!(parsed.descendants().all(|node| node.is_root() || node.is_element() || node.is_text()), "{text}");
    for element in &elements {
        let name = element.tag_name().name();
        let allowed: &[&str] = match name {
            "svg" => &["width", "height", "viewBox", "role", "aria-label", "font-family"],
            "desc" => &[],
            "rect" => &["x", "y", "width", "height", "fill", "stroke", "stroke-width", "stroke-dasharray"],
            "path" => &["d", "fill", "stroke", "stroke-width", "stroke-dasharray"],
            "circle" => &["cx", "cy", "r", "fill"],
            "text" => &["x", "y", "font-size", "font-style", "text-anchor"],
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
    assert_eq!(elements[0].attribute("aria-label"), Some(read(title).as_str()));
    assert_eq!(elements[1].text().unwrap_or_default(), read(words));
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
    let mut twice = words(1.0, 5.0);
    twice.text(Role::Label, (2.0, 6.0), Anchor::Start, &["words".to_owned()]);
    assert_eq!(faults(&twice.framed(size)).len(), 1, "words on words");
}

#[test]
fn text_breaks_where_it_may_and_nothing_is_lost() {
    let size = 3.5;
    let wrap = |text: &str, room| text::wrap(text, size, room, 9);
    assert_eq!(wrap("Expander in the hoist room", 26.0), ["Expander in", "the hoist room"]);
    assert_eq!(wrap("BURIED-BUS", 16.0), ["BURIED-", "BUS"]);
    assert_eq!(wrap("end of DATA-3", 25.0), ["end of", "DATA-3"]);
    assert_eq!(wrap("  ", 16.0), Vec::<String>::new());
    let long = "W".repeat(20) + " é漢字\u{301}";
    let lines = wrap(&long, 16.0);
    assert_eq!(lines.concat(), long.replace(' ', ""));
    assert!(lines.iter().all(|line| text::width(line, size) <= 16.0), "{lines:?}");
    assert_eq!(text::wrap("one two three four", size, 15.0, 2), ["one two", "three…"]);
}

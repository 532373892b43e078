//! A drawing on its sheet: the frame, and at its foot the title block, whose fields are those of ISO 7200 that a house
//! needs.

use super::face;
use super::role::Role;
use super::scene::{Anchor, Scene, Shape, Size};
use super::text;

/// The title block.
#[derive(Clone, Debug, Default)]
pub(crate) struct TitleBlock {
    /// What the drawing is called.
    pub(crate) title: String,
    /// The site.
    pub(crate) site: String,
    /// Mark and day of the revision; empty where there is none.
    pub(crate) revision: String,
    /// Who it is for.
    pub(crate) readers: String,
    /// Its scale, or "not to scale".
    pub(crate) scale: String,
    /// Which part of how many it is.
    pub(crate) part: (usize, usize),
}

/// From the frame to what is in it.
pub(crate) const INSET: f64 = 2.5;
/// Between two fields.
const APART: f64 = 4.0;
/// Said where the face lacks a sign.
const LACKING: &str = "Signs that the face of the drawings lacks are drawn as the reader's machine has them.";

/// The room that is left for a drawing on a sheet of some size, from the inset at the left and at the top.
pub(crate) fn room(sheet: Size) -> Size {
    Size { width: sheet.width - 2.0 * INSET, height: sheet.height - 2.0 * INSET - height() }
}

/// Height of the title block, its remark on signs included.
fn height() -> f64 {
    text::height(1, Role::Title) + text::height(2, Role::Field) + 3.0
}

/// The drawing with its title block below `bottom`, and a frame around both. What was drawn lies in [`room`].
pub(crate) fn finish(mut scene: Scene, width: f64, bottom: f64, block: &TitleBlock) -> Scene {
    let lacks = scene.marks.iter().any(|mark| matches!(&mark.shape, Shape::Text { text, .. } if !face::has(text)));
    let top = bottom + 1.0;
    let edge = Role::Rule.style().line / 2.0;
    scene.line(Role::Rule, &[(edge, top), (width - edge, top)]);
    let (part, parts) = block.part;
    let part = if parts > 1 { format!("part {part} of {parts}") } else { String::new() };
    let right = fields(&[&part, &block.scale]);
    let size = Role::Field.style().text;
    let inside = width - 2.0 * INSET;
    let free = inside - text::width(&right, size) - APART;
    let title = text::wrap(&block.title, Role::Title.style().text, free, 1);
    let y = top + 1.0;
    scene.text(Role::Title, (INSET, y), Anchor::Start, &title);
    scene.text(Role::Field, (width - INSET, y + 0.6), Anchor::End, &[right]);
    let y = y + text::height(1, Role::Title);
    let others = fields(&[&block.revision, &block.readers]);
    // What the site's name leaves is theirs, and no less than the most of the line.
    let beside = (inside - text::width(&block.site, size) - APART).max(inside * 0.7);
    let others = text::wrap(&others, size, beside, 1);
    let taken = others.first().map_or(0.0, |line| text::width(line, size));
    scene.text(Role::Field, (width - INSET, y), Anchor::End, &others);
    let site = text::wrap(&block.site, size, inside - taken - APART, 1);
    scene.text(Role::Field, (INSET, y), Anchor::Start, &site);
    let mut y = y + text::height(1, Role::Field);
    if lacks {
        let lines = text::wrap(LACKING, size, inside, 1);
        y = scene.text(Role::Field, (INSET, y), Anchor::Start, &lines);
    }
    scene.framed(Size { width, height: y + 1.0 })
}

fn fields(fields: &[&str]) -> String {
    fields.iter().filter(|field| !field.is_empty()).copied().collect::<Vec<_>>().join("  ·  ")
}

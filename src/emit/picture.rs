//! A drawing of a document as its page and its file have it: printed once for both.

use crate::draw::{Size, svg};
use crate::views::Drawing;

/// A drawing as SVG.
#[derive(Clone, Debug)]
pub(crate) struct Picture {
    /// The name of its file.
    pub(crate) file: String,
    /// What is in the file.
    pub(crate) svg: String,
    /// The ids of places in it that others lead to.
    pub(crate) places: Vec<String>,
    /// How large it is.
    pub(crate) size: Size,
    /// True where it lists what other sheets have in rows.
    pub(crate) lists_rooms: bool,
}

impl Picture {
    /// Prints a drawing.
    pub(crate) fn of(drawing: &Drawing) -> Self {
        let Drawing { title, words, scene, .. } = drawing;
        let ids = scene.marks.iter().filter_map(|mark| mark.link.as_ref()).map(|link| &link.id);
        let places = ids.filter(|id| !id.is_empty()).cloned().collect();
        Self {
            file: drawing.file(),
            svg: svg::print(scene, title, words),
            places,
            size: scene.size,
            lists_rooms: scene.lists_rooms,
        }
    }
}

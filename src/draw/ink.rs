//! Colours of conductors and bands as they are drawn.
//!
//! The letters of a colour always stand beside it, and each line has black edges: a print may be grey, and a conductor
//! white.

use crate::quantity::colour::Hue;

/// How a colour is told in SVG: shades that differ in grey as well as they can.
pub(super) fn paint(hue: Hue) -> &'static str {
    match hue {
        Hue::Black => "#000",
        Hue::Brown => "#7a4a21",
        Hue::Red => "#d0211c",
        Hue::Orange => "#ee7f1a",
        Hue::Yellow => "#ffd91a",
        Hue::Green => "#1d8a3a",
        Hue::Blue => "#1f5fc4",
        Hue::Violet => "#7b3fa0",
        Hue::Grey => "#8f8f8f",
        Hue::White => "#fff",
        Hue::Pink => "#f4a6c0",
        Hue::Turquoise => "#4cc4c4",
        Hue::Gold => "#c9a227",
        Hue::Silver => "#c8c8c8",
    }
}

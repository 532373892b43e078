//! The face that drawings are lettered in: how wide its signs are.
//!
//! Each page with drawings carries it, so a text is as wide on every machine as it was measured here. Signs do not change
//! or move beside others in it: a text is as wide as its signs are together. Its licence lies beside it and is in it.

use std::sync::LazyLock;

use ttf_parser::Face;

/// The face as a file.
pub(crate) static FILE: &[u8] = include_bytes!("../../templates/face/loopwright-sheet.ttf");
/// What it is called in a style.
pub(crate) const FAMILY: &str = "Loopwright Sheet";

/// Wider than any sign of the usual faces, pictures included, in sizes of text.
const WIDEST: f64 = 1.3;

static FACE: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(FILE, 0).ok());

/// How far a sign reaches along its line, in sizes of text; of one that the face lacks, the most that it may.
pub(crate) fn advance(sign: char) -> f64 {
    known_advance(sign).unwrap_or(WIDEST)
}

/// True where the face has all signs of a text.
pub(crate) fn has(text: &str) -> bool {
    text.chars().all(|sign| known_advance(sign).is_some())
}

fn known_advance(sign: char) -> Option<f64> {
    let face = FACE.as_ref()?;
    let advance = face.glyph_hor_advance(face.glyph_index(sign)?)?;
    Some(f64::from(advance) / f64::from(face.units_per_em()))
}

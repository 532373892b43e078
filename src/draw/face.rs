//! The face that drawings are lettered in: how wide its signs are.
//!
//! Each page with drawings carries it, so a text is as wide on every machine as it was measured here. Signs do not change
//! or move beside others in it: a text is as wide as its signs are together. Its licence lies beside it and is in it.

use std::sync::LazyLock;

use ttf_parser::Face;
use ttf_parser::cmap::Subtable;

/// The face as a file.
pub(crate) static FILE: &[u8] = include_bytes!("../../templates/face/loopwright-sheet.ttf");
/// What it is called in a style.
pub(crate) const FAMILY: &str = "Loopwright Sheet";

/// Wider than any sign of the usual faces, pictures included, in sizes of text.
const WIDEST: f64 = 1.3;

/// The last sign that the face has is before this one, but for the mark of what could not be read.
const END: usize = 0x2800;

/// How far each sign reaches, by its number; asked for so often that the face is read once.
static ADVANCES: LazyLock<Vec<Option<f64>>> = LazyLock::new(|| {
    let mut advances = vec![None; END];
    let Ok(face) = Face::parse(FILE, 0) else { return advances };
    let em = f64::from(face.units_per_em());
    let tables = face.tables().cmap.into_iter().flat_map(|cmap| cmap.subtables).filter(Subtable::is_unicode);
    for table in tables {
        table.codepoints(|code| {
            let advance = table.glyph_index(code).and_then(|glyph| face.glyph_hor_advance(glyph));
            if let Some(place) = usize::try_from(code).ok().and_then(|code| advances.get_mut(code)) {
                *place = advance.map(|advance| f64::from(advance) / em);
            }
        });
    }
    advances
});

/// How far a sign reaches along its line, in sizes of text; of one that the face lacks, the most that it may.
pub(crate) fn advance(sign: char) -> f64 {
    known_advance(sign).unwrap_or(WIDEST)
}

/// True where the face has all signs of a text.
pub(crate) fn has(text: &str) -> bool {
    text.chars().all(|sign| known_advance(sign).is_some())
}

fn known_advance(sign: char) -> Option<f64> {
    ADVANCES.get(usize::try_from(u32::from(sign)).ok()?).copied().flatten()
}

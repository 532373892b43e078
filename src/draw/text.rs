//! How wide a text is on paper, and where its lines break.
//!
//! Measured in `DejaVu Sans`, the widest of the faces that a reader is likely to have; in the others (Liberation Sans,
//! Arial, Helvetica) a text is narrower and still in its box. What the table below lacks counts as wide as the widest
//! sign of any usual face.

use super::role::Role;

/// From the upper edge of a line to its base line, in sizes of text.
pub(crate) const ASCENT: f64 = 0.93;
/// From the base line to the lower edge, in sizes of text.
#[cfg(test)]
pub(crate) const DESCENT: f64 = 0.24;
/// From line to line, in sizes of text.
const LEADING: f64 = 1.25;

/// Advance widths of `DejaVu Sans` in thousandths of its size, rounded up: U+0020 to U+007E.
#[rustfmt::skip]
static ASCII: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637, 637, 637, 637, 637,
    637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632, 576, 775, 752, 295, 295, 656, 558, 863,
    749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 337, 391, 838, 500, 500, 613, 635, 550, 635,
    616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612, 635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637,
    337, 637, 838,
];

/// The same for the letters with marks of European languages: U+00A0 to U+017F.
#[rustfmt::skip]
static LATIN: [u16; 224] = [
    318, 401, 637, 637, 637, 637, 337, 500, 500, 1000, 472, 612, 838, 361, 1000, 500, 500, 838, 401, 401, 500, 637, 637,
    318, 500, 401, 472, 612, 970, 970, 970, 531, 685, 685, 685, 685, 685, 685, 975, 699, 632, 632, 632, 632, 295, 295,
    295, 295, 775, 749, 788, 788, 788, 788, 788, 838, 788, 732, 732, 732, 732, 611, 605, 630, 613, 613, 613, 613, 613,
    613, 982, 550, 616, 616, 616, 616, 278, 278, 278, 278, 612, 634, 612, 612, 612, 612, 612, 838, 612, 634, 634, 634,
    634, 592, 635, 592, 685, 613, 685, 613, 685, 613, 699, 550, 699, 550, 699, 550, 699, 550, 771, 635, 775, 635, 632,
    616, 632, 616, 632, 616, 632, 616, 632, 616, 775, 635, 775, 635, 775, 635, 775, 635, 752, 634, 917, 695, 295, 278,
    295, 278, 295, 278, 295, 278, 295, 278, 590, 556, 295, 278, 656, 580, 580, 558, 278, 558, 278, 558, 375, 558, 342,
    563, 285, 749, 634, 749, 634, 749, 634, 814, 749, 634, 788, 612, 788, 612, 788, 612, 1070, 1023, 695, 412, 695, 412,
    695, 412, 635, 521, 635, 521, 635, 521, 635, 521, 611, 393, 611, 393, 611, 393, 732, 634, 732, 634, 732, 634, 732,
    634, 732, 634, 732, 634, 989, 818, 611, 592, 611, 686, 525, 686, 525, 686, 525, 353,
];

/// Wider than any sign of the usual faces, pictures included.
const WIDEST: u16 = 1300;

/// The height of lines of text below one another, in millimetres.
pub(crate) fn height(lines: usize, role: Role) -> f64 {
    f64::from(u32::try_from(lines).unwrap_or(u32::MAX)) * LEADING * role.style().text
}

/// The most that a text takes along its line, in millimetres.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    text.chars().map(|character| f64::from(advance(character))).sum::<f64>() * size / 1000.0
}

fn advance(character: char) -> u16 {
    let in_table = |table: &[u16], first: u32| {
        let at = u32::from(character).checked_sub(first)?;
        table.get(usize::try_from(at).ok()?).copied()
    };
    match character {
        'Ω' => 765,
        '…' => 1000,
        _ => in_table(&ASCII, 0x20).or_else(|| in_table(&LATIN, 0xA0)).unwrap_or(WIDEST),
    }
}

/// A text in lines of at most `room` millimetres. It breaks at blanks; a word that is too long breaks behind hyphens and
/// strokes, else anywhere. Of more than `most` lines the last that is left ends with dots.
pub(crate) fn wrap(text: &str, size: f64, room: f64, most: usize) -> Vec<String> {
    let fits = |line: &str| width(line, size) <= room;
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_inclusive(' ') {
        for piece in pieces(word, size, room) {
            // A blank at the end of a line takes no room.
            if !line.is_empty() && !fits(format!("{line}{piece}").trim()) {
                lines.push(std::mem::take(&mut line));
            }
            line.push_str(&piece);
        }
    }
    lines.push(line);
    let mut lines: Vec<String> =
        lines.into_iter().map(|line| line.trim().to_owned()).filter(|line| !line.is_empty()).collect();
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            while !fits(&format!("{last}…")) && last.pop().is_some() {}
            last.push('…');
        }
    }
    lines
}

/// A word as it is, or in pieces that fit a line.
fn pieces(word: &str, size: f64, room: f64) -> Vec<String> {
    let fits = |text: &str| width(text.trim_end(), size) <= room;
    if fits(word) {
        return vec![word.to_owned()];
    }
    let (mut pieces, mut piece) = (Vec::new(), String::new());
    for part in word.split_inclusive(['-', '/']) {
        if fits(part) {
            pieces.push(part.to_owned());
            continue;
        }
        for character in part.chars() {
            if !piece.is_empty() && width(&piece, size) + width(character.encode_utf8(&mut [0; 4]), size) > room {
                pieces.push(std::mem::take(&mut piece));
            }
            piece.push(character);
        }
        pieces.push(std::mem::take(&mut piece));
    }
    pieces
}

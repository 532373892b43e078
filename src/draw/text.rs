//! How wide and high a text is on paper, and where its lines break.

use super::face::advance;
use super::role::Role;
use super::scene::Size;
use crate::quantity::unit::is_unit_of;

/// From the upper edge of a line to its base line, in sizes of text.
pub(crate) const ASCENT: f64 = 1.0;
/// From the base line to the lower edge, in sizes of text.
#[cfg(test)]
pub(crate) const DESCENT: f64 = 0.25;
/// From line to line, in sizes of text.
const LEADING: f64 = 1.25;

/// A count as a length is multiplied by it.
pub(crate) fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

/// The height of lines of text below one another, in millimetres.
pub(crate) fn height(lines: usize, role: Role) -> f64 {
    count(lines) * LEADING * role.style().text
}

/// The extent of lines of text below one another.
pub(crate) fn size(lines: &[String], role: Role) -> Size {
    let width = lines.iter().map(|line| width(line, role.style().text)).fold(0.0, f64::max);
    Size { width, height: height(lines.len(), role) }
}

/// What a text takes along its line, in millimetres; the most where the face lacks a sign of it.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    text.chars().map(advance).sum::<f64>() * size
}

/// As [`wrap`], in the size of a role.
pub(crate) fn lines(role: Role, text: &str, room: f64, most: usize) -> Vec<String> {
    wrap(text, role.style().text, room, most)
}

/// A text in lines of at most `room` millimetres. It breaks at blanks; a word that is too long breaks behind hyphens and
/// strokes, else anywhere. Of more than `most` lines the last that is left ends with dots.
pub(crate) fn wrap(text: &str, size: f64, room: f64, most: usize) -> Vec<String> {
    let fits = |line: &str| width(line, size) <= room;
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words(text) {
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

/// The words of a text, each with the blank behind it; a unit is part of its number, for half of a value is another value.
fn words(text: &str) -> Vec<&str> {
    let mut words: Vec<&str> = Vec::new();
    let mut start = 0;
    let mut end = 0;
    for word in text.split_inclusive(' ') {
        let before = text.get(start..end).unwrap_or_default();
        if !is_unit_of(word, before.trim_end()) {
            words.extend(Some(before).filter(|before| !before.is_empty()));
            start = end;
        }
        end += word.len();
    }
    words.extend(text.get(start..end));
    words
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_stays_with_its_number() {
        // At each width: no line begins with a unit whose number ends the line before.
        let text =
            "in series between this terminal and the cable: 2.2 kΩ ±5 % (red red red gold); transformer 16.5 V, 40 VA";
        for room in 8_u8..60 {
            let lines = wrap(text, 2.0, f64::from(room), 99);
            assert_eq!(lines.join(" ").replace(' ', ""), text.replace(' ', ""));
            for pair in lines.windows(2) {
                let first = pair[1].split(' ').next().unwrap();
                assert!(!is_unit_of(first, &pair[0]), "{pair:?} in {room}");
            }
        }
    }
}

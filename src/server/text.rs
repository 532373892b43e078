//! Texts as an editor counts them: lines, and columns in units of UTF-8 or UTF-16.
//!
//! A place that is not in the text is the nearest one that is: an editor and a server may disagree for a moment, and
//! neither should stop for it.

use lsp_types::{Position, PositionEncodingKind, Range, TextDocumentContentChangeEvent};

use crate::base::line_starts;

/// What a column counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Encoding {
    /// Bytes.
    Utf8,
    /// Units of UTF-16, which every editor understands.
    #[default]
    Utf16,
}

impl Encoding {
    /// Bytes where the editor offers them, for nothing has to be counted then.
    pub(crate) fn of_offer(offered: &[PositionEncodingKind]) -> Self {
        if offered.contains(&PositionEncodingKind::UTF8) { Self::Utf8 } else { Self::Utf16 }
    }

    /// Its name in the protocol.
    pub(crate) fn kind(self) -> PositionEncodingKind {
        match self {
            Self::Utf8 => PositionEncodingKind::UTF8,
            Self::Utf16 => PositionEncodingKind::UTF16,
        }
    }

    fn width(self, character: char) -> usize {
        match self {
            Self::Utf8 => character.len_utf8(),
            Self::Utf16 => character.len_utf16(),
        }
    }

    /// The columns that a piece of a line takes.
    pub(crate) fn columns(self, text: &str) -> u32 {
        number(text.chars().map(|character| self.width(character)).sum())
    }
}

/// A text with the places where its lines start.
#[derive(Debug)]
pub(crate) struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
    encoding: Encoding,
}

impl<'t> Lines<'t> {
    /// The lines of a text.
    pub(crate) fn new(text: &'t str, encoding: Encoding) -> Self {
        Self { text, starts: line_starts(text), encoding }
    }

    /// The line of a byte, from 0.
    pub(crate) fn line_of(&self, offset: usize) -> usize {
        self.starts.partition_point(|start| *start <= offset).saturating_sub(1)
    }

    /// First byte of a line and the byte behind its last character.
    pub(crate) fn extent(&self, line: usize) -> (usize, usize) {
        let Some(start) = self.starts.get(line).copied() else { return (self.text.len(), self.text.len()) };
        let end = self.starts.get(line + 1).copied().unwrap_or(self.text.len());
        let content = self.text.get(start..end).unwrap_or_default().trim_end_matches(['\n', '\r']);
        (start, start + content.len())
    }

    /// The place of a byte.
    pub(crate) fn position(&self, offset: usize) -> Position {
        let offset = self.text.floor_char_boundary(offset.min(self.text.len()));
        let line = self.line_of(offset);
        let before = self.text.get(self.extent(line).0..offset).unwrap_or_default();
        Position { line: number(line), character: self.encoding.columns(before) }
    }

    /// The range of some bytes.
    pub(crate) fn range(&self, start: usize, end: usize) -> Range {
        Range { start: self.position(start), end: self.position(end) }
    }

    /// The byte of a place.
    pub(crate) fn offset(&self, position: Position) -> usize {
        let (start, end) = self.extent(position.line as usize);
        let mut left = position.character as usize;
        let mut offset = start;
        for character in self.text.get(start..end).unwrap_or_default().chars() {
            let width = self.encoding.width(character);
            if left < width {
                break;
            }
            left -= width;
            offset += character.len_utf8();
        }
        offset
    }
}

/// Does one change of an editor to a text.
pub(crate) fn change(text: &mut String, change: TextDocumentContentChangeEvent, encoding: Encoding) {
    let Some(range) = change.range else {
        *text = change.text;
        return;
    };
    let lines = Lines::new(text, encoding);
    let (one, other) = (lines.offset(range.start), lines.offset(range.end));
    text.replace_range(one.min(other)..one.max(other), &change.text);
}

/// A number of the protocol.
fn number(value: usize) -> u32 {
    u32::try_from(value).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(line: u32, character: u32) -> Position {
        Position { line, character }
    }

    #[test]
    fn columns_count_what_was_agreed_on() {
        let text = "é🚪x\r\nb\rc\n";
        for (encoding, behind_door, x) in [(Encoding::Utf8, 6, 7), (Encoding::Utf16, 3, 4)] {
            let lines = Lines::new(text, encoding);
            assert_eq!(lines.position("é🚪".len()), at(0, behind_door));
            assert_eq!(lines.offset(at(0, behind_door)), "é🚪".len());
            assert_eq!(lines.offset(at(0, x)), "é🚪x".len());
            // Past the end of the line, and past the last line.
            assert_eq!(lines.offset(at(0, 99)), "é🚪x".len());
            assert_eq!(lines.offset(at(99, 0)), text.len());
            assert_eq!(lines.position(text.find('c').unwrap()), at(2, 0));
            assert_eq!(lines.position(text.len()), at(3, 0));
        }
        // Between the two halves of a character there is no place.
        assert_eq!(Lines::new(text, Encoding::Utf16).offset(at(0, 2)), "é".len());
        assert_eq!(Lines::new(text, Encoding::Utf8).offset(at(0, 1)), 0);
    }

    #[test]
    fn changes_out_of_range_are_done_at_the_nearest_place() {
        let mut text = "a\nb\n".to_owned();
        let range = Some(Range { start: at(70, 3), end: at(1, 500) });
        change(
            &mut text,
            TextDocumentContentChangeEvent { range, range_length: None, text: "é".into() },
            Encoding::Utf16,
        );
        assert_eq!(text, "a\nbé");
        change(
            &mut text,
            TextDocumentContentChangeEvent { range: None, range_length: None, text: "c".into() },
            Encoding::Utf8,
        );
        assert_eq!(text, "c");
    }

    proptest! {
        #[test]
        fn places_lead_back(text in "[aé🚪\r\n]{0,20}", at in 0_usize..40) {
            for encoding in [Encoding::Utf8, Encoding::Utf16] {
                let lines = Lines::new(&text, encoding);
                let offset = text.floor_char_boundary(at.min(text.len()));
                // What stands between the two marks of a line end is the end of that line.
                let between = text[..offset].ends_with('\r') && text[offset..].starts_with('\n');
                let expected = if between { offset - 1 } else { offset };
                prop_assert_eq!(lines.offset(lines.position(offset)), expected);
            }
        }
    }
}

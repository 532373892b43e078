//! Source files in memory, with a line index made once per file.

use std::sync::Arc;

use super::span::FileId;

/// One file: its path as shown on screen and as printed on paper, its text, and where its lines start.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Path as shown on screen, relative to where the user named it, with `/`.
    pub(crate) path: String,
    /// Path as the spec names it, relative to the site's folder: the same wherever the program was started.
    pub(crate) in_site: String,
    /// The whole text; a byte-order mark has been taken off.
    pub(crate) text: String,
    line_starts: Vec<usize>,
    /// How many characters begin before every [`STEP`]th byte: a long line is not counted again for each place in it.
    characters: Vec<usize>,
}

const STEP: usize = 1024;

/// Where the lines of a text start: each ends with `\n`, `\r\n` or `\r`.
pub(crate) fn line_starts(text: &str) -> Vec<usize> {
    let bytes = text.as_bytes();
    let ends = bytes.iter().enumerate().filter(|(at, byte)| match byte {
        b'\n' => true,
        b'\r' => bytes.get(at + 1) != Some(&b'\n'),
        _ => false,
    });
    std::iter::once(0).chain(ends.map(|(at, _)| at + 1)).collect()
}

impl SourceFile {
    /// A text that tests make, under one path.
    #[cfg(test)]
    pub(crate) fn new(path: impl Into<String>, text: impl Into<String>) -> Self {
        let path = path.into();
        Self::of_site(path.clone(), path, text)
    }

    /// As [`Self::new`], with the path in the site's folder and the path on screen.
    pub(crate) fn of_site(in_site: impl Into<String>, shown: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let line_starts = line_starts(&text);
        let steps = text.as_bytes().chunks(STEP).scan(0, |before, step| {
            let here = *before;
            *before += beginning(step);
            Some(here)
        });
        let characters = steps.collect();
        Self { path: shown.into(), in_site: in_site.into(), text, line_starts, characters }
    }

    /// Number of the line that holds byte `offset`, from 0.
    pub(crate) fn line_of(&self, offset: usize) -> usize {
        self.line_starts.partition_point(|start| *start <= offset).saturating_sub(1)
    }

    /// First byte of line `line` (from 0); the text's end past the last line.
    pub(crate) fn line_start(&self, line: usize) -> usize {
        self.line_starts.get(line).copied().unwrap_or(self.text.len())
    }

    /// How many lines there are; at least 1.
    pub(crate) fn line_count(&self) -> usize {
        self.line_starts.len()
    }

    /// Line and column of a byte, both from 1; the column counts characters.
    pub(crate) fn line_column(&self, offset: usize) -> (usize, usize) {
        let line = self.line_of(offset);
        let column = self.characters_before(offset).saturating_sub(self.characters_before(self.line_start(line)));
        (line + 1, column + 1)
    }

    fn characters_before(&self, offset: usize) -> usize {
        let offset = offset.min(self.text.len());
        let step = offset / STEP;
        let rest = self.text.as_bytes().get(step * STEP..offset).unwrap_or_default();
        self.characters.get(step).copied().unwrap_or_else(|| self.text.chars().count()) + beginning(rest)
    }

    /// The text of a range; empty where the range is not one of this text.
    pub(crate) fn slice(&self, start: usize, end: usize) -> &str {
        self.text.get(start..end).unwrap_or("")
    }
}

/// How many characters begin in some bytes of UTF-8.
fn beginning(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| **byte & 0b1100_0000 != 0b1000_0000).count()
}

/// The files of one compilation in canonical order.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Vec<Arc<SourceFile>>,
}

impl Sources {
    /// Adds a file and gives its id.
    pub(crate) fn add(&mut self, file: impl Into<Arc<SourceFile>>) -> FileId {
        let id = self.next();
        self.files.push(file.into());
        id
    }

    /// The id of the file that is added next.
    pub(crate) fn next(&self) -> FileId {
        FileId::of(self.files.len())
    }

    /// The files with their ids, in order.
    pub(crate) fn entries(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        (0_u32..).map(FileId).zip(self.files.iter().map(Arc::as_ref))
    }

    /// The file of an id.
    pub(crate) fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize).map(Arc::as_ref)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let file = SourceFile::new("a.kdl", "ab\nçd\n");
        assert_eq!(file.line_column(0), (1, 1));
        assert_eq!(file.line_column(3), (2, 1));
        assert_eq!(file.line_column(5), (2, 2));
        assert_eq!(file.line_column(7), (3, 1));
        assert_eq!(file.line_count(), 3);
        assert_eq!(line_starts("a\rb\r\nc\n\rd"), [0, 2, 5, 7, 8]);
    }

    #[test]
    fn columns_of_a_long_line_count_characters() {
        let text = format!("a\n{}", "çd".repeat(2 * STEP));
        let file = SourceFile::new("a.kdl", text.as_str());
        for characters in [0, 1, STEP - 1, STEP, STEP + 1, 4 * STEP] {
            let offset = 2 + "çd".repeat(characters / 2).len() + if characters % 2 == 1 { "ç".len() } else { 0 };
            assert_eq!(file.line_column(offset), (2, characters + 1));
        }
        assert_eq!(file.line_column(text.len() + 7), (2, 4 * STEP + 1));
    }
}

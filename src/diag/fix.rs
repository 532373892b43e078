//! The change of the text that a finding's help asks for, where it is one that a program can make.
//!
//! A fix is one or more edits that belong together: all are made or none. Whether it is safe to make without asking is
//! its [`Certainty`]. Out of scope: where the new text comes from (the rule knows), and writing files.

use std::collections::BTreeSet;

use crate::base::{FileId, SourceFile, Span};

/// How sure it is that the author wants a fix.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Certainty {
    /// The house is to be built or changed so, and the text follows it: never made for many findings at once.
    House,
    /// The new text is the author's guess to confirm: another name, another value.
    Likely,
    /// The new text says what the old one meant.
    Certain,
}

/// New text in the place of old text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The old text; empty where something is put in.
    pub(crate) span: Span,
    /// The new text.
    pub(crate) text: String,
}

/// Edits that together remedy a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// How sure it is that they are wanted.
    pub certainty: Certainty,
    /// The edits, in no order; they do not overlap.
    pub edits: Vec<Edit>,
}

/// A line of a file before or after a fix.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ChangedLine {
    /// Its number in the file before the fix, from 1.
    pub(crate) number: usize,
    /// True for the new text.
    pub(crate) new: bool,
    pub(crate) text: String,
    /// The first byte of `text` that is changed.
    pub(crate) at: usize,
}

impl Fix {
    /// The files that it changes.
    pub(crate) fn files(&self) -> BTreeSet<FileId> {
        self.edits.iter().map(|edit| edit.span.file).collect()
    }

    /// The lines of a file that it changes: of each place those before, then those after.
    pub(crate) fn changed_lines(&self, id: FileId, file: &SourceFile) -> Vec<ChangedLine> {
        let mut edits: Vec<&Edit> = self.edits.iter().filter(|edit| edit.span.file == id).collect();
        edits.sort_by_key(|edit| edit.span.start);
        let lines = |edit: &Edit| (file.line_of(edit.span.start), file.line_of(edit.span.end));
        let mut changed = Vec::new();
        for place in edits.chunk_by(|one, next| lines(one).1 >= lines(next).0) {
            let (Some(first), Some(last)) = (place.first(), place.last()) else { continue };
            let (from, to) = (file.line_start(lines(first).0), file.line_start(lines(last).1 + 1));
            let before = file.slice(from, to);
            let after = applied(before, from, place);
            for (new, text) in [(false, before), (true, after.as_str())] {
                let mut at = (first.span.start - from).min(text.len());
                for (index, line) in text.lines().enumerate() {
                    let number = lines(first).0 + 1 + if new { 0 } else { index };
                    changed.push(ChangedLine { number, new, text: line.to_owned(), at: at.min(line.len()) });
                    at = at.saturating_sub(line.len() + 1);
                }
            }
        }
        changed
    }
}

/// A piece of a file that starts at byte `from`, after edits within it that are in order and do not overlap.
pub(crate) fn applied(piece: &str, from: usize, edits: &[&Edit]) -> String {
    let mut text = String::with_capacity(piece.len());
    let mut at = from;
    for edit in edits {
        text.push_str(piece.get(at.saturating_sub(from)..edit.span.start.saturating_sub(from)).unwrap_or_default());
        // A line put in ends as the others do, and what is taken from the end of a line leaves no blank.
        if piece.contains("\r\n") {
            text.push_str(&edit.text.replace("\r\n", "\n").replace('\n', "\r\n"));
        } else {
            text.push_str(&edit.text);
        }
        at = edit.span.end;
        let behind = piece.get(at.saturating_sub(from)..).unwrap_or_default();
        if edit.text.is_empty() && (behind.is_empty() || behind.starts_with(['\n', '\r'])) {
            text.truncate(text.trim_end_matches(' ').len());
        }
    }
    text.push_str(piece.get(at.saturating_sub(from)..).unwrap_or_default());
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fix(edits: &[(usize, usize, &str)]) -> Fix {
        let edit = |(start, end, text): &(usize, usize, &str)| Edit {
            span: Span::new(FileId::default(), *start, *end),
            text: (*text).to_owned(),
        };
        Fix { certainty: Certainty::Certain, edits: edits.iter().map(edit).collect() }
    }

    fn lines(text: &str, edits: &[(usize, usize, &str)]) -> Vec<String> {
        let file = SourceFile::new("site.kdl", text);
        let told =
            |line: ChangedLine| format!("{}{}{}@{}", line.number, if line.new { '+' } else { '-' }, line.text, line.at);
        fix(edits).changed_lines(FileId::default(), &file).into_iter().map(told).collect()
    }

    #[test]
    fn the_lines_before_and_after_are_told() {
        assert_eq!(lines("a\nb 46ft c\nd\n", &[(4, 8, "(ft)46")]), ["2-b 46ft c@2", "2+b (ft)46 c@2"]);
        assert_eq!(lines("a b\nc\n", &[(2, 3, "B"), (0, 1, "A")]), ["1-a b@0", "1+A B@0"]);
        assert_eq!(lines("a\nb\nc", &[(0, 1, "A"), (4, 5, "C")]), ["1-a@0", "1+A@0", "3-c@0", "3+C@0"]);
        // A line put in stands in the place of the one that follows it.
        assert_eq!(lines("a\nb\n", &[(2, 2, "x\n")]), ["2-b@0", "2+x@0", "2+b@0"]);
        assert_eq!(lines("a\nb", &[(3, 3, "\nc")]), ["2-b@1", "2+b@1", "2+c@0"]);
        // One that is taken out leaves nothing.
        assert_eq!(lines("a\nb\nc\n", &[(2, 4, "")]), ["2-b@0", "3-c@0", "2+c@0"]);
    }
}

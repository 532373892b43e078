//! Marks that git leaves in a file where two branches changed the same lines.

use super::rules;
use crate::base::{FileId, Span};
use crate::diag::{Certainty, Diagnostic};

/// The first marks of an unfinished merge: where it begins, where it ends.
pub(crate) fn merge_marks(file: FileId, text: &str) -> Option<(Span, Option<Span>)> {
    let mut start = 0;
    let mut first = None;
    for line in text.split_inclusive('\n') {
        let span = Span::new(file, start, start + line.trim_end().len());
        start += line.len();
        let mark = |mark: &str| line.starts_with(mark);
        if first.is_none() && (mark("<<<<<<<") || mark(">>>>>>>") || mark("=======") || mark("|||||||")) {
            first = Some(span);
        } else if let Some(first) = first.filter(|_| mark(">>>>>>>")) {
            return Some((first, Some(span)));
        }
    }
    first.map(|first| (first, None))
}

/// A text of which a merge is unfinished, as each of the two branches has it; what both came from is left out.
pub(crate) fn sides(text: &str) -> [String; 2] {
    let mut sides = [String::new(), String::new()];
    // Which of the two a line belongs to; none for what both came from.
    let mut of = [true, true];
    for line in text.split_inclusive('\n') {
        match line.get(..7) {
            Some("<<<<<<<") => of = [true, false],
            Some("|||||||") => of = [false, false],
            Some("=======") => of = [false, true],
            Some(">>>>>>>") => of = [true, true],
            _ => {
                for (side, _) in sides.iter_mut().zip(of).filter(|(_, has)| *has) {
                    side.push_str(line);
                }
            }
        }
    }
    sides
}

/// A mark that stands alone: the others were taken out, and it was forgotten. Not a row of signs in a text or comment.
fn alone(file: FileId, text: &str) -> Option<Diagnostic> {
    let mut start = 0;
    let mut found = None;
    let mut marks: usize = 0;
    let mut in_text = false;
    for line in text.split_inclusive('\n') {
        let trimmed = line.trim_end();
        let is_mark =
            |mark: &str| trimmed == mark || trimmed.strip_prefix(mark).is_some_and(|rest| rest.starts_with(' '));
        if ["<<<<<<<", "=======", ">>>>>>>"].into_iter().any(is_mark) && !in_text {
            marks += 1;
            found = Some((Span::new(file, start, start + trimmed.len()), Span::new(file, start, start + line.len())));
        }
        // Texts of several lines and comments may hold anything.
        in_text ^= line.matches("\"\"\"").count() % 2 == 1;
        in_text |= line.contains("/*");
        in_text &= !line.contains("*/");
        start += line.len();
    }
    let (mark, whole) = found.filter(|_| marks == 1)?;
    Some(
        Diagnostic::new(&rules::MERGE_UNFINISHED, mark, "a mark of a merge was left in the file")
            .here("left by git")
            .why("Git writes such lines where two branches changed the same lines. The others of this merge were taken out, and this one was forgotten.")
            .help("Take the line out, and look whether both sides of the merge still stand beside it.")
            .edit(Certainty::Certain, whole, ""),
    )
}

/// What a spec is told of which a merge is unfinished.
pub(super) fn unfinished(file: FileId, text: &str) -> Option<Diagnostic> {
    if let Some(found) = alone(file, text) {
        return Some(found);
    }
    if !text.contains("<<<<<<<") {
        return None;
    }
    let (start, end) = merge_marks(file, text)?;
    let opens = text.get(start.start..start.end).is_some_and(|line| line.starts_with("<<<<<<<"));
    let end = end.filter(|_| opens)?;
    Some(
        Diagnostic::new(&rules::MERGE_UNFINISHED, start, "the file holds an unfinished merge")
            .here("the merge could not be finished here")
            .also(end, "to here")
            .why("Two branches changed the same lines. While both stand in the file, nothing in it can be read.")
            .help("Keep of both sides what the house is to have, and take the marks out: the lines that begin with <<<<<<<, ======= and >>>>>>>."),
    )
}

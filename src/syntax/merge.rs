//! Marks that git leaves in a file where two branches changed the same lines.

use super::rules;
use crate::base::{FileId, Span};
use crate::diag::Diagnostic;

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

/// What a spec is told of which a merge is unfinished. A line of `=======` alone is none: it may stand in a text.
pub(super) fn unfinished(file: FileId, text: &str) -> Option<Diagnostic> {
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

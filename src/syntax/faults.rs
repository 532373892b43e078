//! The diagnostics of one file, with a cap: a file that is no spec at all gives a few and a count.

use super::rules;
use super::token::{Flaw, Kind, Token};
use crate::base::{FileId, Span};
use crate::diag::{Diagnostic, Label, Rule, Sink};

/// How many diagnostics one file's text may give.
const AT_MOST: usize = 50;

/// Collects the diagnostics of one file.
#[derive(Default)]
pub(crate) struct Faults {
    file: FileId,
    found: Vec<Diagnostic>,
    left_out: usize,
    /// Those in doubtful text.
    withheld: Vec<Diagnostic>,
    /// Text between quotation marks that do not pair up, in order: whether it is a string or not is unknown.
    doubtful: Vec<(usize, usize)>,
    /// Strings that end with the `=` of a property: their closing mark is missing, and took that of a value.
    swallowed: Vec<(usize, usize)>,
    /// Where lines end.
    newlines: Vec<usize>,
}

impl Faults {
    /// None yet.
    pub(crate) fn new(file: FileId) -> Self {
        Self { file, ..Self::default() }
    }

    /// Notes the lines whose quotation marks do not pair up: between them only that is reported.
    pub(crate) fn doubt_unpaired(&mut self, text: &str, tokens: &[Token]) {
        let mut first_string: Option<usize> = None;
        let mut swallowed: Option<(usize, usize)> = None;
        for token in tokens {
            match (token.kind, first_string) {
                (Kind::Newline, _) => {
                    (first_string, swallowed) = (None, None);
                    self.newlines.push(token.start);
                }
                (Kind::Quoted, Some(from)) if token.flaw == Some(Flaw::Unclosed) => {
                    self.doubtful.push((swallowed.map_or(from, |(start, _)| start), token.end));
                    self.swallowed.extend(swallowed);
                }
                (Kind::Quoted, None) => {
                    first_string = Some(token.end);
                    swallowed = Some((token.start, token.end)).filter(|_| token.text(text).ends_with("=\""));
                }
                _ => {}
            }
        }
    }

    /// The doubtful text that holds this byte.
    fn doubt(&self, at: usize) -> Option<(usize, usize)> {
        let behind = self.doubtful.partition_point(|(start, _)| *start <= at);
        behind.checked_sub(1).and_then(|b| self.doubtful.get(b)).copied().filter(|(_, end)| at < *end)
    }

    /// A diagnostic of `rule` at these bytes of the file.
    pub(crate) fn at(&self, rule: &'static Rule, start: usize, end: usize, title: impl Into<String>) -> Diagnostic {
        Diagnostic::new(rule, self.span(start, end), title)
    }

    /// These bytes of the file.
    pub(crate) fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start, end)
    }

    /// Adds a diagnostic.
    pub(crate) fn push(&mut self, mut diagnostic: Diagnostic) {
        if diagnostic.rule == &rules::STRING_UNCLOSED {
            let at = diagnostic.span().start;
            // The string on this line that took in a property is the one whose end is missing.
            let culprit = self.doubt(at).and_then(|(from, _)| self.swallowed.iter().find(|(start, _)| *start == from));
            if let (Some((start, end)), Some(first)) = (culprit.copied(), diagnostic.labels.first_mut()) {
                first.span = self.span(start, end);
                "this string has taken in what follows it".clone_into(&mut first.text);
            }
        }
        if diagnostic.rule != &rules::STRING_UNCLOSED && self.doubt(diagnostic.span().start).is_some() {
            self.withheld.push(diagnostic);
            return;
        }
        // Commas and quotation marks of one line are one slip, mended together.
        let line = |at: usize| self.newlines.partition_point(|end| *end <= at);
        let place = diagnostic.span();
        if matches!(diagnostic.rule.slug, "comma" | "quotation-mark")
            && let Some(last) = self.found.last_mut()
            && last.rule == diagnostic.rule
            && line(last.span().start) == line(place.start)
        {
            last.labels.push(Label { span: place, text: "here as well".to_owned() });
            if let (Some(fix), Some(more)) = (&mut last.fix, diagnostic.fix) {
                fix.edits.extend(more.edits);
            }
            return;
        }
        if self.found.len() < AT_MOST {
            self.found.push(diagnostic);
        } else {
            self.left_out += 1;
        }
    }

    /// How many there have been, those past the cap and in doubtful text among them.
    pub(crate) fn count(&self) -> usize {
        self.found.len() + self.left_out + self.withheld.len()
    }

    /// Hands them over; the last one says how many more there were.
    pub(crate) fn report(mut self, sink: &mut Sink) {
        let withheld = std::mem::take(&mut self.withheld);
        let explained = |d: &Diagnostic, found: &[Diagnostic]| {
            let doubt = self.doubt(d.span().start);
            found.iter().any(|f| f.rule == &rules::STRING_UNCLOSED && self.doubt(f.span().start) == doubt)
        };
        let unexplained: Vec<Diagnostic> = withheld.into_iter().filter(|d| !explained(d, &self.found)).collect();
        let room = AT_MOST.saturating_sub(self.found.len());
        self.found.extend(unexplained.into_iter().take(room));
        self.found.sort_by_key(|d| d.span().start);
        if let Some(last) = self.found.last_mut()
            && self.left_out > 0
        {
            last.figures.push(format!("and {} more in this file", self.left_out));
        }
        sink.extend(self.found);
    }
}

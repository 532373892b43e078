//! The diagnostic value and the list it is collected in.

use super::fix::{Certainty, Edit, Fix};
use super::rule::{Rule, Severity};
use crate::base::Span;
use crate::base::wording::thousands;

/// A place involved, with a few words on its part in the matter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The place.
    pub(crate) span: Span,
    /// A few words; may be empty.
    pub text: String,
}

/// One finding, in slots that each have their job: title, labels, one paragraph, figures, one help.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    /// The rule that speaks.
    pub rule: &'static Rule,
    /// One line, with names: "input 3 of main is used twice".
    pub title: String,
    /// Every place involved, in whatever file; the first is where the diagnostic stands.
    pub labels: Vec<Label>,
    /// Why it matters, in the installer's words; one paragraph.
    pub paragraph: String,
    /// The figures behind the verdict, one a line; may be empty.
    pub figures: Vec<String>,
    /// One concrete thing to do.
    pub help: String,
    /// The same as a change of the text, where a program can make it.
    pub fix: Option<Fix>,
    /// The reason, where the site accepts this finding.
    pub accepted: Option<String>,
    /// What the finding is about, for `accept` to name: zone numbers and names.
    pub subjects: Vec<String>,
}

impl Diagnostic {
    /// A diagnostic of `rule` that stands at `span`.
    pub fn new(rule: &'static Rule, span: Span, title: impl Into<String>) -> Self {
        Self {
            rule,
            title: title.into(),
            labels: vec![Label { span, text: String::new() }],
            paragraph: String::new(),
            figures: Vec::new(),
            help: String::new(),
            fix: None,
            accepted: None,
            subjects: Vec::new(),
        }
    }

    /// Words at the place where the diagnostic stands.
    #[must_use]
    pub(crate) fn here(mut self, text: impl Into<String>) -> Self {
        if let Some(first) = self.labels.first_mut() {
            first.text = text.into();
        }
        self
    }

    /// One more place involved.
    #[must_use]
    pub(crate) fn also(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// The paragraph that says why.
    #[must_use]
    pub fn why(mut self, text: impl Into<String>) -> Self {
        self.paragraph = text.into();
        self
    }

    /// One line of figures.
    #[must_use]
    pub(crate) fn figure(mut self, text: impl Into<String>) -> Self {
        self.figures.push(text.into());
        self
    }

    /// The concrete thing to do.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help = text.into();
        self
    }

    /// An edit that does what the help says; several belong together, and are as sure as the least sure of them.
    #[must_use]
    pub(crate) fn edit(mut self, certainty: Certainty, span: Span, text: impl Into<String>) -> Self {
        let fix = self.fix.get_or_insert(Fix { certainty, edits: Vec::new() });
        fix.certainty = fix.certainty.min(certainty);
        fix.edits.push(Edit { span, text: text.into() });
        self
    }

    /// A zone number or name that this finding is about.
    #[must_use]
    pub(crate) fn about(mut self, subject: impl std::fmt::Display) -> Self {
        self.subjects.push(subject.to_string());
        self
    }

    /// True for an error.
    pub(crate) fn is_error(&self) -> bool {
        self.severity() == Severity::Error
    }

    /// Severity of the rule.
    pub fn severity(&self) -> Severity {
        self.rule.severity()
    }

    /// The order in which diagnostics are shown: by place, then by rule.
    pub(crate) fn in_order(a: &Self, b: &Self) -> std::cmp::Ordering {
        let key = |d: &Self| (d.span().file, d.span().start, d.rule.slug);
        key(a).cmp(&key(b)).then_with(|| a.title.cmp(&b.title))
    }

    /// The place where the diagnostic stands.
    pub(crate) fn span(&self) -> Span {
        self.labels.first().map(|l| l.span).unwrap_or_default()
    }
}

/// How many findings of each severity are kept: nobody reads more, and a text that is no spec gives one for each line.
const MOST: usize = 10_000;

/// Collects diagnostics; put in order once, at the end.
#[derive(Clone, Debug, Default)]
pub struct Sink {
    found: Vec<Diagnostic>,
    /// How many notes, warnings and errors there have been, those that are not kept among them.
    counted: [usize; 3],
}

impl Sink {
    /// Adds a diagnostic; counts it only, where there are many of its severity.
    pub(crate) fn push(&mut self, diagnostic: Diagnostic) {
        let counted = self.counted(diagnostic.severity());
        *counted += 1;
        if *counted <= MOST {
            self.found.push(diagnostic);
        }
    }

    /// Adds an error that is made only where it is kept.
    pub(crate) fn error(&mut self, make: impl FnOnce() -> Diagnostic) {
        let [.., errors] = &mut self.counted;
        if *errors < MOST {
            self.push(make());
        } else {
            *errors += 1;
        }
    }

    /// Takes the findings of a rule out again.
    pub(crate) fn forget(&mut self, rule: &Rule) {
        let before = self.found.len();
        self.found.retain(|found| found.rule != rule);
        let gone = before - self.found.len();
        *self.counted(rule.severity()) -= gone;
    }

    fn counted(&mut self, severity: Severity) -> &mut usize {
        let [notes, warnings, errors] = &mut self.counted;
        match severity {
            Severity::Note => notes,
            Severity::Warning => warnings,
            Severity::Error => errors,
        }
    }

    /// True when an error is among them.
    pub(crate) fn has_errors(&self) -> bool {
        let [.., errors] = self.counted;
        errors > 0
    }

    /// How many are not kept.
    pub(crate) fn left_out(&self) -> usize {
        self.counted.iter().sum::<usize>() - self.found.len()
    }

    /// What has been collected, in the order it came.
    pub fn found(&self) -> &[Diagnostic] {
        &self.found
    }

    /// All of them in the order of the source, each once; the last one says how many more there were.
    pub fn into_sorted(self) -> Vec<Diagnostic> {
        let left_out = self.left_out();
        let mut found = self.found;
        found.sort_by(Diagnostic::in_order);
        found.dedup();
        if let Some(last) = found.last_mut()
            && left_out > 0
        {
            let more = if left_out == 1 { "finding, which is" } else { "findings, which are" };
            last.figures.push(format!("and {} more {more} not listed", thousands(left_out)));
        }
        found
    }
}

impl Extend<Diagnostic> for Sink {
    fn extend<I: IntoIterator<Item = Diagnostic>>(&mut self, found: I) {
        found.into_iter().for_each(|found| self.push(found));
    }
}

#[cfg(test)]
mod tests {
    use super::super::Basis;
    use super::*;

    static ERROR: Rule = Rule { slug: "error", basis: Basis::Language, summary: "", page: "" };
    static NOTE: Rule = Rule { slug: "note", basis: Basis::Practice, summary: "", page: "" };

    #[test]
    fn so_many_of_each_severity_are_kept_and_the_others_counted() {
        let mut sink = Sink::default();
        for at in 0..MOST {
            sink.push(Diagnostic::new(&NOTE, Span::new(crate::base::FileId::default(), at, at), ""));
        }
        assert_eq!((sink.left_out(), sink.has_errors()), (0, false));
        assert!(sink.clone().into_sorted().iter().all(|found| found.figures.is_empty()));
        sink.push(Diagnostic::new(&NOTE, Span::default(), "one too many"));
        // Nothing else keeps an error out.
        sink.error(|| Diagnostic::new(&ERROR, Span::default(), "this matters"));
        assert_eq!((sink.left_out(), sink.has_errors()), (1, true));
        let found = sink.into_sorted();
        assert_eq!(found.len(), MOST + 1);
        assert!(found.iter().any(|found| found.title == "this matters"));
        assert_eq!(found.last().unwrap().figures, ["and 1 more finding, which is not listed"]);
    }

    #[test]
    fn errors_that_are_not_kept_are_not_made() {
        let mut sink = Sink::default();
        (0..MOST).for_each(|_| sink.error(|| Diagnostic::new(&ERROR, Span::default(), "")));
        sink.error(|| unreachable!());
        assert_eq!((sink.left_out(), sink.found().len()), (1, MOST));
    }
}

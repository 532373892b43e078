//! The diagnostic value and the list it is collected in.

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

    /// A zone number or name that this finding is about.
    #[must_use]
    pub(crate) fn about(mut self, subject: impl std::fmt::Display) -> Self {
        self.subjects.push(subject.to_string());
        self
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
        let [notes, warnings, errors] = &mut self.counted;
        let counted = match diagnostic.severity() {
            Severity::Note => notes,
            Severity::Warning => warnings,
            Severity::Error => errors,
        };
        *counted += 1;
        if *counted <= MOST {
            self.found.push(diagnostic);
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
            last.figures.push(format!("and {} more findings, which are not listed", thousands(left_out)));
        }
        found
    }
}

impl Extend<Diagnostic> for Sink {
    fn extend<I: IntoIterator<Item = Diagnostic>>(&mut self, found: I) {
        found.into_iter().for_each(|found| self.push(found));
    }
}

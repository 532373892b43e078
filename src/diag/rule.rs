//! A rule: stable slug, basis, one-line summary and its page.

/// How serious a diagnostic is. An error leaves the packet unwritten; a warning and a note do not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
pub enum Severity {
    /// Practice, or something to confirm.
    Note,
    /// A published limit, or something written that has no effect.
    Warning,
    /// Physics, or a spec that contradicts itself.
    Error,
}

impl Severity {
    /// The word in every output.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// Why a rule may speak at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// The text is not in the spec language.
    Language,
    /// The spec contradicts itself, or the wall cannot be as written.
    Contradiction,
    /// Written, and nothing comes of it: probably a slip.
    NoEffect,
    /// Two statements of the spec that are hardly both right, though a wall could be so.
    Mismatch,
    /// What is written can be built, and does not do what it is for.
    Works,
    /// What a text probably means.
    Guess,
    /// A published limit; the text names document and edition.
    Published(&'static str),
    /// What was measured on site does not agree with the spec.
    Measured,
    /// Common practice; never a code requirement.
    Practice,
}

impl Basis {
    /// The severity that follows from the basis.
    pub(crate) fn severity(self) -> Severity {
        match self {
            Self::Language | Self::Contradiction => Severity::Error,
            Self::NoEffect | Self::Mismatch | Self::Works | Self::Guess | Self::Published(_) | Self::Measured => {
                Severity::Warning
            }
            Self::Practice => Severity::Note,
        }
    }

    /// The basis in words, as printed.
    pub(crate) fn words(self) -> String {
        match self {
            Self::Language => "the spec language".into(),
            Self::Contradiction => "contradiction in the spec".into(),
            Self::NoEffect => "no effect as written".into(),
            Self::Mismatch => "two statements that do not go together".into(),
            Self::Works => "how such equipment works".into(),
            Self::Guess => "a guess from what is written".into(),
            Self::Published(source) => source.into(),
            Self::Measured => "what was measured on site".into(),
            Self::Practice => "common practice".into(),
        }
    }
}

/// A rule of the compiler. Made by the [`rule!`](crate::rule) macro, which ties it to its page.
#[derive(Debug)]
pub struct Rule {
    /// Stable name, words joined by `-`.
    pub slug: &'static str,
    /// Why it may speak; gives the severity.
    pub basis: Basis,
    /// One line: what it found, without figures.
    pub(crate) summary: &'static str,
    /// The page in Markdown: what it saw, why it matters, bad, good, when to accept it.
    pub page: &'static str,
}

impl Rule {
    /// The severity that follows from the rule's basis.
    pub fn severity(&self) -> Severity {
        self.basis.severity()
    }
}

impl PartialEq for Rule {
    fn eq(&self, other: &Self) -> bool {
        self.slug == other.slug
    }
}

/// Declares a rule whose page is the file `<slug>.md` beside the declaring file.
#[macro_export]
macro_rules! rule {
    ($slug:literal, $basis:expr, $summary:literal) => {
        $crate::diag::Rule { slug: $slug, basis: $basis, summary: $summary, page: include_str!(concat!($slug, ".md")) }
    };
}

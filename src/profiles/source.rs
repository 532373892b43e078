//! Where a published figure stands, how we know it, and the one way in which both are printed.
//!
//! A clause is printed only where it was read: clauses move from edition to edition, and one from memory would send the
//! reader to the wrong place. Practice is never printed as what a document asks for.

use crate::quantity::print::FOOT;
use crate::quantity::{Metres, Seconds};

/// How we know a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Read in a copy or a quotation of the text.
    Quoted,
    /// Read in a summary of the text.
    Summary,
    /// Read in part; the rest is from memory of the text.
    InPart,
    /// From memory of the text, which was not at hand.
    FromMemory,
    /// From memory, and not sure: to be looked up before it is relied on.
    Unsure,
    /// No document asks for it: what the trade does.
    Practice,
}

impl Known {
    /// Every degree, the surest first.
    pub const ALL: [Self; 6] =
        [Self::Quoted, Self::Summary, Self::InPart, Self::FromMemory, Self::Unsure, Self::Practice];

    /// In a few words, as printed behind a figure.
    pub fn words(self) -> &'static str {
        match self {
            Self::Quoted => "quoted",
            Self::Summary => "summary read",
            Self::InPart => "quoted in part",
            Self::FromMemory => "from memory",
            Self::Unsure => "from memory, not sure",
            Self::Practice => "common practice",
        }
    }

    /// What the words mean, for the sheet that explains them.
    pub fn meaning(self) -> &'static str {
        match self {
            Self::Quoted => "we read it in a copy or a quotation of the text",
            Self::Summary => "we read it in a summary of the text",
            Self::InPart => "we read some of it there; the rest is from memory of the text",
            Self::FromMemory => "we had no text at hand, so no clause is given",
            Self::Unsure => "the same, and we may be wrong: look it up",
            Self::Practice => "what the trade does; no document asks for it here",
        }
    }

    /// True where text was read, so that a clause may be printed.
    pub fn was_read(self) -> bool {
        match self {
            Self::Quoted | Self::Summary | Self::InPart => true,
            Self::FromMemory | Self::Unsure | Self::Practice => false,
        }
    }
}

/// Edition of a document where the copies that were read name none.
pub const NOT_NAMED: &str = "edition not named";

/// Where a figure stands and how we know it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Source {
    /// The document's short name; for practice, where its value is taken from, or empty.
    pub document: &'static str,
    /// Its edition, [`NOT_NAMED`], or empty where the document's name has it, and for practice.
    pub edition: &'static str,
    /// The clause, table or chapter; empty where none was read.
    pub clause: &'static str,
    /// How we know it.
    pub known: Known,
}

impl Source {
    /// A place in a document.
    pub const fn new(document: &'static str, edition: &'static str, clause: &'static str, known: Known) -> Self {
        Self { document, edition, clause, known }
    }

    /// Common practice.
    pub const fn practice() -> Self {
        Self::new("", "", "", Known::Practice)
    }

    /// Common practice whose value is taken from a text on something else; `from` begins with "taken from" or "as".
    pub const fn borrowed(from: &'static str) -> Self {
        Self::new(from, "", "", Known::Practice)
    }

    /// Document, clause, edition and how we know it, in one line: "IRC R602.6, edition not named, quoted".
    pub fn cited(&self) -> String {
        let Self { document, edition, clause, known } = *self;
        if known == Known::Practice {
            let parts = [known.words(), document];
            return parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ");
        }
        let place =
            if known.was_read() && !clause.is_empty() { format!("{document} {clause}") } else { document.to_owned() };
        let parts = [place.as_str(), edition, known.words()];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
    }
}

/// A number with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// Its value, in the unit that its row says.
    pub value: f64,
    /// Where it stands.
    pub source: Source,
}

impl Figure {
    /// A figure of a document.
    pub const fn new(value: f64, source: Source) -> Self {
        Self { value, source }
    }

    /// A figure of common practice.
    pub const fn practice(value: f64) -> Self {
        Self { value, source: Source::practice() }
    }

    /// The value as a time, of a row in seconds.
    pub fn time(&self) -> Seconds {
        Seconds(self.value)
    }

    /// The value as a length, of a row in feet.
    pub(crate) fn feet(&self) -> Metres {
        Metres(self.value * FOOT)
    }

    /// Its source in one line.
    pub fn source(&self) -> String {
        self.source.cited()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clause_is_printed_only_where_it_was_read() {
        let source = |known| Source::new("IRC", NOT_NAMED, "R602.6", known).cited();
        assert_eq!(source(Known::Quoted), "IRC R602.6, edition not named, quoted");
        assert_eq!(source(Known::FromMemory), "IRC, edition not named, from memory");
        assert_eq!(source(Known::Unsure), "IRC, edition not named, from memory, not sure");
        assert_eq!(Source::practice().cited(), "common practice");
        assert_eq!(Source::borrowed("taken from elsewhere").cited(), "common practice, taken from elsewhere");
    }
}

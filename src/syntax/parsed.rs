//! What kdl made of pieces before, by their text: a piece that has not changed is not parsed again.
//!
//! For whoever reads the texts of a site again and again. Places do not matter: a piece that has moved is the same piece.

use std::sync::Arc;

use kdl::{KdlDocument, KdlError};

use crate::base::memo::Memo;

/// See the module's head.
#[derive(Debug, Default)]
pub(crate) struct Parsed(Memo<String, KdlDocument>);

impl Parsed {
    /// Begins another reading: what the last one had is kept until the next.
    pub(crate) fn turn(&mut self) {
        self.0.turn();
    }
}

/// Parses a piece, unless it is known.
pub(super) fn document(known: Option<&Parsed>, text: &str) -> Result<Arc<KdlDocument>, KdlError> {
    let Some(Parsed(known)) = known else { return KdlDocument::parse_v2(text).map(Arc::new) };
    known.try_get(text.to_owned(), |text| KdlDocument::parse_v2(text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::FileId;
    use crate::diag::Sink;
    use crate::syntax::{parse, parse_again};

    fn knows(parsed: &Parsed, text: &str) -> bool {
        parsed.0.known(&text.to_owned()).is_some()
    }

    #[test]
    fn what_is_known_is_read_as_if_it_were_not() {
        let mut parsed = Parsed::default();
        for text in ["a 1; b 2\n", "// moved\n\na 1; b 2\nc {", "b 2\na 1; b 2\n\nb 2\n", "a 1"] {
            parsed.turn();
            let (mut one, mut other) = (Sink::default(), Sink::default());
            let again = parse_again(FileId::default(), text, Some(&parsed), &mut one);
            assert_eq!(again, parse(FileId::default(), text, &mut other));
            assert_eq!(one.found(), other.found());
        }
        // Only the pieces of this reading and the last are kept.
        assert!(knows(&parsed, "a 1") && !knows(&parsed, "c {"));
        parsed.turn();
        parsed.turn();
        assert!(!knows(&parsed, "a 1"));
    }
}

//! What kdl made of pieces before, by their text: a piece that has not changed is not parsed again.
//!
//! For whoever reads the texts of a site again and again. Places do not matter: a piece that has moved is the same piece.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use kdl::{KdlDocument, KdlError};

type Pieces = BTreeMap<String, Rc<KdlDocument>>;

/// See the module's head.
#[derive(Debug, Default)]
pub struct Parsed {
    before: Pieces,
    now: RefCell<Pieces>,
}

impl Parsed {
    /// Begins another reading: what the last one had is kept until the next.
    pub(crate) fn turn(&mut self) {
        self.before = self.now.take();
    }

    fn known(&self, text: &str) -> Option<Rc<KdlDocument>> {
        self.now.borrow().get(text).or_else(|| self.before.get(text)).cloned()
    }
}

/// Parses a piece, unless it is known.
pub(super) fn document(known: Option<&Parsed>, text: &str) -> Result<Rc<KdlDocument>, KdlError> {
    let Some(parsed) = known else { return KdlDocument::parse_v2(text).map(Rc::new) };
    let document = parsed.known(text).map_or_else(|| KdlDocument::parse_v2(text).map(Rc::new), Ok)?;
    parsed.now.borrow_mut().insert(text.to_owned(), Rc::clone(&document));
    Ok(document)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::FileId;
    use crate::diag::Sink;
    use crate::syntax::{parse, parse_again};

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
        // Only the pieces of the last two readings are kept.
        assert!(parsed.known("a 1").is_some() && parsed.known("c {").is_none());
        parsed.turn();
        parsed.turn();
        assert!(parsed.known("a 1").is_none());
    }
}

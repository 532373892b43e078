//! The list, in an output folder, of the files that the program wrote there: how it knows its own from others'.
//!
//! One line a file, sorted: digest, blank, path. The digest tells that a file was changed by hand since; it guards
//! against slips, not against malice.

use std::collections::BTreeMap;

use rayon::prelude::*;
use twox_hash::XxHash3_128;

use super::names::is_plain;
use crate::base;
use crate::emit::Bundle;

/// Name of the list in the output folder.
pub(super) const NAME: &str = ".loopwright-manifest";

const HEAD: &str = "loopwright manifest 2\n";

/// What the list began with while digests were another kind; such a packet is still known as ours.
const OLD_HEAD: &str = "loopwright manifest 1\n";

/// Path in the output folder, with `/` → digest of what the program wrote there.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Manifest(pub(super) BTreeMap<String, String>);

impl Manifest {
    /// The list of a packet.
    pub(super) fn of(bundle: &Bundle) -> Self {
        Self(bundle.files.par_iter().map(|(path, bytes)| (path.clone(), digest(bytes))).collect())
    }

    /// Reads a list; `None` where the text is not one that the program wrote.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let mut manifest = Self::default();
        for line in text.strip_prefix(HEAD).or_else(|| text.strip_prefix(OLD_HEAD))?.lines() {
            let (digest, path) = line.split_once(' ')?;
            if !is_plain(path) {
                return None;
            }
            manifest.0.insert(path.to_owned(), digest.to_owned());
        }
        Some(manifest)
    }

    /// The list as text.
    pub(super) fn print(&self) -> String {
        let lines = self.0.iter().map(|(path, digest)| format!("{digest} {path}\n"));
        HEAD.chars().chain(lines.collect::<String>().chars()).collect()
    }

    /// True where these bytes are what the program wrote at this path.
    pub(super) fn knows(&self, path: &str, bytes: &[u8]) -> bool {
        self.0.get(path).is_some_and(|known| *known == digest(bytes) || *known == old_digest(bytes))
    }
}

/// Length and digest of a file: XXH3, 128 bits, as its authors publish it.
fn digest(bytes: &[u8]) -> String {
    format!("{}-{:032x}", bytes.len(), XxHash3_128::oneshot(bytes))
}

/// The same as lists with [`OLD_HEAD`] have it.
fn old_digest(bytes: &[u8]) -> String {
    format!("{}-{}", bytes.len(), base::digest(bytes.iter().copied()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digests_are_the_published_ones() {
        assert_eq!(digest(b""), "0-99aa06d3014798d86001c324468d497f");
        assert_eq!(old_digest(b""), "0-6c62272e07bb014262b821756295c58d");
        assert_eq!(old_digest(b"a"), "1-d228cb696f1a8caf78912b704e4a8964");
    }

    #[test]
    fn a_packet_with_digests_of_the_old_kind_is_known() {
        let list = Manifest::parse(&format!("{OLD_HEAD}{} a.md\n", old_digest(b"text"))).unwrap();
        assert!(list.knows("a.md", b"text") && !list.knows("a.md", b"other") && !list.knows("b.md", b"text"));
    }

    #[test]
    fn lists_read_back_as_written() {
        let files = [("b/two words.md", "2"), ("a.md", "1")];
        let bundle = Bundle { files: files.map(|(path, text)| (path.to_owned(), text.into())).into() };
        let manifest = Manifest::of(&bundle);
        assert_eq!(Manifest::parse(&manifest.print()), Some(manifest));
    }

    #[test]
    fn a_list_that_names_files_elsewhere_is_none_of_ours() {
        for path in ["../a", "/a", "a/../b", "a//b", "", NAME] {
            assert_eq!(Manifest::parse(&format!("{HEAD}1-00 {path}\n")), None, "{path}");
        }
        assert_eq!(Manifest::parse("something else\n"), None);
    }
}

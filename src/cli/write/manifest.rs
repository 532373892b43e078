//! The list, in an output folder, of the files that the program wrote there: how it knows its own from others'.
//!
//! First the folder of the spec, as seen from the folder that the packet's own is in: two houses of one name have two such
//! folders, and neither packet takes the place of the other. Then one line a file, sorted: digest, blank, path. The digest
//! tells that a file was changed by hand since; it guards against slips, not against malice.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Component, Path, PathBuf};

use rayon::prelude::*;
use twox_hash::XxHash3_128;

use super::names::is_plain;
use super::workspace::parent;
use crate::base;
use crate::emit::Bundle;
use crate::resolve::load::SITE_FILE;

const HEAD: &str = "loopwright manifest 3\n";

/// What the list began with while it said no folder, and while digests were another kind; such a packet is still known as
/// ours.
const OLD_HEADS: [&str; 2] = ["loopwright manifest 2\n", "loopwright manifest 1\n"];

/// What the line of the spec's folder begins with.
const FROM: &str = "from ";

/// What the program wrote in an output folder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Manifest {
    /// Path in it, with `/` → digest of what was written there.
    pub(super) files: BTreeMap<String, String>,
    /// The spec's folder, where it is known: see [`origin`].
    pub(super) from: Option<String>,
}

impl Manifest {
    /// The list of a packet in `target` of the spec in `site`.
    pub(super) fn of(bundle: &Bundle, site: &Path, target: &Path) -> Self {
        let files = bundle.files.par_iter().map(|(path, bytes)| (path.clone(), digest(bytes))).collect();
        Self { files, from: origin(site, target) }
    }

    /// Reads a list; `None` where the text is not one that the program wrote.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let mut manifest = Self::default();
        let heads = [HEAD].into_iter().chain(OLD_HEADS);
        let mut lines = heads.into_iter().find_map(|head| text.strip_prefix(head))?.lines().peekable();
        manifest.from =
            lines.next_if(|line| line.starts_with(FROM)).and_then(|line| line.strip_prefix(FROM)).map(str::to_owned);
        for line in lines {
            let (digest, path) = line.split_once(' ')?;
            if !is_plain(path) {
                return None;
            }
            manifest.files.insert(path.to_owned(), digest.to_owned());
        }
        Some(manifest)
    }

    /// The list as text.
    pub(super) fn print(&self) -> String {
        let from = self.from.iter().map(|from| format!("{FROM}{from}\n"));
        let lines = self.files.iter().map(|(path, digest)| format!("{digest} {path}\n"));
        std::iter::once(HEAD.to_owned()).chain(from).chain(lines).collect()
    }

    /// True where these bytes are what the program wrote at this path.
    pub(super) fn knows(&self, path: &str, bytes: &[u8]) -> bool {
        self.files.get(path).is_some_and(|known| *known == digest(bytes) || *known == old_digest(bytes))
    }
}

/// The folder of a spec as seen from the folder that its packet's folder is in, with `/`. `None` where the two have nothing
/// but the top of a disk in common: the packet goes to others, and is not to say where somebody keeps the files at home.
fn origin(site: &Path, target: &Path) -> Option<String> {
    let (site, out) = (fs::canonicalize(site).ok()?, real(parent(target))?);
    let shared = site.components().zip(out.components()).take_while(|(one, other)| one == other).count();
    if !site.components().take(shared).any(|part| matches!(part, Component::Normal(_))) {
        return None;
    }
    let up = out.components().skip(shared).map(|_| Some(".."));
    let down = site.components().skip(shared).map(|part| part.as_os_str().to_str());
    let path = up.chain(down).collect::<Option<Vec<&str>>>()?.join("/");
    (!path.contains(char::is_control)).then_some(path)
}

/// The real path of a folder that may not be there yet.
fn real(folder: &Path) -> Option<PathBuf> {
    let folder = std::path::absolute(folder).ok()?;
    let there = folder.ancestors().find_map(|above| Some((above, fs::canonicalize(above).ok()?)));
    there.and_then(|(above, real)| Some(real.join(folder.strip_prefix(above).ok()?)))
}

/// The folder of another spec of which the packet in `target` is, by its list. A spec that is no longer there was moved, and
/// its packet goes with it.
pub(super) fn of_another(list: &Manifest, site: &Path, target: &Path) -> Option<PathBuf> {
    let other = fs::canonicalize(parent(target).join(list.from.as_ref()?)).ok()?;
    let is_other = fs::canonicalize(site).is_ok_and(|site| site != other);
    (is_other && other.join(SITE_FILE).is_file()).then_some(other)
}

/// Length and digest of a file: XXH3, 128 bits, as its authors publish it.
fn digest(bytes: &[u8]) -> String {
    format!("{}-{:032x}", bytes.len(), XxHash3_128::oneshot(bytes))
}

/// The same as the oldest lists have it.
fn old_digest(bytes: &[u8]) -> String {
    format!("{}-{}", bytes.len(), base::digest(bytes.iter().copied()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::write::names::MANIFEST;

    #[test]
    fn digests_are_the_published_ones() {
        assert_eq!(digest(b""), "0-99aa06d3014798d86001c324468d497f");
        assert_eq!(old_digest(b""), "0-6c62272e07bb014262b821756295c58d");
        assert_eq!(old_digest(b"a"), "1-d228cb696f1a8caf78912b704e4a8964");
    }

    #[test]
    fn a_packet_with_digests_of_the_old_kind_is_known() {
        let list = Manifest::parse(&format!("{}{} a.md\n", OLD_HEADS[1], old_digest(b"text"))).unwrap();
        assert!(list.knows("a.md", b"text") && !list.knows("a.md", b"other") && !list.knows("b.md", b"text"));
    }

    #[test]
    fn lists_read_back_as_written() {
        let files = [("b/two words.md", "2"), ("a.md", "1")];
        let bundle = Bundle { files: files.map(|(path, text)| (path.to_owned(), text.into())).into() };
        let root = tempfile::tempdir().unwrap();
        let site = root.path().join("houses/mill");
        fs::create_dir_all(&site).unwrap();
        let manifest = Manifest::of(&bundle, &site, &root.path().join("out/mill"));
        assert_eq!(manifest.from.as_deref(), Some("../houses/mill"));
        assert_eq!(Manifest::parse(&manifest.print()), Some(manifest));
    }

    #[test]
    fn a_list_that_names_files_elsewhere_is_none_of_ours() {
        for path in ["../a", "/a", "a/../b", "a//b", "", MANIFEST] {
            assert_eq!(Manifest::parse(&format!("{HEAD}1-00 {path}\n")), None, "{path}");
        }
        assert_eq!(Manifest::parse("something else\n"), None);
    }
}

//! The files of a site in one revision, as git lists them, read one at a time.
//!
//! Links inside the tree are followed where they stay in the site or the shared parts, as they are on disk. What the list
//! has and git cannot give is [`ReadFault::Failed`], never a file that is not there.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::Path;

use super::program::Reader;
use crate::cli::disk::{limit, shown};
use crate::cli::sites;
use crate::resolve::load::{FileSource, ReadFault};

/// Links in a row that are followed.
const MOST_LINKS: usize = 8;

/// No system follows a longer link, in bytes.
const LONGEST_LINK: u64 = 4096;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    File,
    Link,
    Other,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Entry {
    what: What,
    object: String,
}

/// A line of `ls-tree`: mode, type, object, tab, path.
pub(super) fn entry(line: &[u8]) -> Option<(String, Entry)> {
    let tab = line.iter().position(|byte| *byte == b'\t')?;
    let (head, path) = line.split_at(tab);
    let path = String::from_utf8(path.get(1..)?.to_vec()).ok()?;
    let head = std::str::from_utf8(head).ok()?;
    let mut words = head.split_whitespace();
    let (mode, kind, object) = (words.next()?, words.next()?, words.next()?);
    let what = match (mode, kind) {
        ("120000", _) => What::Link,
        (_, "blob") => What::File,
        _ => What::Other,
    };
    Some((path, Entry { what, object: object.to_owned() }))
}

/// The files of one site in one revision.
#[derive(Debug)]
pub(in crate::cli) struct GitFiles {
    /// By their path from the site's folder.
    pub(super) entries: BTreeMap<String, Entry>,
    /// As the user named it.
    pub(super) revision: String,
    /// The site's folder in the tree.
    pub(super) folder: String,
    pub(super) reader: RefCell<Reader>,
}

impl GitFiles {
    /// True where the revision has a site there.
    pub(in crate::cli) fn has_site(&self) -> bool {
        self.entries.contains_key(sites::SITE_FILE)
    }

    fn object(&self, entry: &Entry, most: u64) -> Result<Vec<u8>, ReadFault> {
        self.reader.borrow_mut().object(&entry.object, most)
    }

    /// The entry that a path leads to, links followed.
    fn find(&self, path: &str, links: usize) -> Result<&Entry, ReadFault> {
        if let Some(entry) = self.entries.get(path) {
            if entry.what != What::Link {
                return Ok(entry);
            }
            return self.find(&self.target(path, entry, "", links)?, links + 1);
        }
        // A folder on the way may be a link.
        for (at, _) in path.match_indices('/') {
            let (folder, rest) = path.split_at(at);
            if let Some(entry) = self.entries.get(folder).filter(|entry| entry.what == What::Link) {
                return self.find(&self.target(folder, entry, rest, links)?, links + 1);
            }
        }
        let below = format!("{path}/");
        let is_folder = self.entries.range(below.clone()..).next().is_some_and(|(other, _)| other.starts_with(&below));
        Err(if is_folder { ReadFault::NotAFile } else { ReadFault::Missing })
    }

    fn target(&self, path: &str, entry: &Entry, rest: &str, links: usize) -> Result<String, ReadFault> {
        if links >= MOST_LINKS {
            return Err(ReadFault::Failed("too many links in a row".into()));
        }
        let target = self.object(entry, LONGEST_LINK).map_err(|fault| match fault {
            ReadFault::TooLarge(_) => ReadFault::Escapes,
            fault => fault,
        })?;
        let target = String::from_utf8(target).map_err(|_| ReadFault::Escapes)?;
        join(path, &format!("{target}{rest}")).ok_or(ReadFault::Escapes)
    }
}

/// Where a link at `path` leads; `None` where that is outside the site and the shared parts.
fn join(path: &str, target: &str) -> Option<String> {
    if target.starts_with('/') {
        return None;
    }
    let mut steps: Vec<&str> = path.split('/').collect();
    steps.pop();
    // From inside the site, `..` names the folder that holds it; from there only `parts` may be entered.
    for step in target.split('/') {
        match step {
            "" | "." => {}
            ".." => match steps.last() {
                None => steps.push(".."),
                Some(&"..") => return None,
                Some(_) => {
                    steps.pop();
                }
            },
            step => steps.push(step),
        }
    }
    match steps.as_slice() {
        ["..", "parts", ..] => Some(steps.join("/")),
        ["..", ..] | [] => None,
        _ => Some(steps.join("/")),
    }
}

impl FileSource for GitFiles {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        let entry = self.find(path, 0)?;
        match entry.what {
            What::File => self.object(entry, limit(path)),
            What::Link | What::Other => Err(ReadFault::NotAFile),
        }
    }

    fn shown(&self, path: &str) -> String {
        format!("{}:{}", self.revision, shown(Path::new(&self.folder), path))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_the_list_is_read_with_any_name() {
        let (path, found) = entry("100644 blob 0123abcd\tspecs/müle x/site.kdl".as_bytes()).unwrap();
        assert_eq!(
            (path.as_str(), found.what, found.object.as_str()),
            ("specs/müle x/site.kdl", What::File, "0123abcd")
        );
        assert_eq!(entry(b"160000 commit 0123\tmodule").unwrap().1.what, What::Other);
        assert_eq!(entry(b"120000 blob 0123\tlink").unwrap().1.what, What::Link);
        assert!(entry(b"nonsense").is_none());
    }

    #[test]
    fn a_link_stays_in_the_site_and_the_shared_parts() {
        assert_eq!(join("a/b.kdl", "c.kdl").as_deref(), Some("a/c.kdl"));
        assert_eq!(join("a/b.kdl", "../c.kdl").as_deref(), Some("c.kdl"));
        assert_eq!(join("b.kdl", "../parts/c.kdl").as_deref(), Some("../parts/c.kdl"));
        for out in ["/etc/passwd", "../c.kdl", "../../c.kdl", "../parts/../c.kdl", ".."] {
            assert_eq!(join("b.kdl", out), None, "{out}");
        }
    }
}

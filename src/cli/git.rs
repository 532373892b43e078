//! The files of a site in a git revision, read by the `git` program: nothing in the working tree is touched.
//!
//! One `git ls-tree` lists the site's folder and the shared parts beside it; one `git cat-file --batch` stays open and is
//! asked for one file at a time, so that neither side ever waits for the other. No revision that begins with `-` is passed
//! on. Links inside the tree are followed where they stay in the site or the shared parts, as they are on disk.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use super::disk::limit;
use super::{Stop, plain};
use crate::register_file::FILE;
use crate::resolve::load::{FileSource, ReadFault};

/// Links in a row that are followed.
const MOST_LINKS: usize = 8;

/// A repository, as seen from a folder.
#[derive(Clone, Debug)]
pub(super) struct Repository {
    /// The folder in which `git` is run; `None` for that of the process, with its `GIT_…` variables.
    folder: Option<PathBuf>,
    /// The folder's path in the repository, with `/` at the end where it is not empty.
    prefix: String,
}

impl Repository {
    /// The repository that a folder is in; `None` for the folder of the process.
    pub(super) fn of(folder: Option<&Path>) -> Result<Self, Stop> {
        let mut repository = Self { folder: folder.map(Path::to_owned), prefix: String::new() };
        let output = repository.run(&["rev-parse", "--show-prefix"])?;
        if let Err(why) = output {
            let place = folder.map_or_else(|| "this folder".to_owned(), |folder| folder.display().to_string());
            return Err(Stop::new(format!("{place} is in no git repository that can be read: {why}"))
                .help("compare two folders instead, or name a folder inside a repository"));
        }
        let text = output.unwrap_or_default();
        repository.prefix = String::from_utf8_lossy(text.strip_suffix(b"\n").unwrap_or(&text)).into_owned();
        Ok(repository)
    }

    /// The path of this repository's folder in its tree, without `/` at the end.
    pub(super) fn prefix(&self) -> &str {
        self.prefix.trim_end_matches('/')
    }

    /// The folder of the working tree's top; `None` where there is none, as in a bare repository.
    pub(super) fn top(&self) -> Option<PathBuf> {
        let output = self.run(&["rev-parse", "--show-toplevel"]).ok()?.ok()?;
        let text = String::from_utf8(output).ok()?;
        Some(PathBuf::from(text.strip_suffix('\n').unwrap_or(&text)))
    }

    /// The tree of a revision.
    pub(super) fn tree(&self, revision: &str) -> Result<String, Stop> {
        if revision.starts_with('-') {
            return Err(Stop::new(format!("\"{revision}\" is no revision: it begins with a hyphen")));
        }
        let wanted = format!("{revision}^{{tree}}");
        match self.run(&["rev-parse", "--verify", "--quiet", "--end-of-options", &wanted])? {
            Ok(name) => Ok(String::from_utf8_lossy(&name).trim().to_owned()),
            Err(_) => {
                let stop =
                    Stop::new(format!("there is no revision {revision} in the repository, and no such path on disk"));
                let shallow = self.run(&["rev-parse", "--is-shallow-repository"])?.unwrap_or_default();
                Err(if shallow.starts_with(b"true") {
                    stop.help("the clone is shallow: `git fetch --deepen=100` brings earlier commits")
                } else {
                    stop.help("`git log --oneline` lists the commits, `git tag` the tags")
                })
            }
        }
    }

    /// The site in the folder `site` (from the top of the tree) of a tree; `named` is what the user called the revision.
    pub(super) fn site(&self, tree: &str, named: &str, site: &str) -> Result<GitFiles, Stop> {
        let parent = site.rsplit_once('/').map_or("", |(parent, _)| parent);
        let shared = if parent.is_empty() { "parts/".to_owned() } else { format!("{parent}/parts/") };
        let below = if site.is_empty() { String::new() } else { format!("{site}/") };
        // At the top there is nothing beside the site.
        let shared = (!site.is_empty()).then_some(shared);
        let mut arguments = vec!["ls-tree", "-r", "-l", "-z", "--full-tree", tree];
        if !below.is_empty() {
            arguments.extend(["--", below.as_str()]);
            arguments.extend(shared.as_deref());
        }
        let listed = self.run(&arguments)?.map_err(|why| Stop::new(format!("git cannot list {named}: {why}")))?;
        let mut entries = BTreeMap::new();
        for line in listed.split(|byte| *byte == 0).filter(|line| !line.is_empty()) {
            let Some((path, entry)) = entry(line) else { continue };
            let inside = path.strip_prefix(&below).map(str::to_owned);
            let beside =
                shared.as_ref().and_then(|shared| path.strip_prefix(shared)).map(|rest| format!("../parts/{rest}"));
            if let Some(path) = inside.or(beside) {
                entries.insert(path, entry);
            }
        }
        Ok(GitFiles { entries, named: format!("{named}:{below}"), reader: RefCell::new(self.reader()?) })
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new("git");
        command.args(["-c", "core.fsmonitor=false", "--no-pager"]).args(arguments);
        for (name, value) in [
            ("GIT_OPTIONAL_LOCKS", "0"),
            ("GIT_TERMINAL_PROMPT", "0"),
            ("GIT_NO_LAZY_FETCH", "1"),
            ("GIT_LITERAL_PATHSPECS", "1"),
            ("LC_ALL", "C"),
        ] {
            command.env(name, value);
        }
        if let Some(folder) = &self.folder {
            // In a hook these name the repository of the hook; here the folder says which one is meant.
            for name in ["GIT_DIR", "GIT_WORK_TREE", "GIT_PREFIX", "GIT_INDEX_FILE"] {
                command.env_remove(name);
            }
            command.current_dir(folder);
        }
        command
    }

    /// Runs `git` to its end: what it printed, or its complaint in one line.
    fn run(&self, arguments: &[&str]) -> Result<Result<Vec<u8>, String>, Stop> {
        let output = self.command(arguments).stdin(Stdio::null()).output().map_err(|error| absent(&error))?;
        if output.status.success() {
            return Ok(Ok(output.stdout));
        }
        let complaint = String::from_utf8_lossy(&output.stderr);
        let line = complaint.lines().find(|line| !line.trim().is_empty()).unwrap_or("git failed");
        Ok(Err(line.trim_start_matches("fatal: ").trim_start_matches("error: ").to_owned()))
    }

    fn reader(&self) -> Result<Reader, Stop> {
        let mut command = self.command(&["cat-file", "--batch"]);
        let mut child = command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| absent(&error))?;
        match (child.stdin.take(), child.stdout.take()) {
            (Some(ask), Some(answer)) => Ok(Reader { child, ask: Some(ask), answer: BufReader::new(answer) }),
            _ => Err(Stop::new("cannot talk to git")),
        }
    }
}

fn absent(error: &std::io::Error) -> Stop {
    if error.kind() == std::io::ErrorKind::NotFound {
        return Stop::new("cannot run git: it is not installed, or the folder is gone")
            .help("revisions are read by the git program; two folders are compared without it");
    }
    Stop::new(format!("cannot run git: {}", plain(error)))
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum What {
    File(u64),
    Link,
    Other,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Entry {
    what: What,
    object: String,
}

/// A line of `ls-tree -l`: mode, type, object, size, tab, path.
fn entry(line: &[u8]) -> Option<(String, Entry)> {
    let tab = line.iter().position(|byte| *byte == b'\t')?;
    let (head, path) = line.split_at(tab);
    let path = String::from_utf8(path.get(1..)?.to_vec()).ok()?;
    let head = std::str::from_utf8(head).ok()?;
    let mut words = head.split_whitespace();
    let (mode, kind, object, size) = (words.next()?, words.next()?, words.next()?, words.next()?);
    let what = match (mode, kind) {
        ("120000", _) => What::Link,
        (_, "blob") => What::File(size.parse().ok()?),
        _ => What::Other,
    };
    Some((path, Entry { what, object: object.to_owned() }))
}

/// The running `git cat-file --batch`.
#[derive(Debug)]
struct Reader {
    child: Child,
    ask: Option<ChildStdin>,
    answer: BufReader<ChildStdout>,
}

impl Reader {
    fn object(&mut self, object: &str) -> std::io::Result<Vec<u8>> {
        let broken = || std::io::Error::other("git ended early");
        let ask = self.ask.as_mut().ok_or_else(broken)?;
        writeln!(ask, "{object}")?;
        ask.flush()?;
        let mut head = String::new();
        self.answer.read_line(&mut head)?;
        let size: u64 = head.split_whitespace().nth(2).and_then(|size| size.parse().ok()).ok_or_else(|| {
            std::io::Error::other(if head.contains("missing") {
                "the object is not in this clone"
            } else {
                "git ended early"
            })
        })?;
        if size > limit(FILE) {
            return Err(broken());
        }
        let mut bytes = Vec::new();
        (&mut self.answer).take(size + 1).read_to_end(&mut bytes)?;
        // The newline behind it.
        if bytes.pop().is_none() || bytes.len() as u64 != size {
            return Err(broken());
        }
        Ok(bytes)
    }
}

impl Drop for Reader {
    fn drop(&mut self) {
        // It ends when nobody asks any more.
        self.ask = None;
        let _ = self.child.wait();
    }
}

/// The files of one site in one revision.
#[derive(Debug)]
pub(super) struct GitFiles {
    entries: BTreeMap<String, Entry>,
    named: String,
    reader: RefCell<Reader>,
}

impl GitFiles {
    /// True where the revision has a site there.
    pub(super) fn has_site(&self) -> bool {
        self.entries.contains_key(super::sites::SITE_FILE)
    }

    fn object(&self, entry: &Entry) -> Result<Vec<u8>, ReadFault> {
        self.reader.borrow_mut().object(&entry.object).map_err(|error| ReadFault::Failed(plain(&error)))
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
        let target = String::from_utf8(self.object(entry)?).map_err(|_| ReadFault::Escapes)?;
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
            What::File(size) if size > limit(path) => Err(ReadFault::TooLarge(size)),
            What::File(_) => self.object(entry),
            What::Link | What::Other => Err(ReadFault::NotAFile),
        }
    }

    fn shown(&self, path: &str) -> String {
        let (revision, folder) = self.named.split_once(':').unwrap_or((&self.named, ""));
        format!("{revision}:{}", super::disk::shown(Path::new(folder), path))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_the_list_is_read_with_any_name() {
        let (path, found) = entry("100644 blob 0123abcd     120\tspecs/müle x/site.kdl".as_bytes()).unwrap();
        assert_eq!((path.as_str(), found.what), ("specs/müle x/site.kdl", What::File(120)));
        assert_eq!(entry(b"160000 commit 0123 -\tmodule").unwrap().1.what, What::Other);
        assert_eq!(entry(b"120000 blob 0123 7\tlink").unwrap().1.what, What::Link);
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

//! Revisions of a site, read by the `git` program: nothing in the working tree is touched.
//!
//! One `git ls-tree` lists the site's folder and the shared parts beside it; one `git cat-file --batch` stays open and is
//! asked for one file at a time, so that neither side ever waits for the other. How git is run is in [`program`], what a
//! revision holds in [`files`].

mod files;
mod program;

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use super::{Stop, sites};
pub(super) use files::GitFiles;
use program::Git;

/// A repository, as seen from a folder.
#[derive(Clone, Debug)]
pub(super) struct Repository {
    git: Git,
    /// The folder's path in the repository, with `/` at the end where it is not empty.
    prefix: String,
}

impl Repository {
    /// The repository that a folder is in; `None` for the folder of the process.
    pub(super) fn of(folder: Option<&Path>) -> Result<Self, Stop> {
        let git = Git::of(folder);
        let output = git.run(&["rev-parse", "--show-prefix"])?;
        if let Err(why) = output {
            let place = folder.map_or_else(|| "this folder".to_owned(), |folder| folder.display().to_string());
            return Err(Stop::new(format!("{place} is in no git repository that can be read: {why}"))
                .help("compare two folders instead, or name a folder inside a repository"));
        }
        let text = output.unwrap_or_default();
        let prefix = String::from_utf8_lossy(text.strip_suffix(b"\n").unwrap_or(&text)).into_owned();
        Ok(Self { git, prefix })
    }

    /// The path of this repository's folder in its tree, without `/` at the end.
    pub(super) fn prefix(&self) -> &str {
        self.prefix.trim_end_matches('/')
    }

    /// The folder of the working tree's top; `None` where there is none, as in a bare repository.
    pub(super) fn top(&self) -> Option<PathBuf> {
        let output = self.git.run(&["rev-parse", "--show-toplevel"]).ok()?.ok()?;
        let text = String::from_utf8(output).ok()?;
        Some(PathBuf::from(text.strip_suffix('\n').unwrap_or(&text)))
    }

    /// Whether the last commit has a file in this repository's folder.
    pub(super) fn has(&self, file: &str) -> bool {
        self.object(&format!("HEAD:./{file}")).is_ok_and(|object| object.is_some())
    }

    /// The tree of a revision.
    pub(super) fn tree(&self, revision: &str) -> Result<String, Stop> {
        if revision.starts_with('-') {
            return Err(Stop::new(format!("\"{revision}\" is no revision: it begins with a hyphen")));
        }
        if let Some(left_out) = revision.strip_prefix('^') {
            return Err(Stop::new(format!("{revision} says what to leave out, and is no revision"))
                .help(format!("write {left_out}, or OLD..NEW for two revisions")));
        }
        let Some(object) = self.object(revision)? else {
            let stop =
                Stop::new(format!("there is no revision {revision} in the repository, and no such path on disk"));
            if revision == "HEAD" {
                return Err(stop.help("nothing has been committed yet: `git commit` makes the first revision"));
            }
            let shallow = self.git.run(&["rev-parse", "--is-shallow-repository"])?.unwrap_or_default();
            return Err(if shallow.starts_with(b"true") {
                stop.help("the clone is shallow: `git fetch --deepen=100` brings earlier commits")
            } else {
                stop.help("`git log --oneline` lists the commits, `git tag` the tags")
            });
        };
        self.object(&format!("{object}^{{tree}}"))?.ok_or_else(|| {
            let why = "it is no commit, or this clone does not hold its list of files";
            Stop::new(format!("{revision} cannot be read: {why}")).help(advice(revision))
        })
    }

    /// The name of the object that a revision means, if it means one.
    fn object(&self, revision: &str) -> Result<Option<String>, Stop> {
        let name = self.git.run(&["rev-parse", "--verify", "--quiet", revision])?;
        Ok(name.ok().map(|name| String::from_utf8_lossy(&name).trim().to_owned()))
    }

    /// The site in the folder `site` (from the top of the tree) of a tree; `named` is what the user called the revision.
    pub(super) fn site(&self, tree: &str, named: &str, site: &str) -> Result<GitFiles, Stop> {
        let parent = site.rsplit_once('/').map_or("", |(parent, _)| parent);
        let shared = if parent.is_empty() { "parts/".to_owned() } else { format!("{parent}/parts/") };
        let below = if site.is_empty() { String::new() } else { format!("{site}/") };
        // At the top there is nothing beside the site.
        let shared = (!site.is_empty()).then_some(shared);
        let mut arguments = vec!["ls-tree", "-r", "-z", "--full-tree", tree];
        if !below.is_empty() {
            arguments.extend(["--", below.as_str()]);
            arguments.extend(shared.as_deref());
        }
        let listed = self.list(&arguments, named)?;
        let mut entries = BTreeMap::new();
        for line in listed.split(|byte| *byte == 0).filter(|line| !line.is_empty()) {
            let Some((path, entry)) = files::entry(line) else { continue };
            let inside = path.strip_prefix(&below).map(str::to_owned);
            let beside =
                shared.as_ref().and_then(|shared| path.strip_prefix(shared)).map(|rest| format!("../parts/{rest}"));
            if let Some(path) = inside.or(beside) {
                entries.insert(path, entry);
            }
        }
        let reader = RefCell::new(self.git.reader());
        Ok(GitFiles { entries, revision: named.to_owned(), folder: below, reader })
    }

    /// The folders of the sites at and below this repository's folder in a tree, from there on; hidden folders are not
    /// looked into, and what lies below a site belongs to it.
    pub(super) fn sites(&self, tree: &str, named: &str) -> Result<Vec<String>, Stop> {
        let mut arguments = vec!["ls-tree", "-r", "-z", "--name-only", "--full-tree", tree];
        if !self.prefix.is_empty() {
            arguments.extend(["--", self.prefix.as_str()]);
        }
        let listed = self.list(&arguments, named)?;
        let paths = listed.split(|byte| *byte == 0).filter_map(|path| std::str::from_utf8(path).ok());
        let inside = paths.filter_map(|path| path.strip_prefix(self.prefix.as_str())?.strip_suffix(sites::SITE_FILE));
        let folders = inside.filter_map(|path| if path.is_empty() { Some(path) } else { path.strip_suffix('/') });
        let seen: BTreeSet<&str> =
            folders.filter(|folder| !folder.split('/').any(|step| step.starts_with('.'))).collect();
        let is_inside = |folder: &str| {
            let above = folder.match_indices('/').filter_map(|(at, _)| folder.get(..at));
            (!folder.is_empty() && seen.contains("")) || above.into_iter().any(|above| seen.contains(above))
        };
        Ok(seen.iter().filter(|folder| !is_inside(folder)).map(|folder| (*folder).to_owned()).collect())
    }

    fn list(&self, arguments: &[&str], named: &str) -> Result<Vec<u8>, Stop> {
        let listed = self.git.run(arguments)?;
        listed.map_err(|why| Stop::new(format!("git cannot list {named}: {why}")).help(advice(named)))
    }
}

/// What to do where git has a revision, and not all that is in it.
pub(super) fn advice(revision: &str) -> String {
    format!("`git archive --output=/dev/null {revision}` fetches what a partial clone lacks; `git fsck` finds damage")
}

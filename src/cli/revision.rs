//! What the user means by the arguments of `diff`: revisions and a path, as `git diff` takes them.
//!
//! What exists on disk is a path; everything else is a revision. `OLD..NEW` is two revisions, `REV:PATH` a revision with
//! a site of its own, from the top of the repository as git has it (`REV:./PATH` from here).

use std::cell::RefCell;
use std::path::{Path, PathBuf};

use super::disk::{self, DiskFiles};
use super::git::{self, Repository};
use super::{Stop, sites};
use crate::resolve::load::{FileSource, ReadFault};

/// One of the two that are compared.
pub(super) struct Side {
    files: Box<dyn FileSource>,
    /// As the user named it.
    pub(super) named: String,
    /// What to do where a file cannot be read.
    advice: Option<String>,
    /// The first file that is there and cannot be read.
    unread: RefCell<Option<Stop>>,
}

impl Side {
    fn new(files: Box<dyn FileSource>, named: String, advice: Option<String>) -> Self {
        Self { files, named, advice, unread: RefCell::new(None) }
    }

    /// Refuses a side of which a file could not be read: what it says would be taken for removed.
    pub(super) fn whole(&self) -> Result<(), Stop> {
        self.unread.take().map_or(Ok(()), Err)
    }
}

impl FileSource for Side {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        let read = self.files.read(path);
        if let Err(ReadFault::Failed(why)) = &read {
            let stop = Stop { message: format!("cannot read {}: {why}", self.shown(path)), help: self.advice.clone() };
            self.unread.borrow_mut().get_or_insert(stop);
        }
        read
    }

    fn shown(&self, path: &str) -> String {
        self.files.shown(path)
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Named {
    /// On disk.
    Path(PathBuf),
    /// A revision of the site that the path argument names.
    Revision(String),
    /// A revision with a path of its own.
    RevisionPath(String, String),
}

/// The two sides that the arguments mean.
pub(super) fn sides(arguments: &[String]) -> Result<(Side, Side), Stop> {
    let (old, new, path) = meant(arguments, |argument| Path::new(argument).symlink_metadata().is_ok())?;
    let folder = match path {
        Some(path) => one_folder(&path)?,
        None => PathBuf::from("."),
    };
    Ok((open(&old, &folder)?, open(&new, &folder)?))
}

/// A revision or folder that a site on disk is held against; `None` where the revision has no site in that folder.
pub(super) fn since(argument: &str, folder: &Path) -> Result<Option<Side>, Stop> {
    let path = Path::new(argument);
    match if path.symlink_metadata().is_ok() { Named::Path(path.to_owned()) } else { alone(argument)? } {
        Named::Revision(revision) => Revision(&revision).site(folder),
        named @ (Named::Path(_) | Named::RevisionPath(..)) => open(&named, folder).map(Some),
    }
}

/// One revision, with a path or without.
fn alone(argument: &str) -> Result<Named, Stop> {
    match range(argument)? {
        None => Ok(one(argument)),
        Some(_) => Err(Stop::new(format!("{argument} names two revisions"))
            .help("name the older one; it is held against the files on disk")),
    }
}

/// Old, new, and the path of the site where one was given.
fn meant(arguments: &[String], exists: impl Fn(&str) -> bool) -> Result<(Named, Named, Option<PathBuf>), Stop> {
    let mut revisions: Vec<Named> = Vec::new();
    let mut paths: Vec<PathBuf> = Vec::new();
    for argument in arguments {
        if exists(argument) {
            paths.push(PathBuf::from(argument));
        } else if !paths.is_empty() {
            return Err(Stop::new(format!("cannot read {argument}: no such file or directory"))
                .help("revisions come first, then the path of the site"));
        } else if let Some((old, new)) = range(argument)? {
            revisions.extend([old, new]);
        } else {
            revisions.push(one(argument));
        }
    }
    let on_disk = |path: Option<&PathBuf>| Named::Path(path.cloned().unwrap_or_else(|| PathBuf::from(".")));
    let head = || Named::Revision("HEAD".to_owned());
    match (revisions.as_slice(), paths.as_slice()) {
        ([], []) => Ok((head(), on_disk(None), None)),
        ([], [path]) => Ok((head(), Named::Path(path.clone()), Some(path.clone()))),
        ([], [old, new]) => Ok((Named::Path(old.clone()), Named::Path(new.clone()), None)),
        ([old @ Named::RevisionPath(revision, path)], []) => {
            let repository = Repository::of(None)?;
            let site = place(repository.prefix(), revision, path)?;
            Ok((old.clone(), Named::Path(repository.top().unwrap_or_default().join(site)), None))
        }
        ([old], [] | [_]) => Ok((old.clone(), on_disk(paths.first()), paths.first().cloned())),
        ([old, new], [] | [_]) => Ok((old.clone(), new.clone(), paths.first().cloned())),
        ([_, _, Named::Revision(path)], []) => Err(Stop::new(format!("there is no {path} on disk"))
            .help("the site's path comes last; in a bare repository write REV:PATH twice")),
        _ => Err(Stop::new("two revisions or two paths are compared").help("loopwright diff OLD NEW PATH")),
    }
}

/// `OLD..NEW`, either of which may be left out for HEAD.
fn range(argument: &str) -> Result<Option<(Named, Named)>, Stop> {
    // In `HEAD:../x` and `HEAD^{/a..b}` the dots belong to something else.
    let Some((old, new)) = argument.split_once("..").filter(|(old, _)| !old.contains([':', '{'])) else {
        return Ok(None);
    };
    if new.starts_with('.') {
        return Err(Stop::new(format!("{argument}: three dots mean a common ancestor, which is not supported"))
            .help("write OLD..NEW; `git merge-base A B` names the ancestor"));
    }
    let side = |name: &str| one(if name.is_empty() { "HEAD" } else { name });
    Ok(Some((side(old), side(new))))
}

fn one(argument: &str) -> Named {
    // `:/text` is the last commit that says so; a colon in braces is part of a date or of such a text.
    let after = argument.rfind('}').map_or(0, |at| at + 1);
    let colon = argument.get(after..).and_then(|rest| rest.find(':')).map(|at| after + at);
    match colon.and_then(|at| argument.split_at_checked(at)) {
        Some((revision, path)) if !argument.starts_with(":/") => {
            let revision = if revision.is_empty() { "HEAD" } else { revision };
            Named::RevisionPath(revision.to_owned(), path.trim_start_matches(':').to_owned())
        }
        _ => Named::Revision(argument.to_owned()),
    }
}

/// The folder in the tree that `REVISION:PATH` means, seen from the folder `prefix` where the path begins with a dot.
fn place(prefix: &str, revision: &str, path: &str) -> Result<String, Stop> {
    let here = path == "." || path == ".." || path.starts_with("./") || path.starts_with("../");
    let mut steps: Vec<&str> = Vec::new();
    for step in if here { prefix } else { "" }.split('/').chain(path.split('/')) {
        match step {
            "" | "." => {}
            ".." if steps.pop().is_none() => {
                return Err(Stop::new(format!("{revision}:{path} leads out of the repository")));
            }
            ".." => {}
            step => steps.push(step),
        }
    }
    steps.pop_if(|last| *last == sites::SITE_FILE);
    Ok(steps.join("/"))
}

/// The folder of the one site that a path means.
fn one_folder(path: &Path) -> Result<PathBuf, Stop> {
    // A folder whose site is gone from the disk may still be compared in two revisions.
    if path.is_dir() && !path.join(sites::SITE_FILE).exists() {
        return match sites::find(&[path.to_owned()]) {
            Ok(found) => sites::only(path, found),
            Err(_) => Ok(path.to_owned()),
        };
    }
    let found = sites::find(&[path.to_owned()])?;
    found.into_iter().next().ok_or_else(|| Stop::new(format!("no site in {}", path.display())))
}

fn open(named: &Named, folder: &Path) -> Result<Side, Stop> {
    match named {
        Named::Path(path) => {
            let folder = sites::only(path, sites::find(std::slice::from_ref(path))?)?;
            let files = DiskFiles::open(&folder)?;
            let shown = disk::shown(&folder, "");
            Ok(Side::new(Box::new(files), if shown.is_empty() { ".".to_owned() } else { shown }, None))
        }
        Named::Revision(revision) => {
            let repository = Repository::of(Some(folder))?;
            let site = repository.prefix().to_owned();
            in_revision(&repository, revision, &site)
        }
        Named::RevisionPath(revision, path) => {
            let repository = Repository::of(None)?;
            let site = place(repository.prefix(), revision, path)?;
            in_revision(&repository, revision, &site)
        }
    }
}

fn in_revision(repository: &Repository, revision: &str, site: &str) -> Result<Side, Stop> {
    found_in(repository, revision, site)?.ok_or_else(|| {
        let place = if site.is_empty() { "at the top".to_owned() } else { format!("in {site}") };
        Stop::new(format!("{revision} has no site {place}")).help(if site.is_empty() {
            "name the site's folder, as in: loopwright diff specs/house".to_owned()
        } else {
            "where the folder was called otherwise then, write REV:PATH, as HEAD~3:specs/old-name".to_owned()
        })
    })
}

/// The site in a folder of a tree, where there is one.
fn found_in(repository: &Repository, revision: &str, site: &str) -> Result<Option<Side>, Stop> {
    let tree = repository.tree(revision)?;
    let files = repository.site(&tree, revision, site)?;
    let has_site = files.has_site();
    Ok(has_site.then(|| Side::new(Box::new(files), revision.to_owned(), Some(git::advice(revision)))))
}

/// A revision of many sites.
pub(super) struct Revision<'a>(&'a str);

impl<'a> Revision<'a> {
    /// The revision of that name, which has no path of its own.
    pub(super) fn named(name: &'a str) -> Result<Self, Stop> {
        match alone(name)? {
            Named::Revision(_) => Ok(Self(name)),
            Named::RevisionPath(..) | Named::Path(_) => {
                Err(Stop::new(format!("{name} names a path, and there may be many sites"))
                    .help("name a revision alone, as HEAD~3"))
            }
        }
    }

    /// The site of a folder as it was then, if there was one.
    pub(super) fn site(&self, folder: &Path) -> Result<Option<Side>, Stop> {
        let repository = Repository::of(Some(folder))?;
        let site = repository.prefix().to_owned();
        found_in(&repository, self.0, &site)
    }

    /// The folders at and below `folder` that were sites then and are none now.
    pub(super) fn gone(&self, folder: &Path) -> Result<Vec<PathBuf>, Stop> {
        let repository = Repository::of(Some(folder))?;
        let sites = repository.sites(&repository.tree(self.0)?, self.0)?;
        let sites = sites.into_iter().map(|site| if site.is_empty() { folder.to_owned() } else { folder.join(site) });
        Ok(sites.filter(|site| site.join(sites::SITE_FILE).symlink_metadata().is_err()).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(arguments: &[&str]) -> Result<(Named, Named, Option<PathBuf>), Stop> {
        let arguments: Vec<String> = arguments.iter().map(|argument| (*argument).to_owned()).collect();
        meant(&arguments, |argument| argument.starts_with("site"))
    }

    fn revision(name: &str) -> Named {
        Named::Revision(name.to_owned())
    }

    #[test]
    fn arguments_mean_what_they_mean_to_git() {
        let site = || Some(PathBuf::from("site"));
        let disk = || Named::Path(PathBuf::from("site"));
        let here = || Named::Path(PathBuf::from("."));
        assert_eq!(read(&[]).unwrap(), (revision("HEAD"), here(), None));
        assert_eq!(read(&["site"]).unwrap(), (revision("HEAD"), disk(), site()));
        assert_eq!(read(&["HEAD~3"]).unwrap(), (revision("HEAD~3"), here(), None));
        assert_eq!(read(&["HEAD~3", "site"]).unwrap(), (revision("HEAD~3"), disk(), site()));
        assert_eq!(read(&["v1", "v2", "site"]).unwrap(), (revision("v1"), revision("v2"), site()));
        assert_eq!(read(&["v1..v2", "site"]).unwrap(), (revision("v1"), revision("v2"), site()));
        assert_eq!(read(&["v1.."]).unwrap(), (revision("v1"), revision("HEAD"), None));
        assert_eq!(read(&["site", "site-2"]).unwrap(), (disk(), Named::Path("site-2".into()), None));
        let own = |rev: &str, path: &str| Named::RevisionPath(rev.into(), path.into());
        assert_eq!(read(&["v1:a/b", "v2:../c"]).unwrap(), (own("v1", "a/b"), own("v2", "../c"), None));
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(read(&["v1...v2"]).unwrap_err().message.contains("three dots"));
        assert!(read(&["site", "gone"]).unwrap_err().message.contains("cannot read gone"));
        assert!(read(&["v1..v2", "v3"]).unwrap_err().message.contains("no v3 on disk"));
        assert!(read(&["v1..v2", "v3..v4"]).is_err());
    }
}

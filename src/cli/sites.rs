//! Which sites a path means: a site's folder, its `site.kdl`, or a folder with sites somewhere below.

use std::collections::BTreeSet;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use walkdir::{DirEntry, WalkDir};

use super::{Stop, plain};
pub(super) use crate::resolve::load::SITE_FILE;

/// The folders of the sites that `paths` mean, in that order, those of one path sorted; none twice. With what could not be
/// searched below them: there may be sites in it.
pub(super) fn find_all(paths: &[PathBuf]) -> Result<(Vec<PathBuf>, Vec<Stop>), Stop> {
    let mut seen = BTreeSet::new();
    let (mut sites, mut unsearched) = (Vec::new(), Vec::new());
    for path in paths {
        for site in sites_of(path, &mut unsearched)? {
            let real = fs::canonicalize(&site)
                .map_err(|error| Stop::new(format!("cannot read {}: {}", site.display(), plain(&error))))?;
            if seen.insert(real) {
                sites.push(site);
            }
        }
    }
    Ok((sites, unsearched))
}

/// As [`find_all`]; everything must have been searched.
pub(super) fn find(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Stop> {
    let (sites, unsearched) = find_all(paths)?;
    unsearched.into_iter().next().map_or(Ok(sites), Err)
}

/// The one of the sites that a path means.
pub(super) fn only(path: &Path, mut found: Vec<PathBuf>) -> Result<PathBuf, Stop> {
    match found.pop().filter(|_| found.is_empty()) {
        Some(folder) => Ok(folder),
        None => Err(Stop::new(format!("{} holds more than one site", path.display())).help("name one of them")),
    }
}

fn sites_of(path: &Path, unsearched: &mut Vec<Stop>) -> Result<Vec<PathBuf>, Stop> {
    let metadata =
        fs::metadata(path).map_err(|error| Stop::new(format!("cannot read {}: {}", path.display(), plain(&error))))?;
    if !metadata.is_dir() {
        if path.file_name().is_none_or(|name| name != SITE_FILE) {
            return Err(Stop::new(format!("{} is not a {SITE_FILE}", path.display()))
                .help("name the site's folder; the other files of a site are read through its includes"));
        }
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        return Ok(vec![folder.unwrap_or(Path::new(".")).to_owned()]);
    }
    // Whatever `site.kdl` is in a folder named by the user, reading it will say so better than "no site".
    if site_file(path)?.is_some() {
        return Ok(vec![path.to_owned()]);
    }
    let before = unsearched.len();
    let sites = below(path, unsearched);
    if sites.is_empty() && unsearched.len() == before {
        let help = match nearly(path) {
            Some(name) => format!("rename {name} to {SITE_FILE}"),
            None => format!("a site is a folder with a {SITE_FILE}; hidden folders and links are not searched"),
        };
        return Err(Stop::new(format!("no site in {}", path.display())).help(help));
    }
    Ok(sites)
}

/// The one file of a folder that seems to be meant as a site's: with other letters, with an ending that a system has added, or
/// with the site in it.
fn nearly(folder: &Path) -> Option<String> {
    let names = fs::read_dir(folder).ok()?.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let has_site = |name: &String| {
        let text = fs::read_to_string(folder.join(name)).unwrap_or_default();
        name.ends_with(".kdl") && text.lines().any(|line| line.starts_with("site "))
    };
    let is_meant = |name: &String| name.to_lowercase().starts_with(SITE_FILE) || has_site(name);
    let mut meant = names.filter(is_meant);
    meant.next().filter(|_| meant.next().is_none())
}

/// The site folders below a folder that is none itself; what lies below a site belongs to that site.
fn below(path: &Path, unsearched: &mut Vec<Stop>) -> Vec<PathBuf> {
    let mut sites = Vec::new();
    let mut walk = WalkDir::new(path).follow_links(false).sort_by_file_name().into_iter();
    while let Some(entry) = walk.next() {
        let entry = match entry {
            Ok(entry) => entry,
            Err(error) => {
                let why = error.io_error().map_or_else(|| error.to_string(), plain);
                unsearched.push(cannot_search(error.path().unwrap_or(path), &why));
                continue;
            }
        };
        if !entry.file_type().is_dir() || entry.depth() == 0 {
            continue;
        }
        if is_hidden(&entry) {
            walk.skip_current_dir();
            continue;
        }
        match site_file(entry.path()) {
            Ok(Some(file)) if !file.is_dir() => {
                sites.push(entry.into_path());
                walk.skip_current_dir();
            }
            Ok(_) => {}
            // Whether it may be listed or not, once is enough.
            Err(stop) => {
                unsearched.push(stop);
                walk.skip_current_dir();
            }
        }
    }
    sites
}

/// What has the name of a site's first file in a folder.
fn site_file(folder: &Path) -> Result<Option<fs::Metadata>, Stop> {
    match fs::symlink_metadata(folder.join(SITE_FILE)) {
        Ok(metadata) => Ok(Some(metadata)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(cannot_search(folder, &plain(&error))),
    }
}

fn cannot_search(folder: &Path, why: &str) -> Stop {
    Stop::new(format!("cannot search {}: {why}", folder.display()))
}

pub(super) fn is_hidden(entry: &DirEntry) -> bool {
    entry.file_name().as_encoded_bytes().starts_with(b".")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(files: &[&str]) -> tempfile::TempDir {
        let root = tempfile::tempdir().unwrap();
        for file in files {
            let file = root.path().join(file);
            fs::create_dir_all(file.parent().unwrap()).unwrap();
            fs::write(file, "").unwrap();
        }
        root
    }

    #[test]
    fn a_tree_gives_its_sites_sorted_and_without_hidden_folders() {
        let root = tree(&["b/site.kdl", "a/x/site.kdl", ".git/site.kdl", "a/x/deep/site.kdl", "parts/generic.kdl"]);
        let sites = find(&[root.path().to_owned()]).unwrap();
        assert_eq!(sites, [root.path().join("a/x"), root.path().join("b")]);
    }

    #[test]
    fn a_folder_and_its_file_are_one_site() {
        let root = tree(&["a/site.kdl"]);
        let folder = root.path().join("a");
        assert_eq!(find(&[folder.join(SITE_FILE), folder.clone()]).unwrap(), [folder]);
    }

    #[test]
    fn what_is_no_site_is_said() {
        let root = tree(&["a/other.kdl"]);
        let message = |path: &str| find(&[root.path().join(path)]).unwrap_err().message;
        assert!(message("").starts_with("no site in "));
        assert!(message("a/other.kdl").ends_with("other.kdl is not a site.kdl"));
        assert!(message("gone").ends_with("gone: no such file or directory"));
    }

    #[test]
    fn a_folder_named_site_kdl_is_no_site_in_a_tree() {
        let root = tree(&["a/site.kdl/file", "b/site.kdl"]);
        assert_eq!(find(&[root.path().to_owned()]).unwrap(), [root.path().join("b")]);
        assert_eq!(find(&[root.path().join("a")]).unwrap(), [root.path().join("a")]);
    }

    #[cfg(unix)]
    #[test]
    fn links_are_not_followed() {
        let root = tree(&["a/site.kdl", "real/b/site.kdl"]);
        std::os::unix::fs::symlink(root.path(), root.path().join("loop")).unwrap();
        std::os::unix::fs::symlink(root.path().join("real/b"), root.path().join("linked")).unwrap();
        let sites = find(&[root.path().to_owned()]).unwrap();
        assert_eq!(sites, [root.path().join("a"), root.path().join("real/b")]);
    }
}

//! The files of a site on disk, and nothing outside its folder and the shared parts folder beside it.
//!
//! A spec may come from someone else, as in a check of proposed changes: its includes must not reach other files of
//! the machine, by name or by link, nor hang the program on a pipe or a device. Each file is therefore resolved to
//! its real path and judged there. It is then opened step by step from the folder that is held open since the beginning,
//! no link followed: whoever puts a link in its way in between gains nothing.

use std::cell::RefCell;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
#[cfg(unix)]
use std::os::fd::OwnedFd;
use std::path::{Component, Path, PathBuf};

#[cfg(unix)]
use rustix::fs::{Mode, OFlags};

use super::{Stop, plain, sites};
use crate::register_file;
use crate::resolve::load::{FileSource, ReadFault};

/// A spec file is at most 1 MiB.
pub(super) const LIMIT: u64 = 1024 * 1024;
/// The folder beside the site's that sites may share parts from.
const SHARED: &str = "parts";

/// How long the file of that path may be, in bytes.
pub(super) fn limit(path: &str) -> u64 {
    if path == register_file::FILE { register_file::LARGEST as u64 } else { LIMIT }
}

/// The files of one site.
pub(super) struct DiskFiles {
    /// The site's folder as the user named it.
    named: PathBuf,
    site: Folder,
    /// The shared parts, where there is such a folder; a link there leads out.
    shared: Option<Folder>,
    /// The register's bytes, once it has been read.
    register: RefCell<Option<Vec<u8>>>,
}

impl DiskFiles {
    /// The site in `folder`, which must exist.
    pub(super) fn open(folder: &Path) -> Result<Self, Stop> {
        let stop = |error| Stop::new(format!("cannot read {}: {}", folder.display(), plain(&error)));
        let real = fs::canonicalize(folder).map_err(stop)?;
        let shared = real.parent().and_then(|parent| Folder::open(parent.join(SHARED)).ok());
        let site = Folder::open(real).map_err(stop)?;
        Ok(Self { named: folder.to_owned(), site, shared, register: RefCell::default() })
    }

    /// The register as it was read; `None` where it was not there. It is replaced only as long as it is still the same.
    pub(super) fn register(&self) -> Option<Vec<u8>> {
        self.register.take()
    }
}

impl FileSource for DiskFiles {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        if !stays(path) {
            return Err(ReadFault::Escapes);
        }
        let named = self.site.path.join(path);
        let real = fs::canonicalize(&named).map_err(|error| match fault(&error) {
            // Whoever put a link there means a file.
            ReadFault::Missing if fs::symlink_metadata(&named).is_ok() => {
                ReadFault::Failed("it is a link that leads to nothing".into())
            }
            fault => fault,
        })?;
        let folders = [Some(&self.site), self.shared.as_ref()];
        let found =
            folders.into_iter().flatten().find_map(|folder| Some((folder, real.strip_prefix(&folder.path).ok()?)));
        let (folder, inside) = found.ok_or(ReadFault::Escapes)?;
        // Before opening: to open a pipe is to wait for its writer.
        let size = regular(&fs::symlink_metadata(&real))?;
        let limit = limit(path);
        if size > limit {
            return Err(ReadFault::TooLarge(size));
        }
        let bytes = read_at_most(folder.file(inside), limit).map_err(|error| fault(&error))?;
        // It may have grown since.
        let length = bytes.len() as u64;
        if length > limit {
            return Err(ReadFault::TooLarge(length));
        }
        if path == register_file::FILE {
            self.register.replace(Some(bytes.clone()));
        }
        Ok(bytes)
    }

    fn spec_files(&self) -> Vec<String> {
        let folder = walkdir::WalkDir::new(&self.site.path).max_depth(NEAR_DEPTH).sort_by_file_name();
        // What an editor keeps of a file is no other file of the site.
        let seen = folder.into_iter().filter_entry(|entry| entry.depth() == 0 || !sites::is_hidden(entry));
        let files = seen.flatten().take(MOST_NEAR).filter(|entry| entry.file_type().is_file());
        let named = files.filter_map(|entry| {
            let path = entry.path().strip_prefix(&self.site.path).ok()?.to_str()?.replace('\\', "/");
            Some(path).filter(|path| path.ends_with(".kdl"))
        });
        named.collect()
    }

    fn shown(&self, path: &str) -> String {
        shown(&self.named, path)
    }
}

/// How deep and among how many entries of a site's folder a file is looked for that an include may have meant.
const NEAR_DEPTH: usize = 3;
const MOST_NEAR: usize = 500;

/// A folder that is held open, so that no other can be put in its place.
struct Folder {
    /// Its real path.
    path: PathBuf,
    #[cfg(unix)]
    handle: OwnedFd,
}

#[cfg(unix)]
impl Folder {
    const FLAGS: OFlags = OFlags::DIRECTORY.union(OFlags::NOFOLLOW).union(OFlags::CLOEXEC);

    fn open(path: PathBuf) -> io::Result<Self> {
        let handle = rustix::fs::open(&path, Self::FLAGS, Mode::empty())?;
        Ok(Self { path, handle })
    }

    /// Opens a file below the folder; nothing on the way may be a link.
    fn file(&self, inside: &Path) -> io::Result<File> {
        let mut handle = self.handle.try_clone()?;
        for step in inside.parent().into_iter().flat_map(Path::components) {
            handle = rustix::fs::openat(&handle, step.as_os_str(), Self::FLAGS, Mode::empty())?;
        }
        let flags = OFlags::NOFOLLOW | OFlags::NONBLOCK | OFlags::NOCTTY | OFlags::CLOEXEC;
        Ok(rustix::fs::openat(&handle, inside.file_name().unwrap_or_default(), flags, Mode::empty())?.into())
    }
}

#[cfg(not(unix))]
impl Folder {
    fn open(path: PathBuf) -> io::Result<Self> {
        Ok(Self { path })
    }

    fn file(&self, inside: &Path) -> io::Result<File> {
        File::open(self.path.join(inside))
    }
}

/// A file of any name that the user gives; the empty device is an empty file. A pipe is not waited for.
pub(super) fn read_any(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    if path == Path::new("/dev/null") {
        return Ok(Vec::new());
    }
    let mut options = File::options();
    options.read(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::custom_flags(&mut options, OFlags::NONBLOCK.bits().cast_signed());
    read_at_most(options.open(path), most)
}

/// The bytes of a file, if it is one, and of one that is longer than `most` bytes one byte more.
fn read_at_most(file: io::Result<File>, most: u64) -> io::Result<Vec<u8>> {
    let file = file?;
    if !file.metadata()?.is_file() {
        return Err(io::Error::other(ReadFault::NotAFile));
    }
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// True where a path, by its words alone, stays in the site's folder or in the shared parts folder.
fn stays(path: &str) -> bool {
    let mut inside: Vec<Component> = Vec::new();
    for component in Path::new(path).components() {
        match component {
            Component::CurDir => {}
            Component::ParentDir if matches!(inside.last(), Some(Component::Normal(_))) => {
                inside.pop();
            }
            Component::Normal(_) | Component::ParentDir => inside.push(component),
            Component::RootDir | Component::Prefix(_) => return false,
        }
    }
    match inside.as_slice() {
        [Component::ParentDir, Component::Normal(folder), ..] => *folder == SHARED,
        [Component::ParentDir, ..] => false,
        _ => true,
    }
}

fn regular(metadata: &io::Result<fs::Metadata>) -> Result<u64, ReadFault> {
    match metadata {
        Ok(metadata) if metadata.is_file() => Ok(metadata.len()),
        Ok(_) => Err(ReadFault::NotAFile),
        Err(error) => Err(fault(error)),
    }
}

fn fault(error: &io::Error) -> ReadFault {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => ReadFault::Missing,
        ErrorKind::IsADirectory => ReadFault::NotAFile,
        _ => ReadFault::Failed(plain(error)),
    }
}

/// `folder` and `path` joined, with `/`, without `.`, and without a `name/..` that only goes back and forth.
pub(super) fn shown(folder: &Path, path: &str) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut root = "";
    for component in folder.components().chain(Path::new(path).components()) {
        match component {
            Component::CurDir => {}
            Component::RootDir => root = "/",
            Component::ParentDir if parts.last().is_some_and(|last| last != "..") => {
                parts.pop();
            }
            other => parts.push(other.as_os_str().to_string_lossy().into_owned()),
        }
    }
    format!("{root}{}", parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site() -> (tempfile::TempDir, DiskFiles) {
        let root = tempfile::tempdir().unwrap();
        for (path, text) in
            [("mill/site.kdl", "site"), ("mill/wiring/a.kdl", "a"), ("parts/p.kdl", "p"), ("secret.kdl", "secret")]
        {
            let path = root.path().join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
        let files = DiskFiles::open(&root.path().join("mill")).unwrap();
        (root, files)
    }

    #[test]
    fn reads_the_site_and_the_shared_parts() {
        let (_root, files) = site();
        assert_eq!(files.read("site.kdl").unwrap(), b"site");
        assert_eq!(files.read("wiring/../wiring/a.kdl").unwrap(), b"a");
        assert_eq!(files.read("../parts/p.kdl").unwrap(), b"p");
        assert_eq!(files.read("none.kdl"), Err(ReadFault::Missing));
        assert_eq!(files.read("site.kdl/below.kdl"), Err(ReadFault::Missing));
    }

    #[test]
    fn hidden_folders_have_no_files_of_the_site() {
        let (root, files) = site();
        fs::create_dir_all(root.path().join("mill/.history")).unwrap();
        fs::write(root.path().join("mill/.history/site.kdl"), "site").unwrap();
        assert_eq!(files.spec_files(), ["site.kdl", "wiring/a.kdl"]);
    }

    #[test]
    fn nothing_else_is_reached_by_name() {
        let (root, files) = site();
        let absolute = root.path().join("mill/site.kdl").to_string_lossy().into_owned();
        for path in ["../secret.kdl", "wiring/../../secret.kdl", "../parts/../secret.kdl", "../../none", &absolute] {
            assert_eq!(files.read(path), Err(ReadFault::Escapes), "{path}");
        }
        assert!(matches!(files.read("a\0b"), Err(ReadFault::Failed(_))));
    }

    #[cfg(unix)]
    #[test]
    fn nothing_else_is_reached_by_link() {
        use std::os::unix::fs::symlink;
        let (root, files) = site();
        symlink(root.path().join("secret.kdl"), root.path().join("mill/link.kdl")).unwrap();
        symlink(root.path(), root.path().join("mill/up")).unwrap();
        symlink("gone.kdl", root.path().join("mill/dangling.kdl")).unwrap();
        symlink("loop.kdl", root.path().join("mill/loop.kdl")).unwrap();
        symlink("site.kdl", root.path().join("mill/fine.kdl")).unwrap();
        assert_eq!(files.read("link.kdl"), Err(ReadFault::Escapes));
        assert_eq!(files.read("up/secret.kdl"), Err(ReadFault::Escapes));
        assert!(matches!(files.read("loop.kdl"), Err(ReadFault::Failed(_))));
        assert!(matches!(files.read("dangling.kdl"), Err(ReadFault::Failed(_))));
        assert_eq!(files.read("fine.kdl").unwrap(), b"site");

        let outside = tempfile::tempdir().unwrap();
        fs::write(outside.path().join("p.kdl"), "outside").unwrap();
        fs::remove_dir_all(root.path().join("parts")).unwrap();
        symlink(outside.path(), root.path().join("parts")).unwrap();
        assert_eq!(files.read("../parts/p.kdl"), Err(ReadFault::Escapes));
    }

    /// Judged while it is a file of the site, and opened when it is a link that leads out.
    #[cfg(unix)]
    #[test]
    fn a_link_that_comes_late_is_not_followed() {
        use std::os::unix::fs::symlink;
        let (root, files) = site();
        symlink(root.path().join("secret.kdl"), root.path().join("mill/late.kdl")).unwrap();
        symlink(root.path(), root.path().join("mill/late")).unwrap();
        for inside in ["late.kdl", "late/secret.kdl", "late/mill/site.kdl"] {
            assert!(files.site.file(Path::new(inside)).is_err(), "{inside}");
        }
        // Another folder of the site's name is another folder.
        fs::rename(root.path().join("mill"), root.path().join("moved")).unwrap();
        fs::create_dir(root.path().join("mill")).unwrap();
        fs::write(root.path().join("mill/site.kdl"), "another").unwrap();
        assert_eq!(files.read("site.kdl").unwrap(), b"site");
    }

    #[test]
    fn names_that_no_system_takes_are_no_files() {
        let (_root, files) = site();
        for path in ["x".repeat(300), "a/".repeat(3000)] {
            assert!(files.read(&path).is_err());
        }
    }

    #[cfg(unix)]
    #[test]
    fn only_regular_files_are_opened() {
        let (root, files) = site();
        fs::create_dir(root.path().join("mill/folder.kdl")).unwrap();
        assert_eq!(files.read("folder.kdl"), Err(ReadFault::NotAFile));
        let pipe = root.path().join("mill/pipe.kdl");
        assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
        assert_eq!(files.read("pipe.kdl"), Err(ReadFault::NotAFile));
    }

    #[test]
    fn a_file_is_at_most_a_mebibyte() {
        let (root, files) = site();
        let path = root.path().join("mill/large.kdl");
        fs::write(&path, vec![b'\n'; 1024 * 1024]).unwrap();
        assert_eq!(files.read("large.kdl").unwrap().len(), 1024 * 1024);
        fs::write(&path, vec![b'\n'; 1024 * 1024 + 1]).unwrap();
        assert_eq!(files.read("large.kdl"), Err(ReadFault::TooLarge(1024 * 1024 + 1)));
    }

    #[test]
    fn paths_are_shown_as_the_user_named_them() {
        for (folder, path, expected) in [
            (".", "site.kdl", "site.kdl"),
            (".", "../parts/p.kdl", "../parts/p.kdl"),
            ("specs/mill/", "wiring/a.kdl", "specs/mill/wiring/a.kdl"),
            ("./specs/mill", "../parts/p.kdl", "specs/parts/p.kdl"),
            ("..", "../parts/p.kdl", "../../parts/p.kdl"),
            ("./specs/mill", "", "specs/mill"),
            ("/srv/mill", "site.kdl", "/srv/mill/site.kdl"),
        ] {
            assert_eq!(shown(Path::new(folder), path), expected);
        }
    }
}

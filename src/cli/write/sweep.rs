//! Empties a folder that a packet was in: the program's own files go, and those of others move to the packet that stands.

use std::ffi::OsStr;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::manifest::Manifest;
use super::names::MANIFEST;
use super::plan::read_manifest;
use super::refusal::Refusal;
use super::steps;
use super::workspace::{make_folders, parent};

type Fault = (PathBuf, io::Error);

/// What is done with something in the folder; its path from there.
enum Task {
    /// A file of the program's, as it was written.
    Remove(PathBuf),
    /// A folder that is empty by then.
    RemoveFolder(PathBuf),
    /// Something of somebody else's: a folder as a whole, where the packet that stands has none of its name.
    Move(PathBuf),
}

/// Removes the folder `from`, if it is there, and keeps in `to` all that the program did not write. Gives the names of the
/// files that got another one, because their own was taken while the packet was replaced.
pub(super) fn sweep(from: &Path, to: &Path) -> Result<Vec<String>, Fault> {
    let mut renamed = Vec::new();
    for task in tasks(from, to)? {
        match task {
            Task::Remove(path) => at(&from.join(path), steps::remove_file)?,
            Task::RemoveFolder(path) => at(&from.join(path), steps::remove_folder)?,
            Task::Move(path) => renamed.extend(move_over(&from.join(&path), to, &path)?),
        }
    }
    Ok(renamed)
}

/// Refuses to replace the packet in `from` by the one in `to` where sweeping would be stopped: by rights, or by another file
/// system in the folder.
pub(super) fn check(from: &Path, to: &Path) -> Result<(), Refusal> {
    for task in tasks(from, to).map_err(|(path, error)| Refusal::failed(&path, &error))? {
        match task {
            Task::RemoveFolder(path) => movable(&from.join(path))?,
            Task::Move(path) => {
                let at = from.join(path);
                // The rights of a file do not matter: it is its folder that changes.
                if fs::symlink_metadata(&at).is_ok_and(|metadata| metadata.is_dir()) {
                    movable(&at)?;
                }
            }
            Task::Remove(_) => {}
        }
    }
    Ok(())
}

#[cfg(unix)]
fn movable(folder: &Path) -> Result<(), Refusal> {
    if is_mounted(folder) {
        return Err(Refusal::Irreplaceable { folder: folder.to_owned(), why: "is a file system of its own" });
    }
    match rustix::fs::access(folder, rustix::fs::Access::WRITE_OK) {
        Ok(()) => Ok(()),
        Err(_) => Err(Refusal::ReadOnly(folder.to_owned())),
    }
}

#[cfg(not(unix))]
fn movable(_folder: &Path) -> Result<(), Refusal> {
    Ok(())
}

/// What it takes to empty `from` and to remove it: what is in a folder before the folder, the list of the program's own files
/// last, so that they are known to the end.
fn tasks(from: &Path, to: &Path) -> Result<Vec<Task>, Fault> {
    let mut tasks = Vec::new();
    if fs::symlink_metadata(from).is_ok() {
        // A list that cannot be read makes all files those of others.
        let own = read_manifest(from).unwrap_or_default();
        walk(&Packets { from, to, own: &own }, Path::new(""), &mut tasks)?;
        let list = PathBuf::from(MANIFEST);
        if fs::symlink_metadata(from.join(&list)).is_ok() {
            tasks.push(Task::Remove(list));
        }
        tasks.push(Task::RemoveFolder(PathBuf::new()));
    }
    Ok(tasks)
}

fn walk(packets: &Packets, folder: &Path, tasks: &mut Vec<Task>) -> Result<(), Fault> {
    let at = packets.from.join(folder);
    let names: io::Result<Vec<_>> = fs::read_dir(&at).and_then(|entries| entries.map(|e| Ok(e?.file_name())).collect());
    let mut names = names.map_err(|error| (at, error))?;
    names.sort();
    for path in names.iter().map(|name| folder.join(name)).filter(|path| path != Path::new(MANIFEST)) {
        if packets.share(&path) {
            walk(packets, &path, tasks)?;
            tasks.push(Task::RemoveFolder(path));
        } else if packets.is_own(&path) {
            tasks.push(Task::Remove(path));
        } else {
            tasks.push(Task::Move(path));
        }
    }
    Ok(())
}

/// The packet that is emptied, and the one that stands.
struct Packets<'a> {
    from: &'a Path,
    to: &'a Path,
    own: &'a Manifest,
}

impl Packets<'_> {
    /// True where a file of the program's stands there, as it was written.
    fn is_own(&self, path: &Path) -> bool {
        let at = self.from.join(path);
        slashed(path).is_some_and(|path| {
            self.own.files.contains_key(&path)
                && fs::symlink_metadata(&at).is_ok_and(|metadata| metadata.is_file())
                && fs::read(&at).is_ok_and(|bytes| self.own.knows(&path, &bytes))
        })
    }

    /// True for a folder that holds files of the program's, or has one of the same name to go into.
    fn share(&self, path: &Path) -> bool {
        let is_folder = |root: &Path| fs::symlink_metadata(root.join(path)).is_ok_and(|metadata| metadata.is_dir());
        let holds_own =
            || slashed(path).is_some_and(|path| self.own.files.keys().any(|own| own.starts_with(&format!("{path}/"))));
        is_folder(self.from) && (is_folder(self.to) || holds_own())
    }
}

/// Moves a file or folder to its path in the other packet, or beside what has come there meanwhile.
fn move_over(from: &Path, to: &Path, path: &Path) -> Result<Option<String>, Fault> {
    let place = to.join(path);
    make_folders(place.parent().unwrap_or(to), &mut Vec::new())?;
    let is_free = |place: &Path| fs::symlink_metadata(place).is_err();
    let rename = |place: &Path| at(from, |from| steps::rename(from, place));
    if is_free(&place) {
        return rename(&place).map(|()| None);
    }
    let name = place.file_name().unwrap_or(OsStr::new("")).to_string_lossy().into_owned();
    for number in 1_u32.. {
        let beside = place.with_file_name(format!("{name}.kept-{number}"));
        if is_free(&beside) {
            rename(&beside)?;
            return Ok(beside.strip_prefix(to).ok().map(|path| path.to_string_lossy().into_owned()));
        }
    }
    Ok(None)
}

fn at(path: &Path, step: impl FnOnce(&Path) -> io::Result<()>) -> Result<(), Fault> {
    step(path).map_err(|error| (path.to_owned(), error))
}

/// A path as the list has it.
fn slashed(path: &Path) -> Option<String> {
    let parts: Option<Vec<&str>> = path.iter().map(OsStr::to_str).collect();
    parts.map(|parts| parts.join("/"))
}

/// True for a folder that is on another file system than the one it stands in.
#[cfg(unix)]
pub(super) fn is_mounted(folder: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let disk = |path: &Path| fs::metadata(path).map(|metadata| metadata.dev()).ok();
    disk(parent(folder)) != disk(folder)
}

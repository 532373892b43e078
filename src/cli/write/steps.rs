//! The calls by which the program changes the disk. Each is one step, so that a test can let any of them fail, or be the
//! last before a kill.

use std::fs::{self, File, Permissions};
use std::io::{self, ErrorKind, Write};
use std::path::Path;

/// Makes a folder where nothing is.
pub(super) fn make_folder(path: &Path) -> io::Result<()> {
    step("make folder", path, || fs::create_dir(path))
}

/// Writes a file where nothing is, and forces it to the disk.
pub(super) fn write_file(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let write = |bytes: &[u8]| {
        let mut file = File::create_new(path)?;
        file.write_all(bytes)?;
        force(&file)
    };
    #[cfg(test)]
    if super::tests::faults::strikes_next() {
        // The worst: half of it is there.
        write(bytes.get(..bytes.len() / 2).unwrap_or_default())?;
    }
    step("write", path, || if exceeds_limit(bytes) { Err(ErrorKind::FileTooLarge.into()) } else { write(bytes) })
}

/// True for a file that is longer than the system lets this process write (`ulimit -f`). It would be killed for trying, and
/// no safe call of the standard library prevents that.
fn exceeds_limit(bytes: &[u8]) -> bool {
    #[cfg(unix)]
    {
        let most = rustix::process::getrlimit(rustix::process::Resource::Fsize).current;
        most.is_some_and(|most| bytes.len() as u64 > most)
    }
    #[cfg(not(unix))]
    {
        let _ = bytes;
        false
    }
}

/// To the disk itself, so that a power cut does not take it. No test can cut the power: there it would only take time.
fn force(file: &File) -> io::Result<()> {
    if cfg!(test) { Ok(()) } else { file.sync_all() }
}

/// Forces the names in a folder to the disk.
pub(super) fn sync_folder(path: &Path) -> io::Result<()> {
    step("sync", path, || {
        if cfg!(not(unix)) {
            // There a folder cannot be opened.
            return Ok(());
        }
        match File::open(path).and_then(|folder| force(&folder)) {
            // Some file systems have no such thing.
            Err(error) if matches!(error.kind(), ErrorKind::InvalidInput | ErrorKind::Unsupported) => Ok(()),
            done => done,
        }
    })
}

/// Sets the rights of a file or folder.
pub(super) fn permit(path: &Path, rights: Permissions) -> io::Result<()> {
    step("set rights", path, || fs::set_permissions(path, rights))
}

/// Moves a file or folder, over a file that is there.
pub(super) fn rename(from: &Path, to: &Path) -> io::Result<()> {
    step("rename", to, || fs::rename(from, to))
}

/// Lets two folders change places, in one step; [`ErrorKind::Unsupported`] where the system cannot.
pub(super) fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    step("exchange", other, || {
        #[cfg(any(target_os = "linux", target_os = "macos"))]
        {
            use rustix::fs::{CWD, RenameFlags, renameat_with};
            use rustix::io::Errno;
            renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE).map_err(|error| match error {
                Errno::INVAL | Errno::NOSYS | Errno::NOTSUP => ErrorKind::Unsupported.into(),
                error => error.into(),
            })
        }
        #[cfg(not(any(target_os = "linux", target_os = "macos")))]
        {
            let _ = (one, other);
            Err(ErrorKind::Unsupported.into())
        }
    })
}

/// Removes a file or a link.
pub(super) fn remove_file(path: &Path) -> io::Result<()> {
    step("remove", path, || fs::remove_file(path))
}

/// Removes a folder that is empty.
pub(super) fn remove_folder(path: &Path) -> io::Result<()> {
    step("remove folder", path, || fs::remove_dir(path))
}

/// Opens the file that runs are told apart by, and makes it where there is none. Whatever it is linked to, nothing is written
/// to it.
pub(super) fn open_lock(path: &Path) -> io::Result<File> {
    step("lock", path, || {
        let mut options = File::options();
        options.read(true).write(true).create(true).truncate(false);
        #[cfg(unix)]
        {
            use rustix::fs::OFlags;
            let flags = (OFlags::NOFOLLOW | OFlags::NONBLOCK).bits().cast_signed();
            std::os::unix::fs::OpenOptionsExt::custom_flags(&mut options, flags);
        }
        options.open(path)
    })
}

#[cfg(not(test))]
fn step<T>(_what: &str, _path: &Path, call: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
    call()
}

#[cfg(test)]
use super::tests::faults::step;

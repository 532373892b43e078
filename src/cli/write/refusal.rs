//! Why nothing is written, and what to do about it.

use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use crate::cli::plain;

/// Why a register or a packet is not written. Nothing has been changed then, but where the words say so.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
pub(in crate::cli) enum Refusal {
    /// A file of a packet's name that the program did not write, or a folder, a link or a device.
    #[error("{} is in the way: loopwright did not write it", .0.display())]
    InTheWay(PathBuf),
    /// A file of the program's that has other contents now.
    #[error("{} has been changed by hand since loopwright wrote it", .0.display())]
    Changed(PathBuf),
    /// The output folder is something else.
    #[error("{} is not a folder", .0.display())]
    NotAFolder(PathBuf),
    /// The output folder is a link: the files would land somewhere else.
    #[error("{} is a link, and the packet would land elsewhere", .0.display())]
    Link(PathBuf),
    /// The output folder is another disk's top, or holds the spec: it cannot be replaced as a whole.
    #[error("{} {why}, and a packet takes the place of the whole folder", .folder.display())]
    Irreplaceable { folder: PathBuf, why: &'static str },
    /// The packet that is there is of another spec, of a house of the same name.
    #[error("{} holds the packet of {}, a house of the same name", .folder.display(), .other.display())]
    OfAnother { folder: PathBuf, other: PathBuf },
    /// Somebody has taken away the right to write.
    #[error("{} is read-only", .0.display())]
    ReadOnly(PathBuf),
    /// The manifest cannot be read as one.
    #[error("{} is not a list that loopwright wrote", .0.display())]
    Manifest(PathBuf),
    /// Another run holds the workspace.
    #[error("another run is writing there: {} is in use", .0.display())]
    Busy(PathBuf),
    /// The register is not the one that was compiled.
    #[error("{} has changed since it was read", .0.display())]
    Stale(PathBuf),
    /// A path in the packet that is none.
    #[error("the packet has a file with an impossible name: {0}")]
    Name(String),
    /// What the operating system said.
    #[error("cannot write {}: {why}", .path.display())]
    Failed { path: PathBuf, why: String, kind: ErrorKind },
    /// The packet failed when the register was in place, and putting the old one back failed as well.
    #[error("{packet}; the register has been changed, and the old one cannot be put back: {why}")]
    RegisterChanged { packet: Box<Refusal>, why: String },
    /// Where two folders cannot be exchanged: the old packet was moved away, and neither the new one nor it could be moved back.
    #[error("the packet in {} is now in {}, and cannot be moved back: {why}", .target.display(), .old.display())]
    Astray { target: PathBuf, old: PathBuf, why: String },
    /// All is in its place; it may not be on the disk yet, or what it replaced is still in the workspace.
    #[error("all is written, but a last step failed: {}: {why}", .path.display())]
    Uncleared { path: PathBuf, why: String },
    /// What an earlier run left is in the way of this one.
    #[error("what an interrupted run left cannot be cleared away: {}: {why}", .path.display())]
    Left { path: PathBuf, why: String },
}

impl Refusal {
    pub(super) fn failed(path: &Path, error: &io::Error) -> Self {
        Self::Failed { path: path.to_owned(), why: plain(error), kind: error.kind() }
    }

    pub(super) fn uncleared(path: &Path, error: &io::Error) -> Self {
        Self::Uncleared { path: path.to_owned(), why: plain(error) }
    }

    pub(super) fn astray(target: &Path, old: &Path, error: &io::Error) -> Self {
        Self::Astray { target: target.to_owned(), old: old.to_owned(), why: plain(error) }
    }

    pub(super) fn left(path: &Path, error: &io::Error) -> Self {
        Self::Left { path: path.to_owned(), why: plain(error) }
    }

    pub(super) fn with_register(self, error: &io::Error) -> Self {
        Self::RegisterChanged { packet: Box::new(self), why: plain(error) }
    }

    /// What to do about it.
    pub(in crate::cli) fn help(&self) -> &'static str {
        match self {
            Self::InTheWay(_) => "move it, or the whole folder, away, or choose another folder with --out",
            // Without its list the program knows none of the files beside it.
            Self::Manifest(_) => {
                "move the whole folder that it is in away and compile again, or choose another folder with --out"
            }
            Self::Changed(_) => "keep your version under another name, then remove or move this one",
            Self::NotAFolder(_) | Self::Link(_) | Self::Irreplaceable { .. } => "choose another folder with --out",
            Self::OfAnother { .. } => {
                "choose another folder with --out, or give one of the two another name in its `site`; if it is a copy, move the packet's folder away"
            }
            Self::ReadOnly(_) => "make it writable, if it is to be replaced",
            Self::Busy(_) => "wait for it to end and try again",
            Self::Stale(_) => "another run or an editor has written it: compile again",
            Self::Name(_) => "this is a fault of the program: please report it",
            Self::Failed {
                kind: ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge, ..
            } => "nothing has been changed; make room, or raise the limit, and compile again",
            Self::Failed { kind: ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem, .. } => {
                "nothing has been changed; compile where you may write, or choose another folder with --out"
            }
            Self::Failed { kind: ErrorKind::CrossesDevices | ErrorKind::ResourceBusy, .. } => {
                "this system cannot move it: nothing has been changed; choose another folder with --out"
            }
            Self::Failed { .. } => "nothing has been changed",
            Self::RegisterChanged { .. } | Self::Astray { .. } => "see to the disk, and compile again",
            Self::Uncleared { .. } | Self::Left { .. } => "see to its rights or to the disk, and compile again",
        }
    }
}

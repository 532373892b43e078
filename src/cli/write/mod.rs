//! How a register and a packet get onto the disk: whole or not at all, and never over a file of somebody else's. A file that
//! is laid out goes the register's way, a new folder is renamed to its place.
//!
//! `out/mill` is replaced as a folder: the new packet is put together beside it and the two folders change places in one
//! step. `register.kdl` is replaced by a rename. Each is prepared in a [`workspace`] beside it, `.loopwright-mill` and
//! `.loopwright-register.kdl`, which only one run can hold. The steps for one site, and what a kill before the next leaves:
//!
//! 1. **Lock.** The workspaces are made and locked; the system drops a lock when a run ends in whatever way. What an earlier
//!    run left in them is cleared. *Killed:* an empty workspace.
//! 2. **Plan.** Only now is looked at what is there: nothing of ours changes it any more. Refused are a register that is not
//!    the one that this compilation read, files in the way, files changed by hand.
//! 3. **Prepare.** The whole new packet is written to `new` in its workspace, the new register and a copy of the old one to
//!    theirs; files and folders are forced to the disk. What can run out, runs out here. At the end `new` is renamed `swap`.
//!    *Killed:* nothing is replaced; `new` is whatever it is and is removed, `swap` is a packet and is swept (step 6).
//! 4. **Register.** The new register is renamed over the old one: a label that is on paper and in no register would be given a
//!    second time. *Killed:* the new register beside the old packet; the next compile makes the packet.
//! 5. **Swap.** `swap` and the packet's folder change places. *Killed before or after:* the old or the new packet, whole.
//!    Where the system cannot exchange two folders, the old one is moved to `old` and `swap` to its place. *Killed between:*
//!    no packet in its place, which every reader sees; the next run moves `old` back.
//! 6. **Sweep.** In `swap` (or `old`) is now the packet that was replaced. Of it the program's own files are removed, and all
//!    others, such as photos or notes, are moved to their place in the packet that stands. *Killed:* the rest of it in the
//!    workspace; the next run goes on.
//! 7. **Unlock.** The workspaces are removed: contents, lock, folder. *Killed:* less and less of them.
//!
//! Where a step up to 5 fails, the ones before are undone: nothing has happened. Where all is in place already, nothing is
//! written at all, and no lock is taken. The table of all steps is in `tests/kills.md` beside `src`; a test makes it.
//!
//! Out: programs of others that write into the packet's folder during the few steps of a sweep, beyond that nothing of theirs
//! is lost; file systems without locks, on which two runs at once are not told apart.

mod fresh;
mod manifest;
mod names;
mod packet;
mod plan;
mod refusal;
mod single;
mod steps;
mod sweep;
mod workspace;

use std::path::Path;

pub(super) use fresh::fresh;
pub(super) use names::unstorable;
use packet::Packet;
pub(super) use plan::{Written, holds_packet};
pub(super) use refusal::Refusal;
use single::Single;

use crate::emit::Bundle;
use crate::register_file;

/// What is to be written for one site.
#[derive(Clone, Copy, Debug)]
pub(super) struct Job<'a> {
    /// The site's folder.
    pub(super) site: &'a Path,
    /// The bytes of its register as the compilation read them; `None` where there was none.
    pub(super) register: Option<&'a [u8]>,
    /// The register's new text; `None` where it stays as it is.
    pub(super) text: Option<&'a str>,
    /// The folder of the packet.
    pub(super) target: &'a Path,
    pub(super) bundle: &'a Bundle,
}

/// Finds out what is in the way; nothing is left changed.
pub(super) fn look(job: &Job) -> Result<(), Refusal> {
    open(job).map(drop)
}

/// Writes the register and the packet, or nothing.
pub(super) fn write(job: &Job) -> Result<Written, Refusal> {
    let (mut packet, register) = open(job)?;
    packet.prepare()?;
    register.prepare()?;
    register.put()?;
    if let Err(refusal) = packet.swap() {
        return Err(register.put_back(refusal));
    }
    let written = packet.close()?;
    register.close()?;
    Ok(written)
}

/// Replaces a single file by a new text, or does nothing: `old` are its bytes as they were read.
pub(super) fn replace(file: &Path, old: &[u8], new: &str) -> Result<(), Refusal> {
    let single = Single::open(file, Some(old), Some(new))?;
    single.prepare()?;
    single.put()?;
    single.close()
}

/// Completes what an interrupted run left, where nothing is to be written now because the spec has errors.
pub(super) fn tidy(site: &Path, target: Option<&Path>) {
    single::tidy_beside(&site.join(register_file::FILE));
    if let Some(target) = target {
        packet::tidy(site, target);
    }
}

/// Steps 1 and 2. The packet first: whoever holds it has the newest register.
fn open<'a>(job: &Job<'a>) -> Result<(Packet<'a>, Single<'a>), Refusal> {
    let packet = Packet::open(job.site, job.target, job.bundle)?;
    let register = Single::open(&job.site.join(register_file::FILE), job.register, job.text)?;
    Ok((packet, register))
}

#[cfg(test)]
mod tests;

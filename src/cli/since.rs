//! `loopwright compile --since`: the packet with a bar beside what differs from an earlier revision, and the work order.

use std::path::{Path, PathBuf};

use super::compile::Target;
use super::disk::DiskFiles;
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, compile, revision, sites};
use crate::session::{self, Reader};

/// Compiles every site that `paths` mean, each marked against the revision or folder `since`.
pub(super) fn run(
    screen: &mut Screen,
    paths: &[PathBuf],
    target: Target,
    readers: &[Reader],
    since: &str,
) -> Result<Exit, Stop> {
    let (folders, unsearched) = sites::find_all(paths)?;
    if folders.len() > 1 && Path::new(since).exists() {
        return Err(Stop::new(format!("{since} is one folder, and there are {} sites", folders.len()))
            .help("compile one site at a time, or name a git revision"));
    }
    let mut compiled = Vec::new();
    for folder in folders {
        let files = DiskFiles::open(&folder)?;
        let old = revision::since(since, &folder)?;
        let (outcome, marked) = session::compile_since(readers, &files, (&old, &old.named));
        old.whole()?;
        if !marked {
            screen.complain(&format!("no site can be read in {since}, so nothing is marked\n"));
        }
        compiled.push(Site::new(folder, outcome, files.register()));
    }
    let exit = compile::finish(screen, compiled, target)?;
    Ok(report::end(screen, exit, &unsearched))
}

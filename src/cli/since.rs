//! `loopwright compile --since`: the packet with a bar beside what differs from an earlier revision, and the work order.

use std::path::{Path, PathBuf};

use super::compile::Target;
use super::disk::DiskFiles;
use super::report::{self, Site};
use super::revision::{self, Revision};
use super::screen::Screen;
use super::{Exit, Stop, compile, sites};
use crate::diag::neutral::shown;
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
    let many = if folders.len() > 1 { Some(Revision::named(since)?) } else { None };
    let mut compiled = Vec::new();
    for folder in folders {
        let files = DiskFiles::open(&folder)?;
        let old = match &many {
            None => revision::since(since, &folder)?,
            Some(revision) => revision.site(&folder)?,
        };
        let Some(old) = old else {
            let named = shown(&report::named(&folder));
            screen.complain(&format!(
                "{named} is new since {since}, so nothing is marked; where its folder was called otherwise then, write REV:PATH\n"
            ));
            compiled.push(Site::new(folder, session::compile(readers, &files), files.register()));
            continue;
        };
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

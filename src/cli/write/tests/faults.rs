//! A disk that fails: at one step, from one step on, or because the program is killed there.

use std::cell::RefCell;
use std::io::{self, ErrorKind};
use std::path::Path;

/// What happens at a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::cli::write) enum Fault {
    /// The program ends: neither this step nor any later one is done.
    Killed,
    /// This step fails, and later ones do not.
    Fails(ErrorKind),
    /// From this step on nothing can be added; to move and to remove things is possible.
    Full,
}

#[derive(Debug, Default)]
struct Disk {
    /// Counted from 1.
    at: usize,
    fault: Option<Fault>,
    without_exchange: bool,
    taken: Vec<String>,
}

thread_local! {
    static DISK: RefCell<Option<Disk>> = const { RefCell::new(None) };
}

/// Runs something on a disk with a fault at a step, and gives the steps that were tried. A disk without a fault counts them.
pub(super) fn on_disk<T>(
    fault: Option<(usize, Fault)>,
    without_exchange: bool,
    run: impl FnOnce() -> T,
) -> (T, Vec<String>) {
    let (at, fault) = fault.map_or((0, None), |(at, fault)| (at, Some(fault)));
    DISK.set(Some(Disk { at, fault, without_exchange, taken: Vec::new() }));
    let done = run();
    (done, DISK.take().unwrap().taken)
}

/// True where the next step fails.
pub(in crate::cli::write) fn strikes_next() -> bool {
    DISK.with_borrow(|disk| disk.as_ref().is_some_and(|disk| disk.fault.is_some() && disk.taken.len() + 1 == disk.at))
}

pub(in crate::cli::write) fn step<T>(what: &str, path: &Path, call: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
    let refused = DISK.with_borrow_mut(|disk| {
        let disk = disk.as_mut()?;
        disk.taken.push(format!("{what} {}", path.display()));
        let (now, adds) = (disk.taken.len(), matches!(what, "make folder" | "write" | "sync" | "lock"));
        match disk.fault {
            Some(Fault::Killed) if now >= disk.at => Some(ErrorKind::Interrupted),
            Some(Fault::Fails(kind)) if now == disk.at => Some(kind),
            Some(Fault::Full) if now >= disk.at && adds => Some(ErrorKind::StorageFull),
            _ if what == "exchange" && disk.without_exchange => Some(ErrorKind::Unsupported),
            _ => None,
        }
    });
    refused.map_or_else(call, |kind| Err(kind.into()))
}

//! Runs a target on an input and catches what goes wrong; keeps the inputs that did, made small.

use std::fs;
use std::panic::{self, AssertUnwindSafe};
use std::path::{Path, PathBuf};
use std::process;
use std::sync::Mutex;
use std::thread;
use std::time::{Duration, Instant};

use crate::mutate::nodes;
use crate::targets::Target;
use crate::{Files, Said};

/// What an input may take.
pub struct Limits {
    pub slow: Duration,
    /// MiB.
    pub memory: u64,
}

/// What came of an input.
pub struct Seen {
    /// What was said, or what went wrong.
    pub said: Result<Said, String>,
    pub took: Duration,
    /// MiB at the most, as far as the system tells.
    pub memory: u64,
}

/// An input that has not come to an end after so long never will.
const HANGS: Duration = Duration::from_secs(120);

static PANIC: Mutex<String> = Mutex::new(String::new());
static RUNNING: Mutex<Option<Instant>> = Mutex::new(None);

/// Notes where a panic was instead of printing it, and ends the process when an input hangs. The input that runs is always in
/// `target/fuzz/running/`, so it is there after a hang, and after an end that no thread survives.
pub fn watch() {
    panic::set_hook(Box::new(|panic| {
        let said = panic.payload_as_str().unwrap_or_default().replace(char::is_control, " ");
        let said: String = said.chars().take(200).collect();
        *PANIC.lock().unwrap() = format!("{}: {said}", panic.location().map(ToString::to_string).unwrap_or_default());
    }));
    thread::spawn(|| {
        loop {
            thread::sleep(Duration::from_secs(1));
            if RUNNING.lock().unwrap().is_some_and(|start| start.elapsed() > HANGS) {
                println!("FOUND an input that hangs: {}", top().join("running").display());
                process::exit(2);
            }
        }
    });
}

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("target/fuzz")
}

/// Runs a target on an input.
pub fn run(target: &Target, files: &Files, limits: &Limits) -> Seen {
    write(&top().join("running").join(target.name), files);
    attempt(target, files, limits)
}

fn attempt(target: &Target, files: &Files, limits: &Limits) -> Seen {
    let _ = fs::write("/proc/self/clear_refs", "5");
    let (start, before) = (Instant::now(), busy());
    *RUNNING.lock().unwrap() = Some(start);
    let ran = panic::catch_unwind(AssertUnwindSafe(|| (target.run)(files)));
    *RUNNING.lock().unwrap() = None;
    let took = busy().zip(before).map_or(start.elapsed(), |(after, before)| after - before);
    let memory = peak();
    let said = match ran {
        Err(_) => Err(PANIC.lock().unwrap().clone()),
        Ok(_) if took > limits.slow => Err("takes too long".to_owned()),
        Ok(_) if memory > limits.memory => Err("takes too much memory".to_owned()),
        Ok(said) => Ok(said),
    };
    Seen { said, took, memory }
}

/// The time that this thread has had of a processor, where the system tells: others may be busy.
fn busy() -> Option<Duration> {
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    Some(Duration::from_nanos(told.split(' ').next()?.parse().ok()?))
}

/// The most memory that the process has held since it was last asked to forget, in MiB.
fn peak() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or_default();
    line.trim().trim_end_matches(" kB").parse().unwrap_or(0) / 1024
}

/// The place of a find, without what the panic said.
fn place(what: &str) -> &str {
    what.split_once(": ").map_or(what, |(place, _)| place)
}

/// Makes an input small, and keeps it beside the whole; the folder.
pub fn keep(target: &Target, seed: u64, count: u64, files: &Files, what: &str, limits: &Limits) -> PathBuf {
    let folder = top().join(format!("{}-{seed}-{count}", target.name));
    write(&folder.join("whole"), files);
    fs::write(folder.join("what.txt"), what).unwrap();
    write(&folder.join("small"), &smaller(target, files, what, limits));
    folder
}

/// Takes away files, nodes and lines as long as the same goes wrong, for a minute at most.
fn smaller(target: &Target, files: &Files, what: &str, limits: &Limits) -> Files {
    let end = Instant::now() + Duration::from_secs(60);
    let mut best = files.clone();
    let still = |files: &Files| attempt(target, files, limits).said.is_err_and(|other| place(&other) == place(what));
    loop {
        let before: usize = best.values().map(Vec::len).sum();
        for path in best.clone().into_keys() {
            let mut fewer = best.clone();
            fewer.remove(&path);
            if still(&fewer) {
                best = fewer;
                continue;
            }
            let mut from = 0;
            while let Some(node) = nodes(&best[&path]).into_iter().find(|node| node.start >= from) {
                let mut fewer = best.clone();
                fewer.get_mut(&path).unwrap().drain(node.clone());
                if Instant::now() > end {
                    return best;
                }
                if still(&fewer) {
                    best = fewer;
                } else {
                    from = node.start + 1;
                }
            }
        }
        if best.values().map(Vec::len).sum::<usize>() == before {
            return best;
        }
    }
}

/// Puts files into an emptied folder; `../parts/` becomes `shared/parts/`.
fn write(folder: &Path, files: &Files) {
    let _ = fs::remove_dir_all(folder);
    for (path, bytes) in files {
        let path = folder.join(path.replace("../", "shared/"));
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
}

/// The files that [`write`] wrote.
pub fn read(folder: &Path) -> Files {
    crate::corpus::folder(folder, "").into_iter().map(|(path, bytes)| (path.replace("shared/", "../"), bytes)).collect()
}

//! Texts that are kept in the tree and compared with what the program gives now.
//!
//! A text that differs is put below `target/tmp/goldens`, and the test fails. `tests/review` shows each difference and takes
//! in what the reader accepts: nothing is rewritten unseen.

use std::fs;
use std::path::{Path, PathBuf};

/// The project's folder.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Compares `fresh` with the text that is kept at `path`, which is given from the project's folder.
///
/// # Errors
/// Where they differ: the first line that does, and what to do.
pub fn compare(path: &str, fresh: &[u8]) -> Result<(), String> {
    let pending = Path::new(env!("CARGO_TARGET_TMPDIR")).join("goldens").join(path);
    let kept = fs::read(root().join(path)).unwrap_or_default();
    if kept == fresh {
        // What an earlier run found is settled.
        let _ = fs::remove_file(&pending);
        return Ok(());
    }
    fs::create_dir_all(pending.parent().unwrap()).unwrap();
    fs::write(&pending, fresh).unwrap();
    let (kept, fresh) = (String::from_utf8_lossy(&kept), String::from_utf8_lossy(fresh));
    let line = kept.lines().zip(fresh.lines()).take_while(|(kept, fresh)| kept == fresh).count();
    let of = |text: &str| text.lines().nth(line).unwrap_or("(the end)").to_owned();
    Err(format!(
        "{path}:{}: kept:  {}\n{path}:{}: fresh: {}\nread the whole difference with tests/review, and take it in if it is meant",
        line + 1,
        of(&kept),
        line + 1,
        of(&fresh)
    ))
}

/// Compares a folder of texts, in which no other file may be kept.
///
/// # Errors
/// As [`compare`], for each text; and the names of files that nothing gives.
pub fn compare_folder<'t>(folder: &str, fresh: impl Iterator<Item = (&'t str, &'t [u8])>) -> Result<(), String> {
    let mut kept: Vec<PathBuf> =
        fs::read_dir(root().join(folder)).into_iter().flatten().map(|entry| entry.unwrap().path()).collect();
    let mut wrong = Vec::new();
    for (name, text) in fresh {
        kept.retain(|path| !path.ends_with(name));
        wrong.extend(compare(&format!("{folder}/{name}"), text).err());
    }
    wrong.extend(kept.iter().map(|path| format!("nothing gives {} any more: remove it", path.display())));
    if wrong.is_empty() { Ok(()) } else { Err(wrong.join("\n")) }
}

//! A new folder, and a single file that is replaced: every step let fail, and every one made the last.

use std::io::ErrorKind;

use super::faults::{Fault, on_disk};
use super::*;

const FAULTS: [Fault; 3] = [Fault::Fails(ErrorKind::PermissionDenied), Fault::Full, Fault::Killed];

fn new_files() -> BTreeMap<String, String> {
    [("specs/mill/site.kdl", "site"), ("ci.sh", "#!/bin/sh")].map(|(path, text)| (path.into(), text.into())).into()
}

/// What is there, without what a run that was stopped has left for the next one.
fn seen(root: &Path) -> BTreeMap<String, String> {
    contents(root).into_iter().filter(|(path, _)| !path.contains(".loopwright-")).collect()
}

#[test]
fn a_new_folder_is_there_whole_or_not_at_all() {
    let whole = tempfile::tempdir().unwrap();
    let (done, steps) = on_disk(None, false, || super::fresh(&whole.path().join("mill"), &new_files()));
    assert_eq!(done, Ok(()));
    let whole = contents(whole.path());
    assert_eq!(whole.len(), 5, "{whole:?}");
    for fault in FAULTS {
        for at in 1..=steps.len() {
            let root = tempfile::tempdir().unwrap();
            let target = root.path().join("mill");
            let (done, _) = on_disk(Some((at, fault)), false, || super::fresh(&target, &new_files()));
            let found = seen(root.path());
            assert!(found.is_empty() || found == whole, "{fault:?} at {}: {found:?}", steps[at - 1]);
            match &done {
                Ok(()) | Err(Refusal::Uncleared { .. }) => assert_eq!(found, whole, "{fault:?} at {}", steps[at - 1]),
                Err(_) if fault == Fault::Killed => {}
                Err(_) => assert!(found.is_empty(), "{fault:?} at {}: {done:?}", steps[at - 1]),
            }
            if found.is_empty() {
                assert_eq!(super::fresh(&target, &new_files()), Ok(()), "{fault:?} at {}", steps[at - 1]);
                assert_eq!(contents(root.path()), whole);
            }
        }
    }
}

#[test]
fn a_folder_that_comes_in_between_is_left_alone() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("mill");
    fs::create_dir(&target).unwrap();
    assert_eq!(super::fresh(&target, &new_files()), Err(Refusal::InTheWay(target)));
    assert_eq!(contents(root.path()).len(), 1);
}

#[test]
fn a_single_file_is_the_old_or_the_new_one() {
    let house = || {
        let root = tempfile::tempdir().unwrap();
        fs::write(root.path().join("a.kdl"), "old").unwrap();
        root
    };
    let root = house();
    let (done, steps) = on_disk(None, false, || super::replace(&root.path().join("a.kdl"), b"old", "new"));
    assert_eq!(done, Ok(()));
    assert_eq!(contents(root.path()), [("a.kdl".to_owned(), "new".to_owned())].into());
    for fault in FAULTS {
        for at in 1..=steps.len() {
            let root = house();
            let file = root.path().join("a.kdl");
            let (done, _) = on_disk(Some((at, fault)), false, || super::replace(&file, b"old", "new"));
            let text = fs::read_to_string(&file).unwrap();
            assert!(["old", "new"].contains(&text.as_str()), "{fault:?} at {}", steps[at - 1]);
            let done = matches!(done, Ok(()) | Err(Refusal::Uncleared { .. }));
            assert!(fault == Fault::Killed || done == (text == "new"), "{fault:?} at {}: {text}", steps[at - 1]);
            assert_eq!(super::replace(&file, text.as_bytes(), "newer"), Ok(()));
            assert_eq!(contents(root.path()), [("a.kdl".to_owned(), "newer".to_owned())].into());
        }
    }
    // Somebody has changed it since it was read.
    let root = house();
    let file = root.path().join("a.kdl");
    assert_eq!(super::replace(&file, b"older", "new"), Err(Refusal::Stale(fs::canonicalize(&file).unwrap())));
    assert_eq!(contents(root.path()).len(), 1);
}

//! Tests of writing packets.

use std::collections::BTreeMap;

use super::*;

fn bundle(files: &[(&str, &str)]) -> Bundle {
    Bundle { files: files.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect() }
}

fn write(target: &Path, files: &[(&str, &str)]) -> Result<Written, Refusal> {
    plan(target, &bundle(files))?.write()
}

/// Everything below a folder: path → contents; folders end with `/`, links with `@`.
fn contents(root: &Path) -> BTreeMap<String, String> {
    walkdir::WalkDir::new(root)
        .min_depth(1)
        .into_iter()
        .map(|entry| {
            let entry = entry.unwrap();
            let path = entry.path().strip_prefix(root).unwrap().to_str().unwrap().to_owned();
            if entry.file_type().is_dir() {
                (path + "/", String::new())
            } else if entry.file_type().is_file() {
                (path, String::from_utf8(fs::read(entry.path()).unwrap()).unwrap())
            } else {
                (path + "@", String::new())
            }
        })
        .collect()
}

/// Tries to write, expects a refusal, and that nothing at all has changed.
fn refused(root: &Path, target: &Path, files: &[(&str, &str)]) -> Refusal {
    let before = contents(root);
    let refusal = write(target, files).unwrap_err();
    assert_eq!(contents(root), before);
    refusal
}

#[test]
fn writes_a_packet_and_leaves_nothing_else() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("deep/out/mill");
    let written = write(&target, &[("index.html", "i"), ("csv/a.csv", "a")]).unwrap();
    assert_eq!((written.files, written.unchanged, written.removed), (2, 0, 0));
    let found = contents(&root.path().join("deep/out"));
    let paths: Vec<&str> = found.keys().map(String::as_str).collect();
    assert_eq!(paths, ["mill/", "mill/.loopwright-manifest", "mill/csv/", "mill/csv/a.csv", "mill/index.html"]);
}

#[test]
fn the_same_packet_again_changes_nothing_and_two_runs_give_the_same_bytes() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let files = [("a", "1"), ("b/c", "2")];
    write(&one.path().join("x"), &files).unwrap();
    write(&two.path().join("x"), &files).unwrap();
    assert_eq!(contents(one.path()), contents(two.path()));
    let again = write(&one.path().join("x"), &files).unwrap();
    assert_eq!(again.unchanged, 2);
    assert_eq!(contents(one.path()), contents(two.path()));
}

#[test]
fn replaces_and_removes_its_own_files_only() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    write(&target, &[("a", "1"), ("old/b", "2"), ("old/c", "3")]).unwrap();
    fs::write(target.join("old/notes"), "mine").unwrap();
    fs::write(target.join("old/c"), "3, with a note by hand").unwrap();
    let written = write(&target, &[("a", "9")]).unwrap();
    assert_eq!((written.removed, written.kept), (1, vec!["old/c".to_owned()]));
    let found = contents(&target);
    assert_eq!(found["a"], "9");
    assert_eq!(found["old/notes"], "mine");
    assert_eq!(found["old/c"], "3, with a note by hand");
    assert!(!found.contains_key("old/b"));
}

#[test]
fn a_folder_left_empty_goes() {
    let root = tempfile::tempdir().unwrap();
    write(root.path(), &[("a", "1"), ("x/y/b", "2")]).unwrap();
    write(root.path(), &[("a", "1")]).unwrap();
    assert!(!root.path().join("x").exists());
}

#[test]
fn files_of_others_are_left_beside() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    fs::create_dir_all(target.join("photos")).unwrap();
    fs::write(target.join("photos/panel.txt"), "photo").unwrap();
    write(&target, &[("photos/index.html", "i")]).unwrap();
    assert_eq!(contents(&target)["photos/panel.txt"], "photo");
}

#[test]
fn a_file_it_did_not_write_is_named_and_nothing_changes() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    fs::create_dir(&target).unwrap();
    fs::write(target.join("b"), "mine").unwrap();
    let refusal = refused(root.path(), &target, &[("a", "1"), ("b", "2")]);
    assert_eq!(refusal, Refusal::InTheWay(target.join("b")));
}

#[test]
fn a_file_changed_by_hand_is_named_and_nothing_changes() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    write(&target, &[("a", "1"), ("b", "2")]).unwrap();
    fs::write(target.join("b"), "2 by hand").unwrap();
    let refusal = refused(root.path(), &target, &[("a", "9"), ("b", "9")]);
    assert_eq!(refusal, Refusal::Changed(target.join("b")));
    // What happens to be there byte for byte is in nobody's way.
    write(&target, &[("a", "9"), ("b", "2 by hand")]).unwrap();
}

#[test]
fn folders_in_the_place_of_files_and_the_reverse_are_in_the_way() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    fs::create_dir_all(target.join("a")).unwrap();
    fs::write(target.join("csv"), "mine").unwrap();
    assert_eq!(refused(root.path(), &target, &[("a", "1")]), Refusal::InTheWay(target.join("a")));
    assert_eq!(refused(root.path(), &target, &[("csv/x", "1")]), Refusal::InTheWay(target.join("csv")));
}

#[test]
fn a_target_that_is_a_file_or_stands_in_one_is_refused() {
    let root = tempfile::tempdir().unwrap();
    let file = root.path().join("file");
    fs::write(&file, "mine").unwrap();
    assert_eq!(refused(root.path(), &file, &[("a", "1")]), Refusal::NotAFolder(file.clone()));
    assert!(matches!(refused(root.path(), &file.join("out"), &[("a", "1")]), Refusal::Failed { .. }));
}

#[cfg(unix)]
#[test]
fn links_are_never_written_through() {
    use std::os::unix::fs::symlink;
    let root = tempfile::tempdir().unwrap();
    let (elsewhere, target) = (root.path().join("elsewhere"), root.path().join("out"));
    fs::create_dir_all(&elsewhere).unwrap();
    symlink(&elsewhere, &target).unwrap();
    assert_eq!(refused(root.path(), &target, &[("a", "1")]), Refusal::Link(target.clone()));
    fs::remove_file(&target).unwrap();

    write(&target, &[("csv/a", "1"), ("b", "1")]).unwrap();
    fs::rename(target.join("csv"), elsewhere.join("csv")).unwrap();
    symlink(elsewhere.join("csv"), target.join("csv")).unwrap();
    assert_eq!(refused(root.path(), &target, &[("csv/a", "2")]), Refusal::InTheWay(target.join("csv")));
    // Obsolete files behind a link are not removed either.
    assert_eq!(write(&target, &[("b", "2")]).unwrap().kept, ["csv/a"]);
    assert_eq!(contents(&elsewhere)["csv/a"], "1");
    symlink("b", target.join("c")).unwrap();
    assert_eq!(refused(root.path(), &target, &[("c", "2")]), Refusal::InTheWay(target.join("c")));
}

#[test]
fn a_manifest_that_is_none_stops_everything() {
    let root = tempfile::tempdir().unwrap();
    let list = root.path().join(manifest::NAME);
    for text in ["not a list", "loopwright manifest 1\n1-00 ../../important\n"] {
        fs::write(&list, text).unwrap();
        assert_eq!(refused(root.path(), root.path(), &[("a", "1")]), Refusal::Manifest(list.clone()));
    }
}

#[test]
fn names_that_lead_out_are_refused() {
    let root = tempfile::tempdir().unwrap();
    for path in ["../a", "/a", "a/../../b", manifest::NAME, "a\nb"] {
        assert!(matches!(refused(root.path(), &root.path().join("out"), &[(path, "1")]), Refusal::Name(_)), "{path}");
    }
}

/// A step fails half way: something has come into the way after the plan was made.
#[test]
fn where_a_step_fails_the_steps_before_are_undone() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    write(&target, &[("a", "1"), ("gone", "2")]).unwrap();
    let next = bundle(&[("a", "9"), ("b/new", "9"), ("z", "9")]);
    let plan = plan(&target, &next).unwrap();
    fs::create_dir(target.join("z")).unwrap();
    let before = contents(root.path());
    assert!(matches!(plan.write(), Err(Refusal::Failed { path, .. }) if path == target.join("z")));
    assert_eq!(contents(root.path()), before);
}

#[test]
fn where_nothing_can_be_made_no_folder_is_left() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("new/out");
    // "a" cannot be a file and a folder: found only when the files are put in place.
    let impossible = bundle(&[("a", "1"), ("a/b", "2")]);
    assert!(plan(&target, &impossible).unwrap().write().is_err());
    assert_eq!(contents(root.path()), BTreeMap::new());
}

/// Killed after some renames: old and new files side by side, and the manifest that knows both.
#[test]
fn the_run_after_an_interrupted_one_completes_the_work() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    write(&target, &[("a", "1"), ("b", "1"), ("gone", "1")]).unwrap();
    let mut both = read_manifest(&target).unwrap();
    for path in ["a", "b", "new"] {
        both.add(path, manifest::digest(b"2"));
    }
    fs::write(target.join(manifest::NAME), both.print()).unwrap();
    fs::write(target.join("a"), "2").unwrap();
    let left = root.path().join(".loopwright-out");
    fs::create_dir(&left).unwrap();
    fs::write(left.join("lock"), "").unwrap();
    fs::write(left.join("00001"), "half a fi").unwrap();

    let written = write(&target, &[("a", "3"), ("b", "3"), ("new", "3")]).unwrap();
    assert_eq!((written.unchanged, written.removed, written.kept.len()), (0, 1, 0));
    assert!(!left.exists());
    let found = contents(&target);
    assert_eq!((found["a"].as_str(), found["b"].as_str(), found["new"].as_str()), ("3", "3", "3"));
    assert!(!found.contains_key("gone"));
}

#[test]
fn a_folder_in_use_by_another_run_is_respected() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    let other = Staging::open(&target).unwrap();
    assert!(matches!(refused(root.path(), &target, &[("a", "1")]), Refusal::Busy(_)));
    drop(other);
    write(&target, &[("a", "1")]).unwrap();
}

#[test]
fn someone_elses_folder_of_the_temporary_name_is_not_cleared() {
    let root = tempfile::tempdir().unwrap();
    let theirs = root.path().join(".loopwright-out");
    fs::create_dir(&theirs).unwrap();
    fs::write(theirs.join("diary"), "dear").unwrap();
    let target = root.path().join("out");
    assert_eq!(refused(root.path(), &target, &[("a", "1")]), Refusal::InTheWay(theirs.clone()));
    // An empty one may be what is left of a run that was interrupted at once.
    fs::remove_file(theirs.join("diary")).unwrap();
    write(&target, &[("a", "1")]).unwrap();
    assert!(!theirs.exists());
}

#[cfg(unix)]
#[test]
fn a_read_only_folder_is_refused() {
    use std::os::unix::fs::PermissionsExt;
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("locked");
    fs::create_dir(&folder).unwrap();
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o555)).unwrap();
    // The superuser may write anyway; for everyone else the refusal names the place.
    if fs::write(folder.join("probe"), "").is_err() {
        assert!(matches!(refused(root.path(), &folder.join("out"), &[("a", "1")]), Refusal::Failed { .. }));
        assert!(matches!(refused(root.path(), &folder, &[("a", "1")]), Refusal::Failed { .. }));
    }
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o755)).unwrap();
}

#[cfg(unix)]
#[test]
fn written_files_follow_the_usual_permissions() {
    use std::os::unix::fs::PermissionsExt;
    let root = tempfile::tempdir().unwrap();
    let usual = root.path().join("usual");
    fs::write(&usual, "").unwrap();
    write(&root.path().join("out"), &[("a", "1")]).unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
    assert_eq!(mode(&root.path().join("out/a")), mode(&usual));
}

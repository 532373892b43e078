//! Tests of writing packets and registers.

mod alone;
pub(super) mod faults;
mod matrix;

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use super::names::MANIFEST;
use super::workspace::Workspace;
use super::*;

fn bundle(files: &[(&str, &str)]) -> Bundle {
    Bundle { files: files.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect() }
}

/// A job without a register.
fn job<'a>(target: &'a Path, bundle: &'a Bundle) -> Job<'a> {
    Job { site: Path::new("no-such-site"), register: None, text: None, target, bundle }
}

fn write(target: &Path, files: &[(&str, &str)]) -> Result<Written, Refusal> {
    super::write(&job(target, &bundle(files)))
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

/// Of two houses of one name the second is refused; a house that was moved takes its packet along.
#[test]
fn the_packet_of_another_house_is_left_alone() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out/house");
    let packet = bundle(&[("a", "1")]);
    let sites = ["one", "two"].map(|name| {
        let site = root.path().join(name);
        fs::create_dir(&site).unwrap();
        fs::write(site.join("site.kdl"), "site \"house\"").unwrap();
        site
    });
    let write = |site: &Path| super::write(&Job { site, register: None, text: None, target: &target, bundle: &packet });
    write(&sites[0]).unwrap();
    assert_eq!(write(&sites[0]).unwrap().unchanged, 1);
    let before = contents(root.path());
    assert!(matches!(write(&sites[1]), Err(Refusal::OfAnother { other, .. }) if other.ends_with("one")));
    assert_eq!(contents(root.path()), before);
    fs::rename(&sites[0], root.path().join("moved")).unwrap();
    write(&root.path().join("moved")).unwrap();
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
    let list = root.path().join(MANIFEST);
    for text in ["not a list", "loopwright manifest 1\n1-00 ../../important\n"] {
        fs::write(&list, text).unwrap();
        assert_eq!(refused(root.path(), root.path(), &[("a", "1")]), Refusal::Manifest(list.clone()));
    }
}

#[test]
fn names_that_lead_out_are_refused() {
    let root = tempfile::tempdir().unwrap();
    for path in ["../a", "/a", "a/../../b", MANIFEST, "a\nb"] {
        assert!(matches!(refused(root.path(), &root.path().join("out"), &[(path, "1")]), Refusal::Name(_)), "{path}");
    }
}

#[test]
fn where_nothing_can_be_made_no_folder_is_left() {
    let root = tempfile::tempdir().unwrap();
    // "a" cannot be a file and a folder: found only when the files are put together.
    let refusal = refused(root.path(), &root.path().join("new/out"), &[("a", "1"), ("a/b", "2")]);
    assert!(matches!(refusal, Refusal::Failed { .. }));
    assert_eq!(contents(root.path()), BTreeMap::new());
}

#[test]
fn a_look_leaves_nothing() {
    let root = tempfile::tempdir().unwrap();
    look(&job(&root.path().join("new/out"), &bundle(&[("a", "1")]))).unwrap();
    assert_eq!(contents(root.path()), BTreeMap::new());
}

/// What an earlier run left is recognised by its names, with the lock or without.
#[test]
fn what_is_left_in_a_workspace_is_cleared() {
    let root = tempfile::tempdir().unwrap();
    let (target, left) = (root.path().join("out"), root.path().join(".loopwright-out"));
    write(&target, &[("a", "1")]).unwrap();
    for names in [&["lock", "new/csv/half"][..], &["new/half"], &["copy", "lock"], &["swap/photo", "lock"], &[]] {
        fs::create_dir(&left).unwrap();
        for name in names {
            fs::create_dir_all(left.join(name).parent().unwrap()).unwrap();
            fs::write(left.join(name), "left").unwrap();
        }
        write(&target, &[("a", "1")]).unwrap();
        assert!(!left.exists(), "{names:?}");
    }
    // What no run of ours wrote is nobody's to throw away.
    assert_eq!(contents(&target)["photo"], "left");
}

#[cfg(unix)]
#[test]
fn a_lock_that_is_a_link_to_a_file_leaves_that_as_it_is() {
    let root = tempfile::tempdir().unwrap();
    let (target, left) = (root.path().join("out"), root.path().join(".loopwright-out"));
    fs::create_dir(&left).unwrap();
    fs::write(root.path().join("diary"), "dear").unwrap();
    fs::hard_link(root.path().join("diary"), left.join("lock")).unwrap();
    write(&target, &[("a", "1")]).unwrap();
    assert_eq!(fs::read_to_string(root.path().join("diary")).unwrap(), "dear");
    fs::create_dir(&left).unwrap();
    std::os::unix::fs::symlink(root.path().join("diary"), left.join("lock")).unwrap();
    assert_eq!(refused(root.path(), &target, &[("a", "2")]), Refusal::InTheWay(left));
}

/// However many runs want it at once, one at a time has it, though each removes it when it has done.
#[test]
fn a_workspace_is_held_by_one_run() {
    use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::SeqCst};
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("deep/out");
    let (held, entered) = (AtomicBool::new(false), AtomicUsize::new(0));
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| {
                for _ in 0..200 {
                    match Workspace::open(&target) {
                        Ok(workspace) => {
                            assert!(!held.swap(true, SeqCst), "two at once");
                            entered.fetch_add(1, SeqCst);
                            held.store(false, SeqCst);
                            drop(workspace);
                        }
                        Err(refusal) => assert!(matches!(refusal, Refusal::Busy(_)), "{refusal}"),
                    }
                }
            });
        }
    });
    assert!(entered.load(SeqCst) > 4);
    // The folder that it stood in may stay, empty: no run knows whether another wants it.
    assert_eq!(contents(root.path()).into_keys().filter(|path| path != "deep/").count(), 0);
}

/// What comes into the packet's folder while it is being replaced is kept, under another name where its own is taken.
#[test]
fn a_file_that_comes_late_is_kept() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    write(&target, &[("a", "1"), ("b", "1")]).unwrap();
    let next = bundle(&[("a", "2"), ("b", "2")]);
    let (mut packet, _register) = open(&job(&target, &next)).unwrap();
    packet.prepare().unwrap();
    fs::write(target.join("b"), "by hand").unwrap();
    fs::write(target.join("c"), "new").unwrap();
    packet.swap().unwrap();
    assert_eq!(packet.close().unwrap().renamed, ["b.kept-1"]);
    let found = contents(&target);
    assert_eq!((found["b"].as_str(), found["b.kept-1"].as_str(), found["c"].as_str()), ("2", "by hand", "new"));
}

#[test]
fn a_register_that_has_changed_since_it_was_read_is_left_alone() {
    let root = tempfile::tempdir().unwrap();
    let (target, register) = (root.path().join("out"), root.path().join("register.kdl"));
    let bundle = bundle(&[("a", "1")]);
    let wanted = Job { site: root.path(), register: Some(b"old"), text: Some("new"), target: &target, bundle: &bundle };
    fs::write(&register, "another").unwrap();
    for wanted in [wanted, Job { text: None, ..wanted }, Job { register: None, ..wanted }] {
        assert_eq!(super::write(&wanted), Err(Refusal::Stale(register.clone())));
        assert_eq!(contents(root.path()).len(), 1);
    }
    fs::write(&register, "old").unwrap();
    super::write(&wanted).unwrap();
    assert_eq!(fs::read_to_string(&register).unwrap(), "new");
}

#[test]
fn a_read_only_register_is_left_alone() {
    let root = tempfile::tempdir().unwrap();
    let (target, register) = (root.path().join("out"), root.path().join("register.kdl"));
    let bundle = bundle(&[("a", "1")]);
    fs::write(&register, "old").unwrap();
    let mut rights = fs::metadata(&register).unwrap().permissions();
    rights.set_readonly(true);
    fs::set_permissions(&register, rights).unwrap();
    let wanted = Job { site: root.path(), register: Some(b"old"), text: Some("new"), target: &target, bundle: &bundle };
    assert_eq!(super::write(&wanted), Err(Refusal::ReadOnly(register.clone())));
    assert_eq!(contents(root.path()).len(), 1);
    super::write(&Job { text: None, ..wanted }).unwrap();
}

#[test]
fn the_folder_of_the_spec_is_not_replaced() {
    let root = tempfile::tempdir().unwrap();
    let site = root.path().join("specs/mill");
    fs::create_dir_all(&site).unwrap();
    let bundle = bundle(&[("a", "1")]);
    for target in [site.clone(), root.path().join("specs"), root.path().join("specs/../specs/mill")] {
        let refusal =
            look(&Job { site: &site, register: None, text: None, target: &target, bundle: &bundle }).unwrap_err();
        assert!(matches!(refusal, Refusal::Irreplaceable { .. }), "{refusal}");
    }
}

#[test]
fn a_folder_in_use_by_another_run_is_respected() {
    let root = tempfile::tempdir().unwrap();
    let target = root.path().join("out");
    let other = Workspace::open(&target).unwrap();
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
    }
    assert_eq!(refused(root.path(), &folder, &[("a", "1")]), Refusal::ReadOnly(folder.clone()));
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o755)).unwrap();
}

/// The superuser may move everything; everyone else is told before anything is moved.
#[cfg(unix)]
#[test]
fn a_folder_of_others_that_cannot_be_moved_is_refused() {
    use std::os::unix::fs::PermissionsExt;
    let root = tempfile::tempdir().unwrap();
    let (target, photos) = (root.path().join("out"), root.path().join("out/photos"));
    write(&target, &[("a", "1")]).unwrap();
    fs::create_dir(&photos).unwrap();
    fs::set_permissions(&photos, fs::Permissions::from_mode(0o555)).unwrap();
    if fs::write(photos.join("probe"), "").is_err() {
        assert_eq!(refused(root.path(), &target, &[("a", "2")]), Refusal::ReadOnly(photos.clone()));
    } else {
        write(&target, &[("a", "2")]).unwrap();
        assert!(photos.exists());
    }
    fs::set_permissions(&photos, fs::Permissions::from_mode(0o755)).unwrap();
}

#[cfg(unix)]
#[test]
fn written_files_follow_the_usual_permissions() {
    use std::os::unix::fs::PermissionsExt;
    let root = tempfile::tempdir().unwrap();
    let usual = root.path().join("usual");
    fs::write(&usual, "").unwrap();
    let out = root.path().join("out");
    write(&out, &[("a", "1")]).unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o7777;
    assert_eq!(mode(&out.join("a")), mode(&usual));
    fs::set_permissions(&out, fs::Permissions::from_mode(0o750)).unwrap();
    write(&out, &[("a", "2")]).unwrap();
    assert_eq!(mode(&out), 0o750);
}

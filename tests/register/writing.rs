//! The file on the disk: when it is written, when not, and what an interruption leaves.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use super::{HEADER, PARTS, zone};

pub(super) fn program(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_loopwright"));
    command.args(arguments).current_dir(folder).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

pub(super) fn loopwright(folder: &Path, arguments: &[&str]) -> Output {
    program(folder, arguments).output().unwrap()
}

pub(super) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// A folder with a site `house` of two zones and the shared parts.
pub(super) fn site() -> tempfile::TempDir {
    let root = tempfile::tempdir().unwrap();
    for (path, text) in [
        ("parts/example.kdl", PARTS.to_owned()),
        ("house/site.kdl", format!("{HEADER}{}{}", zone(1, "", "", "One"), zone(2, "", "", "Two"))),
    ] {
        let path = root.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    root
}

pub(super) fn files(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn compile_writes_it_check_does_not_and_a_second_compile_leaves_it() {
    let root = site();
    let house = root.path().join("house");
    assert!(loopwright(root.path(), &["check", "house"]).status.success());
    assert_eq!(files(&house), ["site.kdl"]);
    let first = loopwright(root.path(), &["compile", "house"]);
    assert!(text(&first.stdout).contains("house/register.kdl has changed: commit it with the spec\n"), "{first:?}");
    assert_eq!(files(&house), ["register.kdl", "site.kdl"]);
    let modified = || fs::metadata(house.join("register.kdl")).unwrap().modified().unwrap();
    let before = modified();
    let second = loopwright(root.path(), &["compile", "house"]);
    assert!(!text(&second.stdout).contains("register.kdl"), "{second:?}");
    assert_eq!(modified(), before);
}

#[test]
fn frozen_writes_nothing_and_says_what_would_change() {
    let root = site();
    let frozen = || loopwright(root.path(), &["compile", "house", "--frozen", "--format", "short"]);
    let run = frozen();
    assert_eq!(run.status.code(), Some(1));
    assert!(text(&run.stdout).contains("error: there is no register.kdl yet [register-not-current]"), "{run:?}");
    assert_eq!(files(root.path()), ["house", "parts"]);
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    assert_eq!(frozen().status.code(), Some(0));

    let spec = root.path().join("house/site.kdl");
    fs::write(&spec, fs::read_to_string(&spec).unwrap() + &zone(3, "", "", "Three")).unwrap();
    let kept = fs::read(root.path().join("house/register.kdl")).unwrap();
    let run = loopwright(root.path(), &["compile", "house", "--frozen"]);
    assert_eq!(run.status.code(), Some(1));
    for line in
        ["new: input 3 board=\"board-a\" zone=3", "new: label \"Z3\" of=\"zone 3\" cable=\"pair\" room=\"lobby\""]
    {
        assert!(text(&run.stdout).contains(line), "{}", text(&run.stdout));
    }
    assert_eq!(fs::read(root.path().join("house/register.kdl")).unwrap(), kept);
}

#[test]
fn an_error_in_the_spec_leaves_it_alone() {
    let root = site();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    let kept = fs::read(root.path().join("house/register.kdl")).unwrap();
    fs::write(
        root.path().join("house/site.kdl"),
        format!("{HEADER}{}", zone(1, "", "", "One").replace("pair", "pear")),
    )
    .unwrap();
    assert_eq!(loopwright(root.path(), &["compile", "house"]).status.code(), Some(1));
    assert_eq!(fs::read(root.path().join("house/register.kdl")).unwrap(), kept);
}

#[test]
fn something_in_the_way_of_the_packet_leaves_it_alone() {
    let root = site();
    fs::create_dir_all(root.path().join("out/example")).unwrap();
    fs::write(root.path().join("out/example/index.html"), "mine").unwrap();
    assert_eq!(loopwright(root.path(), &["compile", "house"]).status.code(), Some(2));
    assert_eq!(files(&root.path().join("house")), ["site.kdl"]);
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_the_rights_stay_as_they_are() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let root = site();
    let house = root.path().join("house");
    fs::create_dir(house.join("kept")).unwrap();
    fs::write(house.join("kept/wall.kdl"), "register version=1\n").unwrap();
    fs::set_permissions(house.join("kept/wall.kdl"), fs::Permissions::from_mode(0o640)).unwrap();
    symlink("kept/wall.kdl", house.join("register.kdl")).unwrap();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    assert!(fs::symlink_metadata(house.join("register.kdl")).unwrap().is_symlink());
    let kept = house.join("kept/wall.kdl");
    assert!(fs::read_to_string(&kept).unwrap().contains("label \"Z1\""));
    assert_eq!(fs::metadata(&kept).unwrap().permissions().mode() & 0o777, 0o640);
    assert_eq!(files(&house.join("kept")), ["wall.kdl"]);
}

/// A folder that cannot be written: for everybody, the superuser included, where a file stands in the way.
#[test]
fn a_folder_that_cannot_be_written_is_said_and_no_packet_is_made() {
    let root = site();
    fs::write(root.path().join("house/.loopwright-register.kdl"), "mine").unwrap();
    let run = loopwright(root.path(), &["compile", "house"]);
    assert_eq!(run.status.code(), Some(2));
    let complaint = text(&run.stderr);
    assert!(complaint.starts_with("error: house/.loopwright-register.kdl is in the way"), "{complaint}");
    assert!(!root.path().join("out").exists() && !root.path().join("house/register.kdl").exists());
}

#[test]
fn what_a_killed_run_left_is_cleared_by_the_next() {
    let root = site();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    let left = root.path().join("house/.loopwright-register.kdl");
    fs::create_dir(&left).unwrap();
    fs::write(left.join("lock"), "").unwrap();
    fs::write(left.join("new"), "register vers").unwrap();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    assert_eq!(files(&root.path().join("house")), ["register.kdl", "site.kdl"]);
}

/// Killed again and again at any moment, the file is the old or the new one, whole, and the next run completes.
#[test]
fn a_killed_run_leaves_the_old_or_the_new_file() {
    let root = site();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    let spec = root.path().join("house/site.kdl");
    let register = root.path().join("house/register.kdl");
    let old = fs::read(&register).unwrap();
    fs::write(&spec, fs::read_to_string(&spec).unwrap() + &zone(3, "", "", "Three")).unwrap();
    let began = std::time::Instant::now();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    let took = began.elapsed();
    let new = fs::read(&register).unwrap();
    assert_ne!(old, new);
    for step in 0..24 {
        fs::write(&register, &old).unwrap();
        let mut run = program(root.path(), &["compile", "house"]).spawn().unwrap();
        std::thread::sleep(took * step / 20);
        run.kill().unwrap();
        run.wait().unwrap();
        let left = fs::read(&register).unwrap();
        assert!(left == old || left == new, "half a register after {step}");
        assert!(loopwright(root.path(), &["compile", "house"]).status.success());
        assert_eq!(fs::read(&register).unwrap(), new);
        assert_eq!(files(&root.path().join("house")), ["register.kdl", "site.kdl"]);
    }
}

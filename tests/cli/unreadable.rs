//! What cannot be read: a pipe, a device, a folder without rights, a file of many gigabytes.

use std::fs::{self, File, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use super::{complaint, loopwright, text};

/// Runs the program as somebody for whom rights count: the superuser may read everything.
fn as_anybody(folder: &Path, arguments: &[&str]) -> Output {
    let locked = folder.join("probe");
    fs::create_dir(&locked).unwrap();
    fs::set_permissions(&locked, Permissions::from_mode(0o000)).unwrap();
    let superuser = fs::read_dir(&locked).is_ok();
    fs::remove_dir(&locked).unwrap();
    let mut command = if superuser {
        let copy = folder.join("loopwright");
        // By another process: a file that this one has open for writing may be held by a child of another test.
        assert!(Command::new("cp").arg(env!("CARGO_BIN_EXE_loopwright")).arg(&copy).status().unwrap().success());
        let mut command = Command::new(copy);
        command.uid(65534).gid(65534);
        command
    } else {
        Command::new(env!("CARGO_BIN_EXE_loopwright"))
    };
    command.args(arguments).current_dir(folder).stdin(Stdio::null()).output().unwrap()
}

/// A folder with two sites, in which anybody may write.
fn sites() -> tempfile::TempDir {
    let root = tempfile::tempdir().unwrap();
    fs::set_permissions(root.path(), Permissions::from_mode(0o777)).unwrap();
    for name in ["barn", "mill"] {
        let folder = root.path().join("specs").join(name);
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("site.kdl"), format!("site \"{name}\"\n")).unwrap();
        fs::write(folder.join("register.kdl"), "register version=1\n").unwrap();
    }
    root
}

#[test]
fn a_folder_that_cannot_be_searched_is_said_and_the_others_are_done() {
    let root = sites();
    for (name, rights) in [("listed", 0o444), ("locked", 0o000)] {
        let folder = root.path().join("specs").join(name);
        fs::create_dir_all(folder.join("site")).unwrap();
        fs::write(folder.join("site.kdl"), "site \"hidden\"\n").unwrap();
        fs::set_permissions(&folder, Permissions::from_mode(rights)).unwrap();
    }
    for arguments in [&["check", "specs"][..], &["compile", "specs"]] {
        let run = as_anybody(root.path(), &[arguments, &["--format", "short"]].concat());
        assert_eq!(run.status.code(), Some(2), "{}", text(&run.stderr));
        for name in ["listed", "locked"] {
            let said = format!("error: cannot search specs/{name}: permission denied\n");
            assert!(text(&run.stderr).contains(&said), "{}", text(&run.stderr));
        }
        assert!(text(&run.stdout).contains("2 sites, none with errors"), "{}", text(&run.stdout));
    }
    assert!(root.path().join("out/barn/index.html").exists() && root.path().join("out/mill/index.html").exists());

    for name in ["listed", "locked"] {
        let run = as_anybody(root.path(), &["check", &format!("specs/{name}")]);
        assert_eq!(run.status.code(), Some(2));
        assert!(text(&run.stderr).starts_with(&format!("error: cannot search specs/{name}: permission denied\n")));
        fs::set_permissions(root.path().join("specs").join(name), Permissions::from_mode(0o755)).unwrap();
    }
}

#[test]
fn textconv_reads_no_pipe_and_no_device_but_the_empty_one() {
    let folder = tempfile::tempdir().unwrap();
    assert!(Command::new("mkfifo").arg(folder.path().join("pipe.kdl")).status().unwrap().success());
    for name in ["pipe.kdl", ".", "/dev/zero"] {
        let said = complaint(folder.path(), &["textconv", name]);
        assert_eq!(said, format!("error: cannot read {name}: it is not a regular file\n"));
    }
    fs::write(folder.path().join("a.kdl"), "room \"hall\"\n").unwrap();
    let run = loopwright(folder.path(), &["textconv", "/dev/null", "a.kdl"]);
    assert_eq!((run.status.code(), text(&run.stdout).as_str()), (Some(0), "room hall\n+ room hall\n"));
}

/// In a gigabyte of memory, that is.
#[test]
fn textconv_reads_no_more_of_a_file_than_it_may_have() {
    let folder = tempfile::tempdir().unwrap();
    File::create(folder.path().join("large.kdl")).unwrap().set_len(3 << 30).unwrap();
    let run = Command::new("sh")
        .args(["-c", "ulimit -v 1000000; exec \"$0\" textconv large.kdl", env!("CARGO_BIN_EXE_loopwright")])
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    assert_eq!(text(&run.stdout), "not understood: the file is larger than 1 MiB\n");
}

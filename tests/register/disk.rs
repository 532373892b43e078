//! Register and packet on a real disk: several runs at once, a limit of the process, a folder that is in the way.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::writing::{files, loopwright, program, site, text};
use super::{HEADER, zone};

/// Every file below a folder, by its path, with its bytes.
fn packet(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .map(Result::unwrap)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).unwrap().to_str().unwrap().to_owned();
            (path, fs::read(entry.path()).unwrap())
        })
        .collect()
}

/// Eight specs of one site's name are compiled into one folder at once, again and again: each run writes a whole packet or
/// says that another is writing, and nobody's photo is lost.
#[test]
fn many_runs_at_once_leave_one_whole_packet() {
    let root = site();
    let names: Vec<String> = (1..=8).map(|number| format!("house-{number}")).collect();
    let mut packets = Vec::new();
    for name in &names {
        fs::create_dir(root.path().join(name)).unwrap();
        fs::write(root.path().join(name).join("site.kdl"), format!("{HEADER}{}", zone(1, "", "", name))).unwrap();
        let alone = format!("alone-{name}");
        assert!(loopwright(root.path(), &["compile", name, "--out", &alone]).status.success());
        packets.push(packet(&root.path().join(alone).join("example")));
    }
    let standing = root.path().join("out/example");
    fs::create_dir_all(standing.join("photos")).unwrap();
    fs::write(standing.join("photos/panel.txt"), "photo").unwrap();
    // A packet of an earlier version, of which no list says whose it is: each house may put its own in its place.
    let forget = || {
        let list = standing.join(".loopwright-manifest");
        let text = fs::read_to_string(&list).unwrap_or_default();
        let lines = text.lines().filter(|line| !line.starts_with("from "));
        let text: String = lines.map(|line| format!("{line}\n")).collect();
        if !text.is_empty() {
            fs::write(list, text).unwrap();
        }
    };
    let mut written = 0;
    for round in 0..6 {
        forget();
        // Two at once, then eight.
        let runs = names.iter().skip(round).take(if round % 2 == 0 { 2 } else { 8 });
        let runs: Vec<_> = runs.map(|name| program(root.path(), &["compile", name]).spawn().unwrap()).collect();
        for run in runs {
            let run = run.wait_with_output().unwrap();
            match run.status.code() {
                Some(0) => written += 1,
                code => {
                    assert_eq!(code, Some(2), "{run:?}");
                    let told = ["error: another run is writing there", "a house of the same name"];
                    assert!(told.iter().any(|told| text(&run.stderr).contains(told)), "{run:?}");
                }
            }
        }
        let mut found = packet(&standing);
        assert_eq!(found.remove("photos/panel.txt").as_deref(), Some(&b"photo"[..]));
        assert!(packets.contains(&found), "a mixed packet after round {round}");
        assert_eq!(files(&root.path().join("out")), ["example"]);
        forget();
        assert!(loopwright(root.path(), &["compile", "house-1"]).status.success());
    }
    assert!(written >= 6);
}

/// The system would kill the program for writing more than it may.
#[cfg(unix)]
#[test]
fn a_limit_on_the_size_of_files_is_said_and_nothing_has_happened() {
    let root = site();
    let run = std::process::Command::new("sh")
        .args(["-c", "ulimit -f 1; exec \"$0\" compile house", env!("CARGO_BIN_EXE_loopwright")])
        .current_dir(root.path())
        .output()
        .unwrap();
    assert_eq!(run.status.code(), Some(2), "{run:?}");
    let complaint = text(&run.stderr);
    assert!(complaint.contains(": file too large\n  help: nothing has been changed; make room"), "{complaint}");
    assert_eq!(files(root.path()), ["house", "parts"]);
    assert_eq!(files(&root.path().join("house")), ["site.kdl"]);
}

/// Found out before the register is touched, not after.
#[test]
fn where_the_packet_cannot_be_written_the_register_stays() {
    let root = site();
    fs::create_dir(root.path().join("out")).unwrap();
    fs::write(root.path().join("out/.loopwright-example"), "mine").unwrap();
    let run = loopwright(root.path(), &["compile", "house"]);
    assert_eq!(run.status.code(), Some(2));
    assert!(text(&run.stderr).contains("out/.loopwright-example is in the way"), "{run:?}");
    assert_eq!(files(&root.path().join("house")), ["site.kdl"]);
}

/// A register that its owner has made read-only is not replaced behind their back.
#[test]
fn a_read_only_register_is_left_alone() {
    let root = site();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    let (register, spec) = (root.path().join("house/register.kdl"), root.path().join("house/site.kdl"));
    let before = (fs::read(&register).unwrap(), packet(&root.path().join("out")));
    let mut rights = fs::metadata(&register).unwrap().permissions();
    rights.set_readonly(true);
    fs::set_permissions(&register, rights).unwrap();
    assert!(loopwright(root.path(), &["compile", "house"]).status.success());
    fs::write(&spec, fs::read_to_string(&spec).unwrap() + &zone(3, "", "", "Three")).unwrap();
    let run = loopwright(root.path(), &["compile", "house"]);
    assert_eq!(run.status.code(), Some(2));
    assert!(text(&run.stderr).contains("register.kdl is read-only\n  help: make it writable"), "{run:?}");
    assert_eq!((fs::read(&register).unwrap(), packet(&root.path().join("out"))), before);
}

//! The program as a user meets it: arguments, exit codes, streams.

mod check;
mod events;
mod list;
mod loops;
mod portfolio;
#[cfg(unix)]
mod unreadable;

use std::path::Path;
use std::process::{Command, Output, Stdio};

use crate::json_schema;

fn loopwright(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_loopwright"))
        .args(arguments)
        .current_dir(folder)
        .env_remove("NO_COLOR")
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// Runs, expects "could not run" with nothing on the first stream, and gives the complaint.
fn complaint(folder: &Path, arguments: &[&str]) -> String {
    let run = loopwright(folder, arguments);
    assert_eq!(run.status.code(), Some(2), "{arguments:?}");
    assert_eq!(text(&run.stdout), "", "{arguments:?}");
    text(&run.stderr)
}

#[test]
fn version_and_help_are_printed_and_clean() {
    let folder = tempfile::tempdir().unwrap();
    let version = loopwright(folder.path(), &["--version"]);
    assert_eq!(version.status.code(), Some(0));
    assert_eq!(text(&version.stdout), format!("loopwright {}\n", env!("CARGO_PKG_VERSION")));
    for arguments in [
        &["--help"][..],
        &["check", "--help"],
        &["compile", "--help"],
        &["why", "--help"],
        &["diagnose", "--help"],
        &["event", "--help"],
        &["explain", "--help"],
        &["diff", "--help"],
        &["textconv", "--help"],
        &["fmt", "--help"],
        &["new", "--help"],
        &["list", "--help"],
        &["portfolio", "--help"],
    ] {
        let help = loopwright(folder.path(), arguments);
        assert_eq!(help.status.code(), Some(0), "{arguments:?}");
        assert!(text(&help.stdout).contains("Examples:\n  loopwright "), "{arguments:?}");
    }
}

#[test]
fn bad_arguments_are_exit_code_two() {
    let folder = tempfile::tempdir().unwrap();
    for arguments in [
        &[][..],
        &["check"],
        &["check", "--nonsense", "x"],
        &["check", "x", "--format", "xml"],
        &["explain"],
        &["explain", "x", "--list"],
        &["frobnicate"],
    ] {
        assert!(!complaint(folder.path(), arguments).is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_missing_path_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let complaint = complaint(folder.path(), &["check", "nowhere"]);
    assert_eq!(complaint, "error: cannot read nowhere: no such file or directory\n");
}

#[test]
fn a_folder_without_a_site_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let complaint = complaint(folder.path(), &["compile", "."]);
    assert!(complaint.starts_with("error: no site in .\n  help: "), "{complaint}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    // What it is called otherwise is found by what is in it; a register or another file is no site.
    let write = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    write("register.kdl", "// register\n");
    write("cables.kdl", "cable \"pair\"\n");
    assert!(!self::complaint(folder.path(), &["check", "."]).contains("rename"));
    write("house.kdl", "// The house.\nsite \"house\"\n");
    assert!(self::complaint(folder.path(), &["check", "."]).contains("rename house.kdl to site.kdl"));
}

#[test]
fn findings_as_json_follow_their_schema() {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in [("good", "site \"good\"\n"), ("bad", "site \"bad\"\nzone \"é\"\n")] {
        std::fs::create_dir(folder.path().join(name)).unwrap();
        std::fs::write(folder.path().join(name).join("site.kdl"), text).unwrap();
    }
    let run = loopwright(folder.path(), &["check", "good", "bad", "--format", "json"]);
    assert_eq!(run.status.code(), Some(1));
    let mut json: serde_json::Value = serde_json::from_slice(&run.stdout).unwrap();
    let schema = loopwright(folder.path(), &["explain", "--schema"]);
    let schema = serde_json::from_slice(&schema.stdout).unwrap();
    assert_eq!(json_schema::faults(&schema, &json), [""; 0]);
    assert!(json["sites"][1]["counts"]["errors"].as_u64() > Some(0), "{json}");
    json["sites"][0]["path"] = 3.into();
    assert_eq!(json_schema::faults(&schema, &json).len(), 1);
}

#[test]
fn a_rule_that_is_none_is_exit_code_two() {
    let folder = tempfile::tempdir().unwrap();
    let complaint = complaint(folder.path(), &["explain", "no-such-rule-anywhere"]);
    assert!(complaint.starts_with("error: there is no rule no-such-rule-anywhere\n  help: "), "{complaint}");
    assert_eq!(loopwright(folder.path(), &["explain", "--list"]).status.code(), Some(0));
}

#[test]
fn a_rule_is_explained_on_a_site() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("hut")).unwrap();
    let site = "site \"hut\"\nlevel \"ground\" {\n    room \"hall\" { door \"front\"; door \"back\"; }\n}\n";
    std::fs::write(folder.path().join("hut/site.kdl"), site).unwrap();
    let explain = |rule: &str, format: &str| {
        let run = loopwright(folder.path(), &["explain", rule, "hut", "--format", format]);
        assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
        text(&run.stdout)
    };
    assert!(explain("zone-without-device", "human").ends_with("On hut\n\nNo finding. The site has 2 openings.\n"));

    let zones = "zone 1 \"A\" type=\"perimeter\"\nzone 2 \"B\" type=\"perimeter\"\n";
    std::fs::write(folder.path().join("hut/site.kdl"), format!("{site}{zones}")).unwrap();
    let drawn = explain("zone-without-device", "human");
    let (page, found) = drawn.split_once("\nOn hut\n\n").unwrap();
    assert!(page.contains("Why it matters") && found.matches("[zone-without-device]").count() == 2, "{drawn}");
    assert!(found.contains("hut/site.kdl:5:") && found.ends_with("2 errors\n"), "{found}");
    assert_eq!(explain("zone-without-device", "short").lines().count(), 4, "the rule, its findings, their number");
    let json: serde_json::Value = serde_json::from_str(&explain("zone-without-device", "json")).unwrap();
    assert_eq!((&json["diagnostics"][1]["rule"], &json["looked_at"]["openings"]), (&json["rule"], &2.into()));
    let other = explain("bus-rate-missing", "short");
    assert!(other.contains("2 zones and 2 openings. It has errors of other rules"), "{other}");
    assert_eq!(loopwright(folder.path(), &["explain", "bus-rate-missing", "none"]).status.code(), Some(2));
}

#[test]
fn control_characters_in_arguments_do_not_reach_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let complaint = complaint(folder.path(), &["check", "a\u{1b}[2Jb"]);
    assert!(complaint.contains("a␛[2Jb") && !complaint.contains('\u{1b}'), "{complaint}");
}

#[test]
fn a_reader_that_has_left_is_no_fault() {
    let folder = tempfile::tempdir().unwrap();
    for arguments in [&["--help"][..], &["explain", "--list", "--format", "json"]] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let run = Command::new(env!("CARGO_BIN_EXE_loopwright"))
            .args(arguments)
            .current_dir(folder.path())
            .stdout(writer)
            .stderr(Stdio::piped())
            .output()
            .unwrap();
        assert_eq!(run.status.code(), Some(0), "{arguments:?}");
        assert_eq!(text(&run.stderr), "", "{arguments:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_under_the_result_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_loopwright"))
        .args(["explain", "--list", "--format", "json"])
        .current_dir(folder.path())
        .stdout(full)
        .output()
        .unwrap();
    assert_eq!(run.status.code(), Some(2));
    assert!(text(&run.stderr).starts_with("error: cannot print the result: "), "{}", text(&run.stderr));
}

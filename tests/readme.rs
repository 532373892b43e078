//! The README's tour, executed: its files are written, its commands run, its outputs compared.
//!
//! A block ```` ```kdl file=PATH ```` is a file; with `part=zones` it replaces everything from the first `zone` on, and with
//! `committed` everything that is there is committed before. A block ```` ```console ```` holds one command after `$ `, of
//! loopwright or of git, and what it prints.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::git::repository::isolate;
use crate::golden;

#[test]
fn the_tour_of_the_readme_is_true() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = fs::read_to_string(root.join("README.md")).unwrap();
    let place = tempfile::tempdir().unwrap();
    copy_parts(root, place.path());
    fs::create_dir_all(place.path().join("home")).unwrap();
    let mut fresh = String::new();
    let mut lines = readme.lines();
    let mut commands = 0;
    while let Some(line) = lines.next() {
        fresh.push_str(line);
        fresh.push('\n');
        let Some(info) = line.strip_prefix("```").filter(|info| !info.is_empty()) else { continue };
        let body: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        if info == "console" {
            let command = body[0].strip_prefix("$ ").expect("a command");
            fresh.push_str(&format!("{}\n{}```\n", body[0], run(command, place.path())));
            commands += 1;
        } else {
            if info.contains("committed") {
                commit(place.path());
            }
            if let Some(file) = info.split("file=").nth(1) {
                write(
                    &place.path().join(file.split(' ').next().unwrap()),
                    &body.join("\n"),
                    info.contains("part=zones"),
                );
            }
            body.iter().for_each(|line| fresh.push_str(&format!("{line}\n")));
            fresh.push_str("```\n");
        }
    }
    assert!(commands >= 2, "the tour has lost its commands");
    golden::compare("README.md", fresh.as_bytes()).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert!(place.path().join("out/cottage/index.html").exists(), "the tour ends with a packet");
}

/// Commits everything but the paper, with what the section on git asks for.
fn commit(place: &Path) {
    let git = |arguments: &[&str]| {
        let mut command = Command::new("git");
        command.args(arguments).current_dir(place);
        assert!(isolate(&mut command, place).status().unwrap().success(), "git {arguments:?}");
    };
    fs::write(place.join(".gitattributes"), "*.kdl diff=loopwright\n").unwrap();
    git(&["init", "--quiet", "--initial-branch=main"]);
    git(&["config", "diff.loopwright.textconv", "loopwright textconv"]);
    git(&["add", ".gitattributes", "specs"]);
    git(&["commit", "--quiet", "-m", "As built"]);
}

fn copy_parts(root: &Path, place: &Path) {
    let target = place.join("specs/parts");
    fs::create_dir_all(&target).unwrap();
    for entry in fs::read_dir(root.join("specs/parts")).unwrap() {
        let entry = entry.unwrap();
        fs::copy(entry.path(), target.join(entry.file_name())).unwrap();
    }
}

fn write(path: &Path, body: &str, zones_only: bool) {
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    let kept = if zones_only {
        let old = fs::read_to_string(path).unwrap();
        old[..old.find("zone 1").expect("the first zone")].to_owned()
    } else {
        String::new()
    };
    fs::write(path, format!("{kept}{body}\n")).unwrap();
}

fn run(command: &str, place: &Path) -> String {
    let mut words = command.split(' ');
    let program = words.next().filter(|program| ["loopwright", "git"].contains(program)).expect("loopwright or git");
    let mut command_line = Command::new(program);
    command_line.args(words).current_dir(place).env("COLUMNS", "100");
    let output = isolate(&mut command_line, place).output().unwrap();
    assert_ne!(output.status.code(), Some(2), "{command}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

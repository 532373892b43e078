//! "Add a check in ten minutes" of DEVELOPERS.md, done to a copy of the tree as it is written there.
//!
//! The steps are always done, so that none of them can name a place that is gone. The copy is built, and its pages are
//! tested, where `LOOPWRIGHT_OUTSIDE=required`: a second build of the crate costs more than all other tests.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::golden::root;

/// A fenced block of a step: the words after its language, and its text without the indentation of the list.
struct Block {
    words: Vec<String>,
    body: String,
}

impl Block {
    fn word(&self, key: &str) -> Option<&str> {
        self.words.iter().find_map(|word| word.strip_prefix(key)?.strip_prefix('='))
    }
}

fn blocks(section: &str) -> Vec<Block> {
    let (mut blocks, mut lines) = (Vec::new(), section.lines());
    while let Some(line) = lines.next() {
        let fence = line.trim_start();
        let ticks = fence.chars().take_while(|c| *c == '`').count();
        if ticks >= 3 {
            let indent = line.len() - fence.len();
            let body = lines.by_ref().take_while(|line| line.trim() != &fence[..ticks]);
            let body = body.map(|line| format!("{}\n", line.get(indent..).unwrap_or_default())).collect();
            blocks.push(Block { words: fence[ticks..].split_whitespace().map(str::to_owned).collect(), body });
        }
    }
    blocks
}

fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from).into_iter().map(Result::unwrap) {
        let target = to.join(entry.path().strip_prefix(from).unwrap());
        if entry.file_type().is_dir() {
            fs::create_dir_all(&target).unwrap();
        } else {
            fs::copy(entry.path(), &target).unwrap();
        }
    }
}

#[test]
fn a_check_is_added_as_the_walk_through_says() {
    let developers = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let (_, section) = developers.split_once("## Add a check in ten minutes\n").unwrap();
    let (section, _) = section.split_once("\n## Where this differs").unwrap();
    let place = tempfile::tempdir().unwrap();
    for folder in ["src", "tests", "templates", "specs"] {
        copy(&root().join(folder), &place.path().join(folder));
    }
    for file in ["Cargo.toml", "Cargo.lock", "DEVELOPERS.md", "README.md"] {
        fs::copy(root().join(file), place.path().join(file)).unwrap();
    }

    let mut slugs = Vec::new();
    for block in blocks(section) {
        if let Some(file) = block.word("file") {
            let path = place.path().join(file);
            assert!(path.parent().unwrap().is_dir() && !path.exists(), "{file}: a new file in a folder that is there");
            fs::write(&path, &block.body).unwrap();
            slugs.extend(
                Path::new(file)
                    .extension()
                    .filter(|end| *end == "md")
                    .and(Path::new(file).file_stem())
                    .map(ToOwned::to_owned),
            );
        } else {
            let path = place.path().join(block.word("in").expect("a new file, or a place in one"));
            let (text, before) = (fs::read_to_string(&path).unwrap(), block.word("before").unwrap());
            let at = text.lines().filter(|line| line.trim_start().starts_with(before)).count();
            assert_eq!(at, 1, "{before} in {}", path.display());
            let with = |line: &str| {
                let indent = &line[..line.len() - line.trim_start().len()];
                let new = if line.trim_start().starts_with(before) {
                    format!("{indent}{}", block.body)
                } else {
                    String::new()
                };
                format!("{new}{line}\n")
            };
            fs::write(&path, text.lines().map(with).collect::<String>()).unwrap();
        }
    }
    assert_eq!(slugs.len(), 1, "one page: {slugs:?}");

    if std::env::var_os("LOOPWRIGHT_OUTSIDE").is_some_and(|value| value == "required") {
        let target = place.path().join("target");
        let built = Path::new(env!("CARGO_TARGET_TMPDIR")).parent().unwrap().join("debug");
        // A target folder of its own, since other tests run the program out of this one; with what the dependencies gave.
        fs::create_dir_all(target.join("debug")).unwrap();
        let parts = ["deps", "build", ".fingerprint"].map(|part| built.join(part));
        run(Command::new("cp").arg("-a").args(parts).arg(target.join("debug")));
        let mut cargo = Command::new(env!("CARGO"));
        cargo.args(["test", "--quiet", "--test", "all", "pages"]);
        assert!(run(cargo.current_dir(place.path()).env("CARGO_TARGET_DIR", &target)).contains("test result: ok"));
        let page = run(Command::new(target.join("debug/loopwright")).arg("explain").arg(&slugs[0]));
        assert!(page.contains("A zone's remark has the same words"), "{page}");
    }
}

/// Runs a program that has to succeed; what it says.
fn run(command: &mut Command) -> String {
    let said = command.output().unwrap();
    let text = String::from_utf8_lossy(&said.stdout).into_owned() + &String::from_utf8_lossy(&said.stderr);
    assert!(said.status.success(), "{command:?}:\n{text}");
    text
}

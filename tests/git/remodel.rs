//! Alder Mill over five commits: what the program says of each, kept in `out/alder-mill-remodel` to be read.

use std::collections::BTreeMap;
use std::fs;

use super::repository::Repository;
use crate::golden::{self, root};

const STEPS: [&str; 5] = ["1-print-room", "2-wired", "3-glass-out", "4-frost-moved", "5-cable-and-keypad"];

/// The mill and its five commits.
pub fn remodelled() -> Repository {
    let repository = Repository::new();
    repository.copy_site("alder-mill", "specs/alder-mill");
    repository.copy_parts("specs/parts");
    repository.commit("Alder Mill");
    for step in STEPS {
        let patch = root().join("specs/alder-mill-remodel").join(format!("{step}.patch"));
        let text = fs::read_to_string(&patch).unwrap();
        repository.git(&["apply", patch.to_str().unwrap()]);
        let (message, _) = text.split_once("\n--- a/").unwrap();
        repository.commit(message.trim());
    }
    repository
}

#[test]
fn five_commits_read_as_they_were_meant() {
    let repository = remodelled();
    let site = "specs/alder-mill";
    let mut made: BTreeMap<String, String> = BTreeMap::new();
    for (nth, step) in STEPS.iter().enumerate() {
        let (old, new) = (format!("HEAD~{}", 5 - nth), format!("HEAD~{}", 4 - nth));
        made.insert(format!("{step}.txt"), repository.diff(&[&old, &new, site]));
        made.insert(format!("{step}.md"), repository.diff(&[&old, &new, site, "--as", "markdown"]));
    }
    made.insert("all.md".into(), repository.diff(&["HEAD~5", site, "--as", "markdown"]));
    made.insert("all.html".into(), repository.diff(&["HEAD~5", site, "--as", "html"]));

    // The electrician's part tells nothing of arming.
    for (name, text) in made.iter().filter(|(name, _)| name.ends_with(".md")) {
        let (first, _) = text.split_once("# For the installer").unwrap();
        for word in ["entry", "exit", "delay", "perimeter", "interior", "abort", "Program", "call the house"] {
            assert!(!first.contains(word), "{name}: {word}");
        }
    }
    golden::compare_folder("out/alder-mill-remodel", made.iter().map(|(name, text)| (name.as_str(), text.as_bytes())))
        .unwrap_or_else(|wrong| panic!("{wrong}"));
}

/// One commit is the same as all patches at once; and back again is the mirror.
#[test]
fn the_way_back_takes_down_what_the_way_there_put_up() {
    let repository = remodelled();
    let parse = |text: String| serde_json::from_str::<serde_json::Value>(&text).unwrap();
    let there = parse(repository.diff(&["HEAD~5", "HEAD", "specs/alder-mill", "--as", "json"]));
    let back = parse(repository.diff(&["HEAD", "HEAD~5", "specs/alder-mill", "--as", "json"]));
    let names = |order: &serde_json::Value, what: &str| -> Vec<String> {
        let changes = order["changes"].as_array().unwrap().iter().filter(|change| change["what"] == what);
        changes.map(|change| change["subject"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(names(&there, "added"), names(&back, "removed"));
    assert_eq!(names(&there, "removed"), names(&back, "added"));
    assert!(!names(&there, "added").is_empty() && !names(&there, "removed").is_empty());
}

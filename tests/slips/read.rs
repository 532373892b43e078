//! The files of slips, read: `README.md` says how they are written.

use std::collections::BTreeMap;
use std::fs;

use crate::golden::root;

/// The files of a base site, by their path as the compiler asks for it.
pub type Site = BTreeMap<String, String>;

/// What a finding must be, and what becomes of its edit.
#[derive(Debug, Default)]
pub struct Slip {
    /// The file of slips that it stands in.
    pub topic: String,
    /// What kind of slip it is.
    pub title: String,
    /// The base site.
    pub base: String,
    /// The file that is changed.
    pub file: String,
    /// The old text, which stands once in the file, and the new one; both empty for a file that is left out.
    pub old: String,
    pub new: String,
    /// The rule that must be told, and nothing else.
    pub rule: String,
    /// The text under the first label, without quotes.
    pub at: String,
    /// Words that stand in the help.
    pub help: Vec<String>,
    /// Words that stand in the help or elsewhere in the finding.
    pub says: Vec<String>,
    /// Words that must not stand in the help.
    pub not: Vec<String>,
    /// True where the edit of the finding mends it: then it must.
    pub mends: bool,
}

fn line_of<'l>(key: &str, line: &'l str) -> Option<&'l str> {
    line.strip_prefix(key)?.strip_prefix(':').map(str::trim)
}

fn grow(text: &mut String, line: &str) {
    if !text.is_empty() {
        text.push('\n');
    }
    text.push_str(line);
}

/// The slips of one file.
fn slips_of(topic: &str, text: &str) -> Vec<Slip> {
    let (mut slips, mut base, mut file) = (Vec::new(), String::new(), String::new());
    let mut slip: Option<Slip> = None;
    for (index, line) in text.lines().enumerate() {
        let wrong = |what: &str| -> ! { panic!("tests/slips/{topic}.txt:{}: {what}: {line}", index + 1) };
        if line.is_empty() || line.starts_with('#') {
            continue;
        } else if let Some(name) = line_of("base", line) {
            name.clone_into(&mut base);
        } else if let Some(name) = line_of("in", line) {
            name.clone_into(&mut file);
        } else if let Some(title) = line_of("slip", line) {
            let fresh = Slip {
                topic: topic.to_owned(),
                title: title.to_owned(),
                base: base.clone(),
                file: file.clone(),
                ..Slip::default()
            };
            if slip.replace(fresh).is_some() {
                wrong("the slip before this one does not say `mends` or `by hand`");
            }
        } else {
            let Some(open) = &mut slip else { wrong("no slip has begun") };
            if let Some(old) = line.strip_prefix("- ").or(line.strip_prefix('-')) {
                grow(&mut open.old, old);
            } else if let Some(new) = line.strip_prefix("+ ").or(line.strip_prefix('+')) {
                grow(&mut open.new, new);
            } else if let Some(rule) = line_of("told", line) {
                rule.clone_into(&mut open.rule);
            } else if let Some(at) = line_of("at", line) {
                at.clone_into(&mut open.at);
            } else if let Some(help) = line_of("help", line) {
                open.help.push(help.to_owned());
            } else if let Some(words) = line_of("says", line) {
                open.says.push(words.to_owned());
            } else if let Some(help) = line_of("not", line) {
                open.not.push(help.to_owned());
            } else if line == "mends" || line == "by hand" {
                open.mends = line == "mends";
                if open.rule.is_empty() || open.at.is_empty() || open.old == open.new {
                    wrong("the slip above lacks something");
                }
                slips.extend(slip.take());
            } else {
                wrong("this line is not understood");
            }
        }
    }
    assert!(slip.is_none(), "tests/slips/{topic}.txt: the last slip does not say `mends` or `by hand`");
    slips
}

/// All slips, by topic.
pub fn slips() -> Vec<Slip> {
    let topics = walkdir::WalkDir::new(root().join("tests/slips")).max_depth(1).sort_by_file_name();
    let paths = topics.into_iter().map(|entry| entry.unwrap().into_path());
    paths
        .filter(|path| path.extension().is_some_and(|ending| ending == "txt"))
        .flat_map(|path| slips_of(path.file_stem().unwrap().to_str().unwrap(), &fs::read_to_string(&path).unwrap()))
        .collect()
}

/// A base site: `tests/slips/<name>/site`, and `parts` beside it.
pub fn base(name: &str) -> Site {
    let mut files = Site::new();
    for (folder, before) in [("site", ""), ("parts", "../parts/")] {
        for entry in walkdir::WalkDir::new(root().join("tests/slips").join(name).join(folder)).min_depth(1) {
            let entry = entry.unwrap();
            let name = entry.file_name().to_str().unwrap();
            files.insert(format!("{before}{name}"), fs::read_to_string(entry.path()).unwrap());
        }
    }
    files
}

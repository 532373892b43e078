//! The rules' pages, executed: every bad example gives its rule once and nothing else, every good one nothing.
//!
//! An example is a real spec. `header.kdl` is put before one that has no `site` node (unless its first line is
//! `// bare`), and `example.kdl` is its shared parts file `../parts/example.kdl`. A line `// file: path` begins
//! another file. After the word `bad` a fence may say `bytes` (`\xNN` is that byte), `repeat=N` (the block, N times)
//! `include=N` (the block is the body of N files that `site.kdl` includes), `times=N` (a line that ends with
//! `// and so on` stands N times) or `frozen` (compiled with a register that may not change; a register is a file of
//! its own, `// file: register.kdl`).

use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::OnceLock;

use loopwright::diag::{self, Format, Rule, Severity};
use loopwright::resolve::load::{MemoryFiles, SITE_FILE};
use loopwright::session::{self, Outcome};

/// What is put before an example.
pub const HEADER: &str = include_str!("header.kdl");
/// The shared parts of the examples.
pub const PARTS: &str = include_str!("example.kdl");

/// A fenced block: the words after its language, and its text.
struct Fence<'p> {
    words: Vec<&'p str>,
    body: String,
}

/// The headings and the `kdl` fences of a page, in order.
fn read_page(page: &str) -> (Vec<&str>, Vec<Fence<'_>>) {
    let (mut headings, mut fences) = (Vec::new(), Vec::new());
    let mut lines = page.lines();
    while let Some(line) = lines.next() {
        if let Some(info) = line.strip_prefix("```") {
            let body = lines.by_ref().take_while(|line| *line != "```").map(|line| format!("{line}\n")).collect();
            let words: Vec<&str> = info.split_whitespace().collect();
            if words.first() == Some(&"kdl") {
                fences.push(Fence { words: words[1..].to_vec(), body });
            }
        } else if line.starts_with('#') && !line.starts_with("# measured") {
            headings.push(line);
        }
    }
    (headings, fences)
}

fn number(words: &[&str], key: &str) -> Option<usize> {
    words.iter().find_map(|word| word.strip_prefix(key)?.strip_prefix('=')).map(|n| n.parse().unwrap())
}

/// The bytes of a block in which `\xNN` is a byte.
fn bytes_of(body: &str) -> Vec<u8> {
    let mut parts = body.split("\\x");
    let mut bytes = parts.next().unwrap().as_bytes().to_vec();
    for part in parts {
        bytes.push(u8::from_str_radix(&part[..2], 16).unwrap());
        bytes.extend(part[2..].bytes());
    }
    bytes
}

/// The files of an example.
fn files_of(fence: &Fence<'_>) -> MemoryFiles {
    let mut texts: BTreeMap<String, String> = BTreeMap::new();
    if let Some(count) = number(&fence.words, "include") {
        for file in 0..count {
            let name = format!("file-{file}.kdl");
            writeln!(texts.entry(SITE_FILE.to_owned()).or_default(), "include \"{name}\"").unwrap();
            texts.insert(name, fence.body.clone());
        }
    } else {
        let mut file = SITE_FILE.to_owned();
        for line in fence.body.repeat(number(&fence.words, "repeat").unwrap_or(1)).lines() {
            if let Some(path) = line.strip_prefix("// file: ") {
                path.clone_into(&mut file);
            }
            let times = if line.ends_with("// and so on") { number(&fence.words, "times").unwrap_or(1) } else { 1 };
            for _ in 0..times {
                writeln!(texts.entry(file.clone()).or_default(), "{line}").unwrap();
            }
        }
    }
    let has_site = texts.values().any(|text| text.lines().any(|line| line.starts_with("site ")));
    if !has_site && !fence.body.starts_with("// bare") {
        // An example whose first line begins another file has no site.kdl unless it says so.
        texts.entry(SITE_FILE.to_owned()).and_modify(|text| text.insert_str(0, HEADER));
    }
    texts.entry("../parts/example.kdl".to_owned()).or_insert_with(|| PARTS.to_owned());
    let decode = |text: String| if fence.words.contains(&"bytes") { bytes_of(&text) } else { text.into_bytes() };
    MemoryFiles(texts.into_iter().map(|(name, text)| (name, decode(text))).collect())
}

fn outcome_of(fence: &Fence<'_>) -> Outcome {
    let files = files_of(fence);
    if fence.words.contains(&"frozen") { session::compile_frozen(&files) } else { session::check(&files) }
}

/// What is found in the bad example of every rule, by slug.
pub fn bad_examples() -> &'static [(&'static str, Outcome)] {
    static FOUND: OnceLock<Vec<(&'static str, Outcome)>> = OnceLock::new();
    let bad = |rule: &Rule| read_page(rule.page).1.into_iter().find(|fence| fence.words.first() == Some(&"bad"));
    let outcome = |rule: &'static Rule| Some((rule.slug, outcome_of(&bad(rule)?)));
    FOUND.get_or_init(|| session::rules().into_iter().filter_map(outcome).collect())
}

fn shown(outcome: &Outcome) -> String {
    diag::render(Format::Short, &outcome.sources, &outcome.diagnostics, 1000)
}

/// The headings that the page of a rule has.
fn layout(rule: &Rule) -> Vec<String> {
    let accept = (rule.severity() != Severity::Error).then_some("## When to accept it");
    let title = format!("# {}", rule.slug);
    let headings = ["## Why it matters", "## Bad", "## Good"].into_iter().chain(accept).chain(["## Basis"]);
    std::iter::once(title).chain(headings.map(str::to_owned)).collect()
}

#[test]
fn every_page_has_the_layout() {
    let mut wrong = String::new();
    for rule in session::rules() {
        let (headings, fences) = read_page(rule.page);
        if headings != layout(rule) {
            writeln!(wrong, "{}: its headings are {headings:?}", rule.slug).unwrap();
        }
        let kinds: Vec<&str> = fences.iter().filter_map(|fence| fence.words.first().copied()).collect();
        if kinds != ["bad", "good"] {
            writeln!(wrong, "{}: its examples are {kinds:?}", rule.slug).unwrap();
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn every_example_does_what_its_page_says() {
    let mut wrong = String::new();
    for rule in session::rules() {
        for fence in read_page(rule.page).1 {
            let outcome = outcome_of(&fence);
            let found: Vec<&str> = outcome.diagnostics.iter().map(|d| d.rule.slug).collect();
            let wanted: &[&str] = if fence.words.first() == Some(&"bad") { &[rule.slug] } else { &[] };
            if found != wanted {
                writeln!(wrong, "{} ({}):\n{}", rule.slug, fence.words.join(" "), shown(&outcome)).unwrap();
            }
            for found in outcome.diagnostics {
                if found.title.is_empty() || found.paragraph.is_empty() || found.help.is_empty() {
                    writeln!(wrong, "{}: a slot is empty in {found:?}", rule.slug).unwrap();
                } else if found.title.ends_with('.') || !found.paragraph.ends_with('.') {
                    writeln!(wrong, "{}: a title has no full stop, a paragraph has one: {found:?}", rule.slug).unwrap();
                }
            }
        }
    }
    assert!(wrong.is_empty(), "examples that do not give what their page says:\n{wrong}");
}

#[test]
fn slugs_are_unique_and_every_page_belongs_to_a_rule() {
    let rules = session::rules();
    let slugs: Vec<&str> = rules.iter().map(|rule| rule.slug).collect();
    assert!(slugs.windows(2).all(|pair| pair[0] != pair[1]), "a slug is given twice in {slugs:?}");
    let source = concat!(env!("CARGO_MANIFEST_DIR"), "/src");
    let pages = walkdir::WalkDir::new(source)
        .sort_by_file_name()
        .into_iter()
        .map(|entry| entry.unwrap().into_path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "md"));
    let stray: Vec<String> = pages
        .filter(|path| !slugs.iter().any(|slug| path.file_stem().is_some_and(|stem| stem == *slug)))
        .map(|path| path.display().to_string())
        .collect();
    assert!(stray.is_empty(), "pages of no rule: {}", stray.join(", "));
}

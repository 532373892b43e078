//! The examples of a rule's page, and the files that they stand for.
//!
//! `header.kdl` is put before one that has no `site` node (unless its first line is `// bare`), and `example.kdl` is its
//! shared parts file `../parts/example.kdl`. A line `// file: path` begins another file. After the word `bad` a fence may
//! say `bytes` (`\xNN` is that byte), `repeat=N` (the block, N times), `include=N` (the block is the body of N files that
//! `site.kdl` includes), `times=N` (a line that ends with `// and so on` stands N times) or `frozen` (compiled with a
//! register that may not change; a register is a file of its own, `// file: register.kdl`).

use std::collections::BTreeMap;
use std::fmt::Write;

use loopwright::resolve::load::{MemoryFiles, SITE_FILE};

/// What is put before an example.
pub const HEADER: &str = include_str!("header.kdl");
/// The shared parts of the examples.
pub const PARTS: &str = include_str!("example.kdl");

/// A fenced block: the words after its language, and its text.
pub struct Fence<'p> {
    pub words: Vec<&'p str>,
    pub body: String,
}

/// The headings and the `kdl` fences of a page, in order.
pub fn read_page(page: &str) -> (Vec<&str>, Vec<Fence<'_>>) {
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
pub fn files_of(fence: &Fence<'_>) -> MemoryFiles {
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

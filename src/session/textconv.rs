//! One file as a plain list, for `git diff`.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use crate::base::FileId;
use crate::base::wording::count;
use crate::diag::Sink;
use crate::format::differences::differences;
use crate::resolve::load::{self, MemoryFiles, SITE_FILE};
use crate::syntax::{self, outline};

/// The list of one spec file, whichever part of a site it is. What looks like a secret is masked, as everywhere.
pub fn textconv(bytes: Vec<u8>) -> String {
    if bytes.len() > syntax::LARGEST {
        return "not understood: the file is larger than 1 MiB\n".to_owned();
    }
    // Text of two bytes to a character has zeros: its lines would all be told, and none of them could be read.
    if bytes.contains(&0) {
        return format!(
            "not understood: {} with zeros among them; a spec is plain text in UTF-8, so save it as that, and not as UTF-16\n",
            count(bytes.len(), "byte", None)
        );
    }
    // Read as if it were a site's first file: that brings decoding, limits and masking; its includes are not there.
    let files = MemoryFiles([(SITE_FILE.to_owned(), bytes)].into());
    let loaded = load::load(&files, None, &mut Sink::default());
    let masked = loaded.sources.get(FileId::default()).map(|source| source.text.as_str()).unwrap_or_default();
    let list = |text: &str| outline::list(&syntax::parse(FileId::default(), text, &mut Sink::default()), text);
    match syntax::merge_marks(FileId::default(), masked) {
        Some((_, Some(_))) => {
            let [one, other] = syntax::sides(masked).map(|side| list(&side));
            format!("not understood: the file holds an unfinished merge\n{}", unfinished(&one, &other))
        }
        Some((_, None)) | None => list(masked),
    }
}

/// The lists of both sides of an unfinished merge as one: a top-level node that both have alike stands once, any other as each has
/// it, between the marks that git writes.
fn unfinished(one: &str, other: &str) -> String {
    let (ours, theirs) = (nodes(one), nodes(other));
    let mut text = String::new();
    // As they come in the first list, then what only the second has.
    let mut told: BTreeSet<&str> = BTreeSet::new();
    let heads = one.lines().chain(other.lines()).filter_map(head).filter(|head| told.insert(head));
    let mut tell = |lines: &[&str]| lines.iter().for_each(|line| text.extend([line, "\n"]));
    for head in heads {
        let [our, their] = [&ours, &theirs].map(|side| side.get(head).map(Vec::as_slice).unwrap_or_default());
        if our == their {
            tell(our);
        } else {
            tell(&["<<<<<<<"]);
            tell(our);
            tell(&["======="]);
            tell(their);
            tell(&[">>>>>>>"]);
        }
    }
    text
}

/// What differs between the lists of two files: every top-level node of which a line differs, with those lines.
pub fn textconv_two(old: Vec<u8>, new: Vec<u8>) -> String {
    let (old, new) = (textconv(old), textconv(new));
    let (before, after) = (nodes(&old), nodes(&new));
    let heads: BTreeSet<&str> = before.keys().chain(after.keys()).copied().collect();
    let mut text = String::new();
    for head in heads {
        let (was, is) = (before.get(head), after.get(head));
        if was == is {
            continue;
        }
        let lines = |side: Option<&Vec<&str>>| side.map(|lines| lines.join("\n") + "\n").unwrap_or_default();
        let (was, is) = (lines(was), lines(is));
        let _ = writeln!(text, "{head}");
        for line in differences(&was, &is) {
            let sign = if line.new { '+' } else { '-' };
            let _ = writeln!(text, "{sign} {}", line.text.trim_end_matches('\n'));
        }
    }
    text
}

/// The lines of each top-level node, by what it is: node, first argument.
fn nodes(list: &str) -> BTreeMap<&str, Vec<&str>> {
    let mut nodes: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    let mut of = "";
    for line in list.lines() {
        of = head(line).unwrap_or(of);
        nodes.entry(of).or_default().push(line);
    }
    nodes
}

/// What a top-level line is of: "zone 7" without its description, so that a new one is a changed line and not another zone.
fn head(line: &str) -> Option<&str> {
    let end = line.match_indices([' ', ':']).nth(1).map_or(line.len(), |(at, _)| at);
    line.get(..end).filter(|_| !line.starts_with(' ')).map(|head| head.trim_end_matches(':'))
}

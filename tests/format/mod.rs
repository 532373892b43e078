//! `loopwright fmt`: every promise as a user meets it. What is judged by kdl is judged by its own reading of both texts.

mod commands;
mod generated;

use std::fs;
use std::path::{Path, PathBuf};

use kdl::KdlDocument;
use loopwright::session;

/// A text laid out.
fn laid_out(text: &str) -> String {
    let path = Path::new("site.kdl");
    session::format(path, text.as_bytes().to_vec()).unwrap_or_else(|why| panic!("{why}:\n{text}")).text
}

/// What kdl reads from a text, without how it is laid out.
fn read_by_kdl(text: &str) -> Option<KdlDocument> {
    let mut document = KdlDocument::parse_v2(text).ok()?;
    document.clear_format_recursive();
    Some(document)
}

/// Every file of the specs in the tree.
fn specs() -> Vec<PathBuf> {
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let files = walkdir::WalkDir::new(specs).into_iter().filter_map(Result::ok).map(walkdir::DirEntry::into_path);
    files.filter(|path| path.extension().is_some_and(|extension| extension == "kdl")).collect()
}

#[test]
fn the_specs_are_laid_out_as_people_wrote_them() {
    let specs = specs();
    assert!(specs.len() > 30, "{specs:?}");
    for path in specs {
        let text = fs::read_to_string(&path).unwrap();
        assert!(laid_out(&text) == text, "{}", path.display());
    }
}

/// Every blank of the specs that says nothing is spoilt; what a person set comes back, but for columns and empty lines.
#[test]
fn a_spoilt_spec_gets_its_steps_back() {
    for path in specs() {
        let text = fs::read_to_string(&path).unwrap();
        if text.contains("\"\"\"") {
            continue;
        }
        let spoil = |(nth, line): (usize, &str)| {
            format!("{}{}{}", ["", "\t", "  "][nth % 3], line.trim(), [" \r\n", "\n"][nth % 2])
        };
        let spoilt: String = text.lines().enumerate().map(spoil).collect();
        let back = laid_out(&spoilt);
        let words = |text: &str| -> Vec<String> {
            text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
        };
        let steps =
            |text: &str| -> Vec<usize> { text.lines().map(|line| line.len() - line.trim_start().len()).collect() };
        assert_eq!(words(&back), words(&text), "{}", path.display());
        assert_eq!(steps(&back), steps(&text), "{}", path.display());
        assert!(read_by_kdl(&back) == read_by_kdl(&text), "{}", path.display());
    }
}

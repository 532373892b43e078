//! Tests of compiling through the command.

use std::fs;

use super::*;
use crate::base::{SourceFile, Span};
use crate::cli::arguments::CheckHow;
use crate::diag::{Basis, Diagnostic, Format, Look, Rule};
use crate::emit::Bundle;
use crate::resolve::load::FileSource;
use crate::session::Outcome;

static BROKEN: Rule = Rule { slug: "broken", basis: Basis::Contradiction, summary: "broken", page: "" };

/// A compiler in miniature: the site's file is its name; with a `!` in it, it is an error.
fn miniature(files: &dyn FileSource) -> Outcome {
    let text = String::from_utf8(files.read("site.kdl").unwrap()).unwrap();
    let mut outcome = Outcome::default();
    let file = outcome.sources.add(SourceFile::new(files.shown("site.kdl"), text.clone()));
    outcome.site = Some(text.trim_matches('!').to_owned());
    if text.contains('!') {
        outcome.diagnostics.push(Diagnostic::new(&BROKEN, Span::new(file, 0, 1), "it is broken").help("remedy it"));
    } else {
        let page = format!("<p>{text}");
        outcome.bundle = Some(Bundle { files: [("index.html".to_owned(), page.into_bytes())].into() });
    }
    outcome
}

struct Ran {
    exit: Result<Exit, Stop>,
    out: String,
}

fn compile(root: &Path, format: Format) -> Ran {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut screen = Screen::new(format, &mut out, &mut err);
    let exit = run(&mut screen, &[root.join("specs")], Target { out: &root.join("out"), pdf: false }, &miniature);
    let out = String::from_utf8(out).unwrap().replace(root.to_str().unwrap(), "ROOT");
    Ran { exit, out }
}

fn specs(sites: &[(&str, &str)]) -> tempfile::TempDir {
    let root = tempfile::tempdir().unwrap();
    for (folder, text) in sites {
        let folder = root.path().join("specs").join(folder);
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("site.kdl"), text).unwrap();
    }
    root
}

#[test]
fn one_site_is_written_and_the_reader_told_where_to_start() {
    let root = specs(&[("a", "mill")]);
    let ran = compile(root.path(), Format::Human(Look::PLAIN));
    assert_eq!(ran.exit, Ok(Exit::Clean));
    assert_eq!(ran.out, "no findings\n1 file in ROOT/out/mill\nstart with ROOT/out/mill/index.html\n");
    assert_eq!(fs::read_to_string(root.path().join("out/mill/index.html")).unwrap(), "<p>mill");
}

#[test]
fn a_site_with_errors_does_not_keep_the_others_from_being_written() {
    let root = specs(&[("a", "mill"), ("b", "barn!"), ("c", "shed")]);
    fs::create_dir_all(root.path().join("out/barn")).unwrap();
    let ran = compile(root.path(), Format::Human(Look::PLAIN));
    assert_eq!(ran.exit, Ok(Exit::Faults));
    assert!(ran.out.contains("mill (ROOT/specs/a)\nno findings\n1 file in"), "{}", ran.out);
    assert!(ran.out.contains("barn (ROOT/specs/b)\nerror: it is broken [broken]\n"), "{}", ran.out);
    assert!(ran.out.contains("1 error\nno packet written because of the errors\n"), "{}", ran.out);
    assert!(ran.out.ends_with("3 sites, 1 with errors\n"), "{}", ran.out);
    assert!(root.path().join("out/mill").exists() && root.path().join("out/shed").exists());
    assert_eq!(fs::read_dir(root.path().join("out/barn")).unwrap().count(), 0);
}

#[test]
fn an_old_packet_beside_errors_is_pointed_out() {
    let root = specs(&[("a", "mill")]);
    assert_eq!(compile(root.path(), Format::Short).exit, Ok(Exit::Clean));
    fs::write(root.path().join("specs/a/site.kdl"), "mill!").unwrap();
    let ran = compile(root.path(), Format::Human(Look::PLAIN));
    assert!(ran.out.ends_with("errors; the one in ROOT/out/mill is from an earlier run\n"), "{}", ran.out);
    assert_eq!(fs::read_to_string(root.path().join("out/mill/index.html")).unwrap(), "<p>mill");
}

#[test]
fn two_sites_of_one_name_stop_the_run_before_anything_is_written() {
    let root = specs(&[("a", "shed"), ("b", "mill"), ("c", "Mill")]);
    let ran = compile(root.path(), Format::Short);
    assert!(ran.exit.unwrap_err().message.contains("are both named \"Mill\""));
    assert!(!root.path().join("out").exists());
}

#[test]
fn a_file_in_the_way_of_one_site_stops_the_run_before_anything_is_written() {
    let root = specs(&[("a", "barn"), ("b", "mill")]);
    fs::create_dir_all(root.path().join("out/mill")).unwrap();
    fs::write(root.path().join("out/mill/index.html"), "mine").unwrap();
    let stop = compile(root.path(), Format::Short).exit.unwrap_err();
    assert!(stop.message.ends_with("index.html is in the way: loopwright did not write it"), "{stop}");
    assert!(stop.help.is_some());
    assert!(!root.path().join("out/barn").exists());
}

#[test]
fn names_that_lead_elsewhere_are_refused() {
    for name in ["..", "a/b", "", "/", "CON", "mill."] {
        let root = specs(&[("a", name)]);
        let stop = compile(root.path(), Format::Short).exit.unwrap_err();
        assert!(stop.message.contains("cannot name a folder"), "{stop}");
    }
}

#[test]
fn short_form_prints_findings_and_no_talk() {
    let root = specs(&[("a", "mill!")]);
    let ran = compile(root.path(), Format::Short);
    assert_eq!(ran.out, "ROOT/specs/a/site.kdl:1:1: error: it is broken [broken] — remedy it\n1 error\n");
}

#[test]
fn json_is_one_document_for_all_sites() {
    let root = specs(&[("a", "mill"), ("b", "barn!")]);
    let ran = compile(root.path(), Format::Json);
    assert_eq!(ran.exit, Ok(Exit::Faults));
    let document: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(document["sites"][0]["written"], "ROOT/out/mill");
    assert_eq!(document["sites"][1]["written"], serde_json::Value::Null);
    assert_eq!(document["sites"][1]["diagnostics"][0]["labels"][0]["path"], "ROOT/specs/b/site.kdl");
    assert_eq!(document["sites"][1]["counts"]["errors"], 1);
}

#[test]
fn check_writes_nothing() {
    let root = specs(&[("a", "mill")]);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut screen = Screen::new(Format::Short, &mut out, &mut err);
    assert_eq!(check::run(&mut screen, &[root.path().join("specs")], CheckHow::default(), &miniature), Ok(Exit::Clean));
    assert_eq!(fs::read_dir(root.path()).unwrap().count(), 1);
    assert_eq!(out, b"no findings\n");
}

#[cfg(unix)]
#[test]
fn an_output_folder_that_is_a_link_is_not_followed() {
    let root = specs(&[("a", "mill")]);
    fs::create_dir(root.path().join("elsewhere")).unwrap();
    std::os::unix::fs::symlink("elsewhere", root.path().join("out")).unwrap();
    let stop = compile(root.path(), Format::Short).exit.unwrap_err();
    assert!(stop.message.ends_with("/out is a link, and the packets would land elsewhere"), "{stop}");
    assert_eq!(fs::read_dir(root.path().join("elsewhere")).unwrap().count(), 0);
}

/// What was written before a later site failed is told.
#[test]
fn a_site_that_cannot_be_written_does_not_hide_what_was() {
    let root = specs(&[("a", "barn"), ("b", "mill")]);
    let done = Written {
        folder: root.path().join("out/barn"),
        files: 1,
        unchanged: 0,
        removed: 0,
        kept: Vec::new(),
        renamed: Vec::new(),
    };
    let stop = stop(&Refusal::Busy(root.path().join("out/.loopwright-mill")), &[(0, done)]);
    assert!(
        stop.help.as_ref().is_some_and(|help| help
            .ends_with("; written before it: ROOT/out/barn".replace("ROOT", root.path().to_str().unwrap()).as_str())),
        "{stop:?}"
    );
}

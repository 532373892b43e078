//! The server in conversations, over files in memory: what is said in which order, findings, bad manners.

mod answers;

use std::collections::BTreeMap;

use lsp_server::{ErrorCode, Message, Notification, Request, Response};
use serde_json::{Value, json};

use super::{Disk, Server};
use crate::resolve::load::{FileSource, MemoryFiles, ReadFault};

/// A disk in memory. A file of the text `PANIC` is one at which the system fails as no system should.
struct Memory(BTreeMap<String, String>);

impl Disk for Memory {
    fn has_file(&self, path: &str) -> bool {
        self.0.contains_key(path)
    }

    fn site(&self, folder: &str) -> Option<Box<dyn FileSource + '_>> {
        let parent = folder.rsplit_once('/').map_or("", |(parent, _)| parent);
        let inside = self.0.iter().filter_map(|(path, text)| {
            let own = path.strip_prefix(folder).and_then(|rest| rest.strip_prefix('/')).map(str::to_owned);
            let shared =
                || Some(format!("..{}", path.strip_prefix(parent)?)).filter(|path| path.starts_with("../parts/"));
            Some((own.or_else(shared)?, text.clone().into_bytes()))
        });
        Some(Box::new(Failing(MemoryFiles(inside.collect()))))
    }
}

struct Failing(MemoryFiles);

impl FileSource for Failing {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        let found = self.0.read(path);
        assert!(found.as_deref() != Ok(b"PANIC"), "a fault that nobody has thought of");
        found
    }
}

/// A small house whose names and remarks are of many kinds of characters.
const SITE: &str = r#"site "mill" title="Mühle 🚪"
include "parts.kdl"
include "places.kdl"
panel "main" title="Zentrale é" part="control-a" room="hall" {
    battery capacity=(Ah)7
}
/* é🚪 */ zone 1 "Haustür 🚪" type="entry-exit" {
    loop "end-of-line" board="main" input=1 {
        run "pair" length=(ft)38 room="hall" {
            contact "reed" on="front-door"
            resistor "2k2"
        }
    }
}
"#;

const PLACES: &str = r#"level "ground" {
    room "hall" title="Flur 🚪" { door "front-door" title="Haustür"; }
}
"#;

const PARTS: &str = include_str!("../../tests/pages/example.kdl");

struct Talk {
    server: Server,
    asked: i32,
    /// What came without being asked for, not yet looked at.
    told: Vec<Notification>,
}

impl Talk {
    /// A conversation in which nobody has said anything.
    fn new(files: &[(&str, &str)]) -> Self {
        let files = files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
        Self { server: Server::new(Box::new(Memory(files.collect()))), asked: 0, told: Vec::new() }
    }

    /// A conversation about the small house, with its first file open.
    fn about(site: &str, encoding: &str) -> Self {
        let mut talk = Self::new(&[("/m/site.kdl", ""), ("/m/parts.kdl", PARTS), ("/m/places.kdl", PLACES)]);
        talk.start(encoding);
        talk.open("/m/site.kdl", site);
        talk
    }

    fn start(&mut self, encoding: &str) {
        let found =
            self.ask("initialize", json!({"capabilities": {"general": {"positionEncodings": [encoding]}}})).unwrap();
        assert_eq!(found["capabilities"]["positionEncoding"], encoding);
        self.tell("initialized", json!({}));
    }

    /// Everything that waits is done.
    fn work(&mut self) -> Vec<Response> {
        let mut answers = Vec::new();
        while !self.server.is_idle() {
            answers.extend(self.server.step());
        }
        answers.extend(self.server.settle());
        let (told, answers): (Vec<_>, Vec<_>) =
            answers.into_iter().partition(|message| matches!(message, Message::Notification(_)));
        self.told.extend(
            told.into_iter()
                .filter_map(|message| if let Message::Notification(told) = message { Some(told) } else { None }),
        );
        answers
            .into_iter()
            .filter_map(|message| if let Message::Response(answer) = message { Some(answer) } else { None })
            .collect()
    }

    fn receive(&mut self, method: &str, params: Value) -> i32 {
        self.asked += 1;
        let request = Request { id: self.asked.into(), method: method.to_owned(), params };
        assert!(self.server.receive(request.into()).is_none());
        self.asked
    }

    /// Asks; an error is its code.
    fn ask(&mut self, method: &str, params: Value) -> Result<Value, i32> {
        let id = self.receive(method, params);
        let answers = self.work();
        let [answer] = answers.as_slice() else { panic!("{answers:?}") };
        assert_eq!(answer.id, id.into());
        answer.response_result.clone().map_err(|error| error.code)
    }

    fn note(&mut self, method: &str, params: Value) {
        assert!(self.server.receive(Notification { method: method.to_owned(), params }.into()).is_none());
    }

    fn tell(&mut self, method: &str, params: Value) {
        self.note(method, params);
        assert!(self.work().is_empty());
    }

    fn open(&mut self, path: &str, text: &str) {
        let item = json!({"uri": format!("file://{path}"), "languageId": "kdl", "version": 1, "text": text});
        self.tell("textDocument/didOpen", json!({"textDocument": item}));
    }

    /// The register that a compile of the site as it is would write.
    fn register(&mut self) -> String {
        let outcome = crate::session::check(&self.server.sites.files("/m"));
        let known = self.server.sites.files("/m").read("register.kdl").ok();
        outcome.register.map(|next| next.text()).or(known.and_then(|bytes| String::from_utf8(bytes).ok())).unwrap()
    }

    /// The last findings of a file that were told.
    fn findings(&mut self, path: &str) -> Vec<Value> {
        let told = std::mem::take(&mut self.told);
        let mut of = told.into_iter().filter(|told| told.params["uri"] == format!("file://{path}"));
        let last = of.next_back().unwrap_or_else(|| panic!("nothing was told of {path}"));
        last.params["diagnostics"].as_array().unwrap().clone()
    }

    /// Asks about the place of the mark `|`, which is not in the text.
    fn at(&mut self, method: &str, path: &str, position: Value) -> Value {
        let of = json!({"uri": format!("file://{path}")});
        let context = if method.ends_with("references") { json!({"includeDeclaration": true}) } else { Value::Null };
        self.ask(method, json!({"textDocument": of, "position": position, "context": context})).unwrap()
    }
}

/// The place of the first of some words in a text, some characters on.
fn position(text: &str, words: &str, on: usize, encoding: &str) -> Value {
    let at = text.find(words).unwrap() + on;
    let before = &text[..at];
    let line = before.matches('\n').count();
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let column = if encoding == "utf-8" { before.len() - start } else { before[start..].encode_utf16().count() };
    json!({"line": line, "character": column})
}

#[test]
fn a_clean_house_has_no_errors() {
    let mut talk = Talk::about(SITE, "utf-16");
    let found = talk.findings("/m/site.kdl");
    assert!(found.iter().all(|found| found["severity"] != 1), "{found:#?}");
}

#[test]
fn findings_stand_where_the_editor_counts_and_follow_unsaved_texts() {
    for encoding in ["utf-8", "utf-16"] {
        let broken = SITE.replace("type=\"entry-exit\"", "type=\"entry-exit\" area=\"hous\"");
        let mut talk = Talk::about(&broken, encoding);
        let found = talk.findings("/m/site.kdl");
        let one = found.iter().find(|found| found["code"] == "unknown-name").unwrap_or_else(|| panic!("{found:#?}"));
        assert_eq!(one["range"]["start"], position(&broken, "\"hous\"", 0, encoding));
        assert_eq!(one["range"]["end"], position(&broken, "\"hous\"", 6, encoding));
        assert_eq!((&one["source"], &one["severity"]), (&json!("loopwright"), &json!(1)));
        assert!(one["message"].as_str().unwrap().contains("Help: "), "{one:#?}");
        // The name is taken out again, by a change of a range.
        let range = json!({"start": position(&broken, " area=", 0, encoding), "end": one["range"]["end"]});
        let change = json!({"range": range, "text": ""});
        let item = json!({"uri": "file:///m/site.kdl", "version": 2});
        talk.tell("textDocument/didChange", json!({"textDocument": item, "contentChanges": [change]}));
        assert!(talk.findings("/m/site.kdl").iter().all(|found| found["code"] != "unknown-name"));
    }
}

#[test]
fn a_change_of_one_file_is_told_of_the_others() {
    let mut talk = Talk::about(SITE, "utf-16");
    talk.told.clear();
    // An opening gets another name in a file that is not saved.
    talk.open("/m/places.kdl", &PLACES.replace("front-door", "back-door"));
    let found = talk.findings("/m/site.kdl");
    assert!(found.iter().any(|found| found["code"] == "unknown-name"), "{found:#?}");
    talk.tell("textDocument/didClose", json!({"textDocument": {"uri": "file:///m/places.kdl"}}));
    assert!(talk.findings("/m/site.kdl").iter().all(|found| found["code"] != "unknown-name"));
}

#[test]
fn what_is_remembered_of_the_files_changes_no_finding() {
    let mut talk = Talk::about(SITE, "utf-16");
    let register = talk.register();
    // A file that stands before others gives each of them another number.
    let attic = "spare \"loft\" board=\"main\"\nroom 5\n// alarm code 4417\n";
    let with_attic = SITE.replace("include \"parts.kdl\"", "include \"attic.kdl\"\ninclude \"parts.kdl\"");
    let mut versions = 1..;
    for (path, text) in [
        ("site.kdl", SITE.replace("area", "aera")),
        ("attic.kdl", attic.to_owned()),
        ("site.kdl", with_attic.clone()),
        ("places.kdl", PLACES.replace("front-door", "back-door")),
        ("attic.kdl", attic.replace("room 5", "room \"")),
        ("site.kdl", format!("// é🚪\n\n{with_attic}{SITE}")),
        ("register.kdl", register.replace("label \"Z1\"", "label \"Z2\"")),
        ("register.kdl", register.replacen('{', "{{", 1)),
        ("places.kdl", PLACES.to_owned()),
        ("site.kdl", SITE.to_owned()),
        ("register.kdl", register),
        ("site.kdl", SITE.replace("ft", "feet")),
    ] {
        let path = format!("/m/{path}");
        if talk.server.sites.text(&path).is_none() {
            talk.open(&path, &text);
        } else {
            let item = json!({"uri": format!("file://{path}"), "version": versions.next()});
            talk.tell("textDocument/didChange", json!({"textDocument": item, "contentChanges": [{"text": text}]}));
        }
        let (_, study) = talk.server.sites.studies().next().unwrap();
        assert_eq!(
            study.diagnostics,
            crate::session::check(&talk.server.sites.files("/m")).diagnostics,
            "{path}\n{text}"
        );
    }
}

#[test]
fn every_place_of_a_finding_is_told() {
    let twice = SITE.replace("panel \"main\"", "panel \"hall-box\" part=\"board-2\" room=\"hall\"\npanel \"hall-box\"");
    let mut talk = Talk::about(&twice, "utf-16");
    let found = talk.findings("/m/site.kdl");
    let one = found.iter().find(|found| found["code"] == "duplicate-name").unwrap_or_else(|| panic!("{found:#?}"));
    let related = &one["relatedInformation"][0];
    assert_eq!(related["location"]["uri"], "file:///m/site.kdl");
    assert_eq!(related["location"]["range"]["start"]["line"], 3);
}

#[test]
fn what_comes_out_of_turn_is_refused_and_nothing_else_happens() {
    let mut talk = Talk::new(&[]);
    let hover = json!({"textDocument": {"uri": "file:///m/none.kdl"}, "position": {"line": 70, "character": 9}});
    assert_eq!(talk.ask("textDocument/hover", hover.clone()), Err(ErrorCode::ServerNotInitialized as i32));
    // Notices before the beginning are not taken.
    talk.open("/m/none.kdl", "zone");
    assert!(talk.told.is_empty());
    talk.start("utf-16");
    assert_eq!(talk.ask("initialize", json!({"capabilities": {}})), Err(ErrorCode::InvalidRequest as i32));
    assert_eq!(talk.ask("textDocument/hover", hover.clone()), Ok(Value::Null));
    assert_eq!(talk.ask("textDocument/hover", json!({"position": "here"})), Err(ErrorCode::InvalidParams as i32));
    assert_eq!(talk.ask("textDocument/unheardOf", json!({})), Err(ErrorCode::MethodNotFound as i32));
    talk.tell("textDocument/didChange", json!({"contentChanges": 7}));
    talk.tell("$/unheardOf", json!(null));
    assert_eq!(talk.ask("shutdown", Value::Null), Ok(Value::Null));
    assert_eq!(talk.ask("textDocument/hover", hover), Err(ErrorCode::InvalidRequest as i32));
    talk.tell("exit", Value::Null);
    assert_eq!(talk.server.ended(), Some(true));
    let mut rude = Talk::new(&[]);
    rude.tell("exit", Value::Null);
    assert_eq!(rude.server.ended(), Some(false));
}

#[test]
fn what_waits_can_be_cancelled() {
    let mut talk = Talk::about(SITE, "utf-16");
    let hover = json!({"textDocument": {"uri": "file:///m/site.kdl"}, "position": {"line": 0, "character": 1}});
    let (first, second) =
        (talk.receive("textDocument/hover", hover.clone()), talk.receive("textDocument/hover", hover));
    let cancel =
        |id: i32| Message::from(Notification { method: "$/cancelRequest".to_owned(), params: json!({"id": id}) });
    let Some(Message::Response(refused)) = talk.server.receive(cancel(second)) else { panic!("no answer") };
    assert_eq!(refused.id, second.into());
    assert_eq!(refused.response_result.unwrap_err().code, ErrorCode::RequestCanceled as i32);
    // What is done already, or was never asked, is passed over.
    assert!(talk.server.receive(cancel(4000)).is_none());
    let answers = talk.work();
    assert_eq!(answers.iter().map(|answer| answer.id.clone()).collect::<Vec<_>>(), [first.into()]);
}

#[test]
fn a_burst_of_changes_is_told_once() {
    let mut talk = Talk::about(SITE, "utf-16");
    talk.told.clear();
    let end = position(SITE, "\ninclude \"parts", 0, "utf-16");
    for version in 0..10_000 {
        let text = if version % 2 == 0 { "x" } else { "" };
        let mut behind = end.clone();
        behind["character"] = json!(end["character"].as_u64().unwrap() + u64::from(version % 2 == 1));
        let change = json!({"range": {"start": end, "end": behind}, "text": text});
        let item = json!({"uri": "file:///m/site.kdl", "version": version + 2});
        talk.note("textDocument/didChange", json!({"textDocument": item, "contentChanges": [change]}));
    }
    assert!(talk.work().is_empty());
    let of_site = talk.told.iter().filter(|told| told.params["uri"] == "file:///m/site.kdl").count();
    assert_eq!(of_site, 1);
    assert_eq!(talk.server.sites.text("/m/site.kdl").unwrap().text, SITE);
}

#[test]
fn a_fault_of_its_own_ends_no_conversation() {
    let mut talk = Talk::new(&[("/m/site.kdl", ""), ("/m/parts.kdl", PARTS), ("/m/places.kdl", "PANIC")]);
    talk.start("utf-16");
    talk.open("/m/site.kdl", SITE);
    let place = json!({"line": 0, "character": 1});
    let of = json!({"uri": "file:///m/site.kdl"});
    talk.note("textDocument/didSave", json!({"textDocument": of}));
    let asked = talk.ask("textDocument/hover", json!({"textDocument": of, "position": place}));
    assert_eq!(asked, Err(ErrorCode::InternalError as i32));
    // With the file open, the disk is not asked for it any more.
    talk.open("/m/places.kdl", PLACES);
    assert!(
        talk.at("textDocument/hover", "/m/site.kdl", place)["contents"]["value"].as_str().unwrap().contains("site")
    );
}

#[test]
fn a_file_without_a_site_is_read_for_its_form() {
    let mut talk = Talk::new(&[]);
    talk.start("utf-16");
    talk.open("/elsewhere/zones.kdl", "zone 1 \"A\" typ=\"perimeter\" area=\"none\"\n");
    let codes: Vec<Value> = talk.findings("/elsewhere/zones.kdl").iter().map(|found| found["code"].clone()).collect();
    assert!(codes.contains(&json!("property-unknown")) && !codes.contains(&json!("unknown-name")), "{codes:?}");
    // Texts that were never saved have no path.
    let item = json!({"uri": "untitled:one", "languageId": "kdl", "version": 1, "text": "zone 1 \"A\" typ=\"x\""});
    talk.tell("textDocument/didOpen", json!({"textDocument": item}));
    let told = talk.told.iter().filter(|told| told.params["uri"] == "untitled:one");
    let found: Vec<&Value> = told.filter_map(|told| told.params["diagnostics"].as_array()).flatten().collect();
    assert!(found.iter().any(|found| found["code"] == "property-unknown"), "{found:?}");
}

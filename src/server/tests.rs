//! The server in conversations, over files in memory.

use std::collections::BTreeMap;

use lsp_server::{ErrorCode, Message, Notification, Request, Response};
use serde_json::{Value, json};

use super::text::Encoding;
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
        let outcome = crate::session::compile(&[], &self.server.sites.files("/m"));
        let known = self.server.sites.files("/m").read("register.kdl").ok();
        outcome.register.or(known.and_then(|bytes| String::from_utf8(bytes).ok())).unwrap()
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
    let item = json!({"uri": "untitled:one", "languageId": "kdl", "version": 1, "text": "zone"});
    talk.tell("textDocument/didOpen", json!({"textDocument": item}));
    assert!(talk.told.iter().any(|told| told.params["uri"] == "untitled:one"));
}

#[test]
fn the_cursor_is_told_what_stands_there_and_what_it_comes_to() {
    for encoding in ["utf-8", "utf-16"] {
        let mut talk = Talk::about(SITE, encoding);
        let mut hover = |words: &str, on: usize| {
            let found = talk.at("textDocument/hover", "/m/site.kdl", position(SITE, words, on, encoding));
            found["contents"]["value"].as_str().unwrap_or_else(|| panic!("{words}: {found}")).to_owned()
        };
        let zone = hover("zone 1", 1);
        assert!(zone.contains("at rest: ") && zone.contains("Ω") && zone.contains("**`zone`**"), "{zone}");
        assert!(hover("battery", 0).contains("at rest, then"));
        assert!(hover("type=", 0).contains("`type=` of `zone`, needed"));
        assert!(hover("\"entry-exit\"", 3).starts_with("```text"), "the word and the zone");
        assert!(hover("\"front-door\"", 3).contains("places.kdl:2: room \"hall\""));
        assert!(hover("panel", 0).contains("output aux"), "{}", hover("panel", 0));
    }
}

#[test]
fn names_lead_to_where_they_are_defined_and_used() {
    for encoding in ["utf-8", "utf-16"] {
        let mut talk = Talk::about(SITE, encoding);
        let door = talk.at("textDocument/definition", "/m/site.kdl", position(SITE, "\"front-door\"", 3, encoding));
        assert_eq!(door["uri"], "file:///m/places.kdl");
        assert_eq!(door["range"]["start"], position(PLACES, "\"front-door\"", 0, encoding));
        let uses = talk.at("textDocument/references", "/m/places.kdl", position(PLACES, "\"hall\"", 1, encoding));
        assert_eq!(uses.as_array().unwrap().len(), 3, "{uses:#}");
        let file = talk.at("textDocument/definition", "/m/site.kdl", position(SITE, "\"places.kdl\"", 3, encoding));
        assert_eq!(file["uri"], "file:///m/places.kdl");
    }
}

#[test]
fn an_outline_has_zones_boards_and_rooms() {
    let mut talk = Talk::about(SITE, "utf-16");
    let mut names = |path: &str| {
        let found = talk
            .ask("textDocument/documentSymbol", json!({"textDocument": {"uri": format!("file://{path}")}}))
            .unwrap();
        found.as_array().unwrap().iter().map(|symbol| symbol["name"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(names("/m/site.kdl"), ["site mill", "panel main", "zone 1 Haustür 🚪"]);
    assert_eq!(names("/m/places.kdl"), ["level ground"]);
    let folds = talk.ask("textDocument/foldingRange", json!({"textDocument": {"uri": "file:///m/site.kdl"}})).unwrap();
    let lines: Vec<(u64, u64)> = folds
        .as_array()
        .unwrap()
        .iter()
        .map(|fold| (fold["startLine"].as_u64().unwrap(), fold["endLine"].as_u64().unwrap()))
        .collect();
    assert_eq!(lines, [(3, 4), (8, 10), (7, 11), (6, 12)]);
}

#[test]
fn what_may_stand_at_the_cursor_is_offered() {
    // What is being written, and some of what is offered with some that is not.
    let cases: &[(&str, &str, &[&str], &[&str])] = &[
        (
            "            resistor \"2k2\"\n",
            "            \n",
            &["contact", "detector", "resistor", "run"],
            &["zone", "keypad"],
        ),
        ("on=\"front-door\"", "on=\"\"", &["front-door"], &["hall"]),
        ("on=\"front-door\"", "on=\"fr", &["front-door"], &[]),
        ("room=\"hall\" {\n            c", "room= {\n            c", &["hall"], &["front-door"]),
        ("length=(ft)38", "length=", &["(ft)", "(m)"], &["(V)"]),
        ("length=(ft)38", "length=(", &["(ft)", "(m)"], &["(V)"]),
        ("input=1", "input=", &["1", "4"], &["5"]),
        ("input=1", "", &["input="], &["board="]),
        ("type=\"entry-exit\"", "type=\"p", &["perimeter", "panic"], &["house"]),
        ("resistor \"2k2\"\n", "resistor \n", &[], &["front-door"]),
    ];
    for (written, being, offered, not) in cases {
        let text = SITE.replace(written, being);
        let on = being.trim_end_matches('\n').trim_end_matches('"').trim_end_matches(" {\n            c").len();
        let mut talk = Talk::about(&text, "utf-16");
        let at = if being.is_empty() {
            position(&text, " board=\"main\" ", 14, "utf-16")
        } else {
            position(&text, being, on, "utf-16")
        };
        let found = talk.at("textDocument/completion", "/m/site.kdl", at);
        let labels: Vec<&str> = found.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect();
        for offer in *offered {
            assert!(labels.contains(offer), "{being:?}: {offer} is not in {labels:?}");
        }
        for none in *not {
            assert!(!labels.contains(none), "{being:?}: {none} is in {labels:?}");
        }
    }
}

#[test]
fn only_free_inputs_are_offered() {
    let text = format!("{SITE}zone 2 \"B\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"main\" input=\n}}\n");
    let mut talk = Talk::about(&text, "utf-16");
    let found = talk.at("textDocument/completion", "/m/site.kdl", position(&text, "input=\n", 6, "utf-16"));
    let labels: Vec<&str> = found.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["2", "3", "4"]);
}

#[test]
fn a_new_name_goes_to_every_file_and_to_no_cable() {
    for encoding in ["utf-8", "utf-16"] {
        let mut talk = Talk::about(SITE, encoding);
        let register = talk.register();
        let mut talk = Talk::about(SITE, encoding);
        talk.open("/m/register.kdl", &register);
        let mut rename = |words: &str, name: &str| {
            let of = json!({"uri": "file:///m/site.kdl"});
            let at = position(SITE, words, 2, encoding);
            talk.ask("textDocument/rename", json!({"textDocument": of, "position": at, "newName": name}))
        };
        // What is not a name, what is taken, what cannot be one.
        for (words, name) in
            [("\"front-door\"", "front door"), ("title", "a"), ("\"main\"", "ma/in"), ("\"pair\"", "quad")]
        {
            assert_eq!(rename(words, name), Err(ErrorCode::RequestFailed as i32), "{words} {name}");
        }
        for (words, name, files) in [
            ("\"front-door\"", "street-door", ["places.kdl", "register.kdl", "site.kdl"].as_slice()),
            ("\"main\"", "centre", &["register.kdl", "site.kdl"]),
            ("\"hall\"", "vestibule", &["places.kdl", "register.kdl", "site.kdl"]),
        ] {
            let changes = rename(words, name).unwrap_or_else(|code| panic!("{words}: {code}"))["changes"].clone();
            let changed: Vec<&str> =
                changes.as_object().unwrap().keys().map(|uri| uri.trim_start_matches("file:///m/")).collect();
            assert_eq!(changed, files, "{words}");
            let edited = |path: &str, text: &str| {
                let mut text = text.to_owned();
                let edits = changes[format!("file:///m/{path}")].as_array().cloned().unwrap_or_default();
                for edit in edits.into_iter().rev() {
                    let change =
                        serde_json::from_value(json!({"range": edit["range"], "text": edit["newText"]})).unwrap();
                    let encoding = if encoding == "utf-8" { Encoding::Utf8 } else { Encoding::Utf16 };
                    super::text::change(&mut text, change, encoding);
                }
                text
            };
            let texts = [("/m/site.kdl", edited("site.kdl", SITE)), ("/m/places.kdl", edited("places.kdl", PLACES))];
            let files = [("/m/parts.kdl", PARTS.to_owned()), ("/m/register.kdl", edited("register.kdl", &register))];
            let files: Vec<(&str, &str)> =
                texts.iter().chain(&files).map(|(path, text)| (*path, text.as_str())).collect();
            assert!(files.iter().all(|(_, text)| !text.contains(words)), "{words}");
            // The next compile finds nothing to change in the register but the order of its nodes.
            let mut after = Talk::new(&files);
            after.start(encoding);
            after.open("/m/site.kdl", files[0].1);
            let lines = |text: &str| text.lines().map(str::to_owned).collect::<std::collections::BTreeSet<_>>();
            assert_eq!(lines(&after.register()), lines(files[3].1), "{words}");
        }
    }
}

#[test]
fn figures_stand_beside_runs_and_devices() {
    let mut talk = Talk::about(SITE, "utf-16");
    let range = json!({"start": {"line": 0, "character": 0}, "end": {"line": 99, "character": 0}});
    let found = talk
        .ask("textDocument/inlayHint", json!({"textDocument": {"uri": "file:///m/site.kdl"}, "range": range}))
        .unwrap();
    let told: Vec<(u64, &str)> = found
        .as_array()
        .unwrap()
        .iter()
        .map(|hint| (hint["position"]["line"].as_u64().unwrap(), hint["label"].as_str().unwrap()))
        .collect();
    let [(4, battery), (7, rest), (8, cable)] = told.as_slice() else { panic!("{told:?}") };
    assert!(battery.ends_with(" h") && rest.ends_with("kΩ at rest") && cable.starts_with("Z1, "), "{told:?}");
}

#[test]
fn every_word_is_told_what_it_is() {
    let mut talk = Talk::about(SITE, "utf-16");
    let found =
        talk.ask("textDocument/semanticTokens/full", json!({"textDocument": {"uri": "file:///m/site.kdl"}})).unwrap();
    let data: Vec<usize> = found["data"]
        .as_array()
        .unwrap()
        .iter()
        .map(|number| usize::try_from(number.as_u64().unwrap()).unwrap())
        .collect();
    let lines: Vec<Vec<u16>> = SITE.lines().map(|line| line.encode_utf16().collect()).collect();
    let (mut line, mut column) = (0, 0);
    let mut words: Vec<(String, usize)> = Vec::new();
    for token in data.chunks(5) {
        column = if token[0] == 0 { column + token[1] } else { token[1] };
        line += token[0];
        words.push((String::from_utf16(&lines[line][column..column + token[2]]).unwrap(), token[3]));
    }
    for (word, role) in [
        ("/* é🚪 */", 0),
        ("zone", 1),
        ("board", 2),
        ("\"Haustür 🚪\"", 3),
        ("38", 4),
        ("ft", 5),
        ("\"entry-exit\"", 6),
        ("\"front-door\"", 7),
        ("\"main\"", 8),
    ] {
        assert!(words.contains(&(word.to_owned(), role)), "{word} in {words:?}");
    }
}

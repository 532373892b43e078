//! What is answered about a place: meaning, figures, names, outline, offers, new names.

use lsp_server::ErrorCode;
use serde_json::json;

use super::{PARTS, PLACES, SITE, Talk, position};
use crate::server::text::{Encoding, change};

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
        assert!(hover("\"entry-exit\"", 3).starts_with("`entry-exit`: a door"), "the word alone");
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
        ("type=\"entry-exit\"", "type=\"p", &["perimeter", "panic-silent"], &["house"]),
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
                    let found =
                        serde_json::from_value(json!({"range": edit["range"], "text": edit["newText"]})).unwrap();
                    let encoding = if encoding == "utf-8" { Encoding::Utf8 } else { Encoding::Utf16 };
                    change(&mut text, found, encoding);
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
        // What cannot be read of the register may hold the name.
        let mut talk = Talk::about(SITE, encoding);
        talk.open("/m/register.kdl", &register.replacen("label", "<<<<<<< ours\nlabel", 1));
        let (of, at) = (json!({"uri": "file:///m/site.kdl"}), position(SITE, "\"front-door\"", 2, encoding));
        let asked =
            talk.ask("textDocument/rename", json!({"textDocument": of, "position": at, "newName": "street-door"}));
        assert_eq!(asked, Err(ErrorCode::RequestFailed as i32));
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

#[test]
fn a_finding_brings_the_change_that_remedies_it() {
    let wrong = SITE.replace("(ft)38", "38ft").replace("\"front-door\"", "\"front-dor\"");
    for encoding in ["utf-8", "utf-16"] {
        let mut talk = Talk::about(&wrong, encoding);
        let findings = talk.findings("/m/site.kdl");
        let mut act = |only: &str| {
            let start = position(&wrong, "38ft", 0, encoding);
            let context = json!({"diagnostics": findings, "only": [only]});
            let of = json!({"uri": "file:///m/site.kdl"});
            let range = json!({"start": start, "end": start});
            talk.ask("textDocument/codeAction", json!({"textDocument": of, "range": range, "context": context}))
                .unwrap()
        };
        let found = act("quickfix");
        let [action] = found.as_array().unwrap().as_slice() else { panic!("{found:#}") };
        assert_eq!((&action["title"], &action["kind"]), (&"write (ft)38".into(), &"quickfix".into()));
        assert_eq!(action["diagnostics"].as_array().unwrap().len(), 1);
        let edit = &action["edit"]["changes"]["file:///m/site.kdl"][0];
        assert_eq!(
            (&edit["newText"], &edit["range"]["start"]),
            (&"(ft)38".into(), &position(&wrong, "38ft", 0, encoding))
        );
        // A misspelt name is a guess, and stays.
        let all = act("source.fixAll");
        let edit = &all[0]["edit"]["changes"]["file:///m/site.kdl"][0]["newText"];
        assert!(edit.as_str().unwrap().contains("length=(ft)38"), "{all:#}");
        assert_eq!(act("refactor"), json!([]));
    }
}

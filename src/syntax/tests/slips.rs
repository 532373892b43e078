//! The usual slips, each reported once, where it is, with the right help.

use super::*;

fn help(text: &str) -> String {
    let found = parsed(text).1;
    assert_eq!(found.len(), 1, "{text}: {found:?}");
    found[0].help.clone()
}

#[test]
fn the_usual_slips() {
    for (text, expected) in [
        ("a 38ft", "number-with-glued-unit 38ft"),
        ("a k=2.2k", "number-with-glued-unit 2.2k"),
        ("a 4k7", "number-with-glued-unit 4k7"),
        ("a (V)12V", "number-with-glued-unit 12V"),
        ("a 38\" 2", "number-with-glued-unit 38\""),
        ("a 12'6\"", "number-with-glued-unit 12'6\""),
        ("a 1/2", "number-malformed 1/2"),
        ("a 2027-03-14", "number-malformed 2027-03-14"),
        ("a k=true", "bare-keyword true"),
        ("a k=#True", "text-not-understood #True"),
        ("a #inf", "number-out-of-range #inf"),
        ("a 1e400", "number-out-of-range 1e400"),
        ("a 99999999999999999999", "number-out-of-range 99999999999999999999"),
        ("a k= l=1", "value-missing k="),
        ("a k=(ft)\n", "value-missing k=(ft)"),
        ("a (ft) k=1", "text-not-understood (ft) k"),
        ("a k==1", "text-not-understood =="),
        ("a =1", "text-not-understood ="),
        ("a k=1 k=2", "duplicate-property k"),
        ("a: 1", "colon a:"),
        ("\"a\": 1", "colon \"a\":"),
        ("a length: 5", "colon length:"),
        ("a \"b\", \"c\"", "comma \"b\","),
        ("a \"b\",\"c\"", "comma \"b\",\"c\""),
        ("a 1, 2", "comma 1,"),
        ("a b , c", "comma ,"),
        ("a “Front hall” 1", "quotation-mark “Front hall”"),
        ("a k=„Flur“", "quotation-mark „Flur“"),
        ("a 'Front hall' 1", "quotation-mark 'Front hall'"),
        ("a k='hall'", "quotation-mark 'hall'"),
        ("# note, about: \"this\"", "comment-mark #"),
        ("#note", "comment-mark #"),
        ("-- note", "comment-mark --"),
        ("a 1 # note here", "comment-mark #"),
        ("a r\"x\\y\"", "raw-string-old r\"x\\y\""),
        ("a r#\"x\"#", "raw-string-old r#\"x\"#"),
        ("a \"C:\\dir\"", "string-escape \\d"),
        ("a (ohm 5", "text-not-understood (ohm 5"),
        ("a (ft 38) 1", "text-not-understood (ft 38)"),
        ("a (38)ft", "text-not-understood (38)ft"),
        ("a 38(ft) 1", "text-not-understood 38(ft)"),
        ("a ()1", "text-not-understood ()"),
        ("a 5)", "text-not-understood )"),
        ("a [1 2", "text-not-understood [1"),
        ("a hall/door", "text-not-understood hall/door"),
        ("a {b} {c}", "text-not-understood {"),
        ("a {b} 1 2\nc", "text-not-understood 1 2"),
        ("a\n{ b }", "text-not-understood {"),
        ("a 1\n  k=2", "text-not-understood k"),
        ("a \"b\"\"c\"", "text-not-understood \""),
        ("a \"b\"c", "text-not-understood c"),
        ("a(ft)3", "text-not-understood ("),
        ("12 a", "text-not-understood 12"),
        ("a \\ b", "text-not-understood \\"),
        ("a ; ; b", "text-not-understood ;"),
        ("a \u{202e}b", "character-not-allowed \u{202e}"),
        ("// \u{202e}b", "character-not-allowed \u{202e}"),
        ("a \"hall title=\"Front hall\" {\n b\n}", "string-unclosed \"hall title=\""),
        ("a \"hall { b }\nc", "string-unclosed \"hall { b }"),
        ("a {\n b \"hall }\nc", "string-unclosed \"hall"),
        ("a \"first\n second\" 1", "string-unclosed \"first\n second\""),
        ("a \"\"\"x\"\"\"", "string-layout \"\"\"x\"\"\""),
    ] {
        assert_eq!(slugs(text), [expected], "{text:?}");
    }
}

#[test]
fn helps_are_concrete() {
    assert_eq!(help("a 38ft"), "write (ft)38");
    assert_eq!(help("a 4k7"), "write \"4k7\"");
    assert_eq!(help("a k=true"), "write #true, or \"true\" if it is a text");
    assert_eq!(help("a r\"x\""), "write #\"x\"#");
    assert_eq!(help("a (ft 38)"), "write (ft)38");
    assert_eq!(help("a (38)ft"), "write (ft)38");
    assert_eq!(help("a 38(ft)"), "write (ft)38");
    assert_eq!(help("a “Front hall”"), "write \"Front hall\"");
    assert_eq!(help("a 'Front hall'"), "write \"Front hall\"");
    assert_eq!(help("a 2027-03-14"), "put it in quotes: \"2027-03-14\"");
    assert_eq!(help("a k=#True"), "write #true");
}

#[test]
fn several_mistakes_are_each_reported_and_good_nodes_kept() {
    let text = "one 1\ntwo 12V k=4k7 {\n  three k=\n  four true\n}\nfive \"x\"\n}\nsix {\n  seven\neight 8\n";
    let (document, _) = parsed(text);
    assert_eq!(
        slugs(text),
        [
            "number-with-glued-unit 12V",
            "number-with-glued-unit 4k7",
            "value-missing k=",
            "bare-keyword true",
            "brace-stray }",
            "brace-unclosed {"
        ]
    );
    assert_eq!(document.nodes.iter().map(|n| n.name.value.as_str()).collect::<Vec<_>>(), ["one", "five", "eight"]);
    assert_eq!(document.broken.len(), 3);
    assert!(document.broken[0].words.contains(&"three".to_owned()));
}

#[test]
fn an_unclosed_brace_is_found_by_the_layout() {
    // The brace of the level.
    let text = "level \"g\" {\n    room \"h\" {\n    }\n\narea \"x\" {\n}\n";
    assert_eq!(reported(text), ["brace-unclosed@10..11"]);
    // The brace of the room: its level's brace stands further left.
    let text = "level \"g\" {\n    room \"h\" {\n    room \"k\" {\n    }\n}\narea \"x\"\n";
    assert_eq!(reported(text), ["brace-unclosed@25..26"]);
    assert_eq!(parsed(text).0.nodes[0].name.value, "area");
    // Unindented contents are no fault as long as the braces add up.
    assert_eq!(reported("level \"g\" {\nroom \"h\" {\n}\n}\n"), [""; 0]);
}

#[test]
fn a_stray_brace_is_found_by_the_layout() {
    let text = "level \"g\" {\n    room \"h\" {\n    }\n    }\n    room \"k\"\n}\narea \"x\"\n";
    assert_eq!(reported(text), ["brace-stray@37..38"]);
    let (document, _) = parsed(text);
    assert_eq!(document.nodes.iter().map(|n| n.name.value.as_str()).collect::<Vec<_>>(), ["level", "area"]);
    assert_eq!(document.broken[0].words, ["k", "room"]);
}

#[test]
fn a_comment_without_end_keeps_the_nodes_before() {
    let text = "a 1\nb 2 /* c\nd \"e f\"\n";
    let (document, found) = parsed(text);
    assert_eq!(found.len(), 1);
    assert_eq!(document.nodes.len(), 2);
    assert_eq!(document.broken[0].words, ["c", "d", "e", "f"]);
}

/// Brackets for braces are one slip, whatever they hold, and what they hold is read.
#[test]
fn brackets_where_braces_belong_are_told_once() {
    for text in [
        "a 1 (\n    b (ft)2 (\n        c\n    )\n)\nd\n",
        "a 1 [ // so\n    b (ft)2\n]\nd\n",
        "a 1 ( b 2; c 3; )\nd\n",
        "a 1 {\n    b\n)\nd\n",
        "a 1 (\n    b\n}\nd\n",
        "a 1 {\n    b x=\"y\" (\n        c\n    )\n}\nd\n",
    ] {
        let (document, found) = parsed(text);
        let [only] = found.as_slice() else { panic!("{text}: {found:#?}") };
        assert_eq!(only.title, "brackets stand where braces belong");
        assert_eq!(document.nodes.len(), 2, "{text}");
        let mut mended = text.to_owned();
        for edit in &only.fix.as_ref().unwrap().edits {
            mended.replace_range(edit.span.start..edit.span.end, &edit.text);
        }
        assert_eq!(reported(&mended), [""; 0], "{mended}");
    }
    // A unit, and brackets that do not pair, are other slips.
    for text in ["a ( ft )8\n", "a 1 (\nb\n", "a x=(ft\n)2\n", "a 1 {\n    b (ft\n}\n"] {
        let found = parsed(text).1;
        assert!(found.iter().all(|found| !found.title.contains("where braces")), "{text}: {found:#?}");
    }
}

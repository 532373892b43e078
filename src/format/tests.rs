//! Texts before and after, and the promises over texts that are made up.

use proptest::prelude::*;

use super::*;

fn laid_out(text: &str) -> String {
    let formatted = format(text).unwrap();
    assert_eq!(format(&formatted.text).unwrap().text, formatted.text, "{text}");
    formatted.text
}

#[test]
fn spaces_steps_and_blank_lines_are_set() {
    let before = "\n\n  zone   1 type = \"fire\"  {\n\n loop \"x\"{run \"a\" length = ( ft ) 38;  }\n\n\n\n   // last\n\n\t}  \n\n\nb{c;d\n}\n\n";
    let after =
        "zone 1 type=\"fire\" {\n    loop \"x\" { run \"a\" length=(ft)38; }\n\n    // last\n}\n\nb {\n    c; d\n}\n";
    assert_eq!(laid_out(before), after);
    for (before, after) in [
        ("", ""),
        ("\n \n", ""),
        ("a", "a\n"),
        ("a;b", "a; b\n"),
        ("a{}", "a {}\n"),
        ("a\r\nb\rc\u{2028}", "a\nb\nc\n"),
    ] {
        assert_eq!(laid_out(before), after);
    }
}

#[test]
fn braces_over_several_lines_open_and_close_lines() {
    let after = "zone 1 {\n    loop {\n        run \"a\"\n    }\n}\n";
    for before in [after, "zone 1 { loop {\n run \"a\"\n}}", "zone 1 {\nloop { run \"a\"\n } }"] {
        assert_eq!(laid_out(before), after);
    }
    assert_eq!(laid_out("a { // why\nb }"), "a { // why\n    b\n}\n");
    assert_eq!(laid_out("a { /* why */\nb\n}; c"), "a { /* why */\n    b\n}; c\n");
    assert_eq!(laid_out("a { /* why */ b\n}"), "a {\n    /* why */ b\n}\n");
}

/// How the lines stand tells where a brace was forgotten: they wait until it is there again.
#[test]
fn lines_stay_while_braces_do_not_add_up() {
    let early = "zone 1 {\n\n        }\n    loop   \"a\"\n}\n";
    for text in [early, "zone 1 {\n  loop   \"a\"\n", "a   1\n}\n  b   2\n"] {
        let formatted = format(text).unwrap();
        assert_eq!((formatted.text.as_str(), formatted.kept), (text, vec![1]));
    }
}

#[test]
fn comments_and_texts_stay() {
    for text in [
        "/- a { b }\nc",
        "a /-b /-c=1 /-{ d } { e }",
        "/-\n// between\na",
        "a /* one\n   two */ b // three",
        "a (ft /* x */) 1 b /* y */ = 2",
        "a \"\"\"\n    two\n      three\n    \"\"\" // end",
        "a #\"\\ raw \"# \"\\u{e9}\\\n   on\"",
    ] {
        laid_out(text);
    }
    assert_eq!(laid_out("a  \"\"\"\n  two  \n  \"\"\"  1"), "a \"\"\"\n  two  \n  \"\"\" 1\n");
    assert_eq!(laid_out("/-  a\n//  b \t\n"), "/-a\n//  b\n");
}

#[test]
fn a_line_that_goes_on_steps_in_and_a_blank_line_ends_it() {
    assert_eq!(laid_out("a\\\n b \\ // c\n {\nd\n}"), "a \\\n    b \\ // c\n    {\n    d\n}\n");
    assert_eq!(laid_out("a \\\n\nb"), "a \\\n\nb\n");
    assert_eq!(laid_out("x {\na \\\n\n}"), "x {\n    a \\\n\n}\n");
}

#[test]
fn comments_of_neighbours_stand_in_one_column() {
    assert_eq!(laid_out("a // one\nbcd // two\n\ne   // three"), "a   // one\nbcd // two\n\ne // three\n");
    let kept = "a      // one\nbcd    // two\n";
    assert_eq!(laid_out(kept), kept);
    assert_eq!(
        laid_out("a      // one\nbcd    // two\nefghi // three"),
        "a      // one\nbcd    // two\nefghi  // three\n"
    );
    let far = format!("a // one\n{} // two\n", "b".repeat(40));
    assert_eq!(laid_out(&far), far);
}

#[test]
fn tables_stay_tables_and_others_do_not_become_any() {
    for kept in [
        "price \"a\"   7.5\nprice \"bcd\" 62\n",
        "price \"a\"   7\nprice \"bc\" 62\n",
        "price \"a\" 7\nprice \"bcd\" 62\n",
        "loop 9  \"rest\"  ohms=(ohm)7\nloop 10 \"alarm\" ohms=(ohm)8\n",
    ] {
        assert_eq!(laid_out(kept), kept);
    }
    // One more row, and a slip of the space bar.
    assert_eq!(
        laid_out("p \"a\"   1\np \"bcd\" 2\np \"ef\"  3\np \"ghijk\" 4\n"),
        "p \"a\"     1\np \"bcd\"   2\np \"ef\"    3\np \"ghijk\" 4\n"
    );
    assert_eq!(
        laid_out("l 1 \"x\"\nl 2  \"x\"\nl 3 \"x\"\nl 10 \"x\"\n"),
        "l 1 \"x\"\nl 2 \"x\"\nl 3 \"x\"\nl 10 \"x\"\n"
    );
}

#[test]
fn what_is_not_understood_stays_with_its_lines() {
    let text = "a   1\n   b 38\"  c ;  d   2\n\n\n\ne   3\nf {\n  g=\n   // h\n}\ni   4\n";
    let formatted = format(text).unwrap();
    assert_eq!(formatted.text, "a 1\n   b 38\"  c ;  d   2\n\ne 3\nf {\n  g=\n   // h\n}\ni 4\n");
    assert_eq!(formatted.kept, [2, 7]);
    for text in ["a  1\n  b \"x", "a  1\n /* x", "}  \na  1", "a  \"\"\"\n x", "a  1\n\u{feff} b  2"] {
        laid_out(text);
    }
}

/// A line, or some of one, with white space as nobody would set it.
fn scrap() -> impl Strategy<Value = String> {
    let space = || prop::sample::select(vec![" ", "  ", "\t", "", " \\\n", "\\ // on\n\t"]);
    let word = || {
        prop::sample::select(vec![
            "a",
            "zone",
            "\"x y\"",
            "#true",
            "(ft)38",
            "k=1",
            "k = (m) 2",
            "/-b",
            "/* c */",
            "\"\"\"\n  t\n  \"\"\"",
            "#\"r\"#",
            "é",
            "/-k=3",
        ])
    };
    let end = || {
        prop::sample::select(vec![
            "\n", "\r\n", "\n\n\n", ";", " // c \n", " {", "{\n\n", "}", "\n}\n", "\n// d\n", "/-", "{ a; }", "\n\t",
        ])
    };
    (word(), space(), word(), space(), word(), space(), end())
        .prop_map(|(a, b, c, d, e, f, g)| format!("{a}{b} {c} {d}{e}{f}{g}"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    /// That only white space changes is held against the text at each run of the program; here each run must also succeed.
    #[test]
    fn whatever_stands_there_is_laid_out_and_at_rest(scraps in prop::collection::vec(scrap(), 0..9)) {
        let text = scraps.concat();
        let formatted = format(&text);
        prop_assert!(formatted.is_ok(), "{:?}", formatted);
        let formatted = formatted.unwrap();
        prop_assert_eq!(&format(&formatted.text).unwrap().text, &formatted.text);
        prop_assert!(!formatted.kept.is_empty() || !formatted.text.contains("\n\n\n"));
    }
}

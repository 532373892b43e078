//! `event`: lines of ANSI/SIA DC-05, told and written.

use super::{complaint, loopwright, text};
use crate::golden::root;

fn told(arguments: &[&str]) -> String {
    let run = loopwright(root(), &[&["event"], arguments].concat());
    assert_eq!(run.status.code(), Some(0), "{arguments:?}: {}", text(&run.stderr));
    text(&run.stdout)
}

#[test]
fn a_line_is_told_in_words_without_its_account() {
    let out = told(&["1234", "18", "1131", "01", "015", "8"]);
    assert_eq!(
        out,
        "1131 01 015  perimeter, new\n  code     131\n  area     1\n  number   zone 15\n  \
         handled  as intrusion: call the premises, then a second number; without the passphrase send the police and call \
         the keyholders\n  checked  the check digit is right\n"
    );
    assert!(!out.contains("1234"), "{out}");
    // The line of the help.
    assert!(told(&["0000", "18", "1131", "01", "015", "8"]).contains("the check digit is right"));
    assert!(told(&["3401 00 003"]).starts_with("3401 00 003  opening or closing by user, closing: armed\n"));
    assert!(told(&["1302 00 004"]).contains("number   number 4 of the board's own count\n"));
    assert!(told(&["1999 00 000"]).contains("note     code 999 is not in our list of DC-05"));
}

/// What is over sends nobody, and of what is in no list nobody is told to do nothing.
#[test]
fn a_restoral_and_an_unknown_code_are_not_told_as_an_alarm_or_as_nothing() {
    let over = told(&["3110 01 005"]);
    assert!(over.contains("handled  as fire: it is over: this sends nobody by itself"), "{over}");
    assert!(told(&["1110 01 005"]).contains("send the fire service first"));
    assert!(told(&["3401 00 003"]).contains("as arming: record it and call nobody; a cancel ends the response to a burglary alarm only, never to fire, gas, panic, duress or medical"));
    for line in ["1199 00 000", "1999 00 000", "1000 00 000"] {
        let out = told(&[line]);
        assert!(out.contains("handled  as unknown: not in our list: ask the service"), "{out}");
        assert!(!out.contains("send nobody"), "{out}");
    }
    assert!(told(&["1000 00 000"]).contains("code     000\n"));
}

#[test]
fn a_site_names_zone_area_and_what_does_not_fit() {
    let out = told(&["1131 01 030", "--site", "specs/alder-mill"]);
    for words in [
        "area     1, House\n",
        "number   zone 30, Workshop windows\n",
        "handled  as intrusion: call the house first, then the keyholder, then the police\n",
        "note     the spec has zone 30 in area 2, Workshop\n",
    ] {
        assert!(out.contains(words), "{words}\n{out}");
    }
    let other = told(&["1134 02 030", "--site", "specs/alder-mill"]);
    assert!(other.contains("by the spec, zone 30 reports 131 (perimeter)"), "{other}");
    assert!(told(&["1131 03 200", "--site", "specs/alder-mill"]).contains("the spec has no zone 200"));
}

#[test]
fn a_line_is_written_with_a_blank_account_and_read_again() {
    let out = told(&["--code", "131", "--area", "1", "--zone", "15", "--restored", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    let line = json["written"].as_str().unwrap();
    assert!(line.starts_with("0000 18 3131 01 015 "), "{line}");
    let again = told(&[line, "--format", "json"]);
    let again: serde_json::Value = serde_json::from_str(&again).unwrap();
    assert_eq!((&again["line"], &again["what"]), (&"3131 01 015".into(), &"restored".into()));
    assert_eq!(again["checked"], "the check digit is right");
}

#[test]
fn what_is_no_line_is_refused_with_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    for (arguments, words) in [
        (&["1131 01"][..], "a line has 16 digits, or 9 in the short form, and this has 6"),
        (&["1234 18 1131 01 015 9"], "the check digit is 9, and the digits before it ask for 8"),
        (&["2131 01 015"], "the qualifier is 2"),
        (&["--code", "131", "--zone", "1000"], "1000"),
        (&["--code", "99"], "99"),
        (&["--zone", "7"], "--code"),
        (&["--restored", "1131 01 015"], "--restored"),
        (&["--zone", "9", "1131 01 015"], "--zone"),
        (&["--area", "9", "1131 01 015"], "--area"),
        (&[], "LINE"),
    ] {
        let said = complaint(folder.path(), &[&["event"], arguments].concat());
        assert!(said.contains(words), "{arguments:?}: {said}");
        assert!(!said.contains("1234"), "{said}");
    }
}

//! Tests of the renderers together.

use super::*;
use crate::base::{SourceFile, Span};
use crate::diag::{Basis, Certainty, Rule};

static TWICE: Rule =
    Rule { slug: "input-twice", basis: Basis::Contradiction, summary: "an input is used twice", page: "" };
static PRACTICE: Rule = Rule { slug: "spare-pair", basis: Basis::Practice, summary: "no spare pair", page: "" };

/// The span of the `nth` occurrence of `word` in a file.
fn at(sources: &Sources, file: crate::base::FileId, word: &str, nth: usize) -> Span {
    let text = &sources.get(file).unwrap().text;
    let (start, _) = text.match_indices(word).nth(nth).unwrap();
    Span::new(file, start, start + word.len())
}

/// In how many characters from the left `part` first stands.
fn column(drawn: &str, part: &str) -> usize {
    let line = drawn.lines().find(|line| line.contains(part)).unwrap();
    line[..line.find(part).unwrap()].chars().count()
}

fn one(text: &str) -> (Sources, crate::base::FileId) {
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("site.kdl", text));
    (sources, file)
}

#[test]
fn two_files_are_drawn_one_snippet_each() {
    let mut sources = Sources::default();
    let main = sources.add(SourceFile::new("mill/site.kdl", "site \"mill\"\nzone 1 input=3\nzone 2\n"));
    let other = sources.add(SourceFile::new("mill/attic.kdl", "// attic\nzone 9 input=3\n"));
    let found = Diagnostic::new(&TWICE, at(&sources, main, "input=3", 0), "input 3 of main is used twice")
        .here("first here")
        .also(at(&sources, other, "input=3", 0), "and here")
        .why("Two loops on one input cannot be told apart, so neither can be repaired without the other.")
        .figure("input 3: zone 1, zone 9")
        .help("give zone 9 an input of its own");
    let drawn = draw(Look { width: Some(60), ..Look::PLAIN }, &sources, &found);
    assert_eq!(
        drawn,
        "\
error: input 3 of main is used twice [input-twice]
   ╭─[mill/site.kdl:2:8]
 1 │ site \"mill\"
 2 │ zone 1 input=3
   ·        ───┬───
   ·           ╰── first here
 3 │ zone 2
   ╰────
   ╭─[mill/attic.kdl:2:8]
 1 │ // attic
 2 │ zone 9 input=3
   ·        ───┬───
   ·           ╰── and here
   ╰────
  Two loops on one input cannot be told apart, so neither
  can be repaired without the other.
    input 3: zone 1, zone 9
  help: give zone 9 an input of its own
  more: loopwright explain input-twice
"
    );
}

#[test]
fn ascii_look_draws_with_ascii_only() {
    let (sources, file) = one("zone 1\n");
    let found = Diagnostic::new(&TWICE, at(&sources, file, "1", 0), "twice").here("here").help("move it");
    assert!(draw(Look { unicode: false, ..Look::PLAIN }, &sources, &found).is_ascii());
}

#[test]
fn colour_only_where_asked_for() {
    let (sources, file) = one("zone 1\n");
    let mut found = Diagnostic::new(&PRACTICE, at(&sources, file, "1", 0), "no spare").help("add one");
    found.accepted = Some("short run".into());
    let coloured = draw(Look { colour: true, ..Look::PLAIN }, &sources, &found);
    assert!(coloured.contains("\u{1b}["));
    let plain = draw(Look::PLAIN, &sources, &found);
    assert!(!plain.contains('\u{1b}'));
    assert!(
        plain.ends_with("  help: add one\n  accepted: short run\n  more: loopwright explain spare-pair\n"),
        "{plain}"
    );
}

#[test]
fn control_characters_reach_no_terminal_and_spans_hold() {
    let text = "room \"\u{1b}[31mred\u{202e}\u{9b}\" title=\"x\"\n";
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("a\u{1b}]0;b\u{7}.kdl", text));
    let found = Diagnostic::new(&TWICE, at(&sources, file, "title", 0), "bad \u{1b}[2J name\u{200f}")
        .here("la\u{1b}bel")
        .why("why\u{9b}")
        .figure("fig\u{1b}")
        .help("help\u{2066}");
    for format in [Format::Human(Look::PLAIN), Format::Short] {
        let text = render(format, &sources, std::slice::from_ref(&found), LIMIT);
        let bad = text.chars().find(|c| *c != '\n' && crate::diag::neutral::stand_in(*c).is_some());
        assert_eq!(bad, None, "{text}");
        assert!(text.contains("a␛]0;b␇.kdl:1:19"), "{text}");
    }
    // The underline stands below the word: same column, counted in characters, each one column wide.
    let drawn = draw(Look::PLAIN, &sources, &found);
    assert_eq!(column(&drawn, "──┬──"), column(&drawn, "title="), "{drawn}");
}

#[test]
fn crlf_tabs_and_wide_letters_keep_the_underline_in_place() {
    let (sources, file) = one("first\r\n\troom \"扉\" bad\r\nlast\r\n");
    let found = Diagnostic::new(&TWICE, at(&sources, file, "bad", 0), "t").here("this");
    let drawn = draw(Look::PLAIN, &sources, &found);
    assert!(!drawn.contains('\r') && !drawn.contains('␍'), "{drawn}");
    assert!(drawn.contains("site.kdl:2:11"), "{drawn}");
    // tab to column 4, `room "` 6, one letter of two columns, `" ` 2: the word starts at 14.
    let underline = drawn.lines().find(|l| l.contains('┬')).unwrap();
    assert_eq!(underline.strip_prefix("   · ").unwrap(), format!("{}─┬─", " ".repeat(14)));
}

#[test]
fn a_long_line_is_cut_around_the_label() {
    let text = format!("{}bad{}\n", "é".repeat(5000), "ü".repeat(5000));
    let (sources, file) = one(&text);
    let found = Diagnostic::new(&TWICE, at(&sources, file, "bad", 0), "t").here("this");
    let drawn = draw(Look::PLAIN, &sources, &found);
    assert!(drawn.len() < 1500, "{drawn}");
    assert!(drawn.contains("site.kdl:1:5001"), "{drawn}");
    assert!(drawn.contains("ébadü") && drawn.contains("…é") && drawn.contains("ü…"), "{drawn}");
    assert_eq!(column(&drawn, "─┬─"), column(&drawn, "bad"), "{drawn}");
}

#[test]
fn two_labels_far_apart_on_one_long_line_are_both_named() {
    let text = format!("{}one{}two\n", "x".repeat(4000), "y".repeat(4000));
    let (sources, file) = one(&text);
    let found = Diagnostic::new(&TWICE, at(&sources, file, "two", 0), "t")
        .here("near")
        .also(at(&sources, file, "one", 0), "far away");
    let drawn = draw(Look::PLAIN, &sources, &found);
    assert!(drawn.contains("near") && drawn.contains("far away") && drawn.len() < 1500, "{drawn}");
}

#[test]
fn an_empty_label_at_the_end_of_the_file_is_drawn() {
    for text in ["zone 1 {", "zone 1 {\n", "", "\n", "zone 1 {\r\n"] {
        let (sources, file) = one(text);
        let found = Diagnostic::new(&TWICE, Span::new(file, text.len(), text.len()), "t").here("missing here");
        let drawn = draw(Look::PLAIN, &sources, &found);
        assert!(drawn.contains("missing here"), "{text:?}\n{drawn}");
        assert!(drawn.contains('▲'), "{text:?}\n{drawn}");
    }
}

#[test]
fn a_label_over_many_lines_shows_its_first() {
    let text = "zone 1 {\n".to_owned() + &"  a\n".repeat(500) + "}\n";
    let (sources, file) = one(&text);
    let found = Diagnostic::new(&TWICE, Span::new(file, 0, text.len()), "t").here("never closed");
    let drawn = draw(Look::PLAIN, &sources, &found);
    assert!(drawn.contains("never closed") && drawn.lines().count() < 10, "{drawn}");
}

#[test]
fn a_label_over_a_few_lines_shows_them() {
    let (sources, file) = one("a {\n  b\n}\nc\n");
    let found = Diagnostic::new(&TWICE, Span::new(file, 0, 10), "t").here("this block");
    let drawn = draw(Look::PLAIN, &sources, &found);
    assert!(drawn.contains("│ ╭─▶ a {") && drawn.contains("this block"), "{drawn}");
}

#[test]
fn spans_that_are_not_of_the_text_do_no_harm() {
    let (sources, file) = one("é\n");
    for span in [Span::new(file, 1, 1), Span::new(file, 90, 99), Span::new(crate::base::FileId(7), 0, 1)] {
        let found = Diagnostic::new(&TWICE, span, "title stays");
        for format in [Format::Human(Look::PLAIN), Format::Short, Format::Json] {
            assert!(render(format, &sources, std::slice::from_ref(&found), LIMIT).contains("title stays"));
        }
    }
}

#[test]
fn many_labels_are_counted_rather_than_drawn() {
    let (sources, file) = one(&"zone\n".repeat(100));
    let mut found = Diagnostic::new(&TWICE, Span::new(file, 0, 4), "t");
    for line in 1..100 {
        found = found.also(Span::new(file, line * 5, line * 5 + 4), "here too");
    }
    let drawn = draw(Look::PLAIN, &sources, &found);
    assert_eq!(drawn.matches("here too").count(), 15);
    assert!(drawn.contains("  and 84 more places\n"), "{drawn}");
}

#[test]
fn short_lines_carry_place_severity_rule_and_help() {
    let (sources, file) = one("x\nzone 1\n");
    let mut found = Diagnostic::new(&PRACTICE, at(&sources, file, "1", 0), "no spare\npair").help("add one");
    found.accepted = Some("short run".into());
    assert_eq!(
        render(Format::Short, &sources, &[found], LIMIT),
        "site.kdl:2:6: note: no spare pair [spare-pair] — add one (accepted: short run)\n1 note (1 accepted)\n"
    );
}

#[test]
fn json_carries_every_slot() {
    let (sources, file) = one("é zone\n");
    let found = Diagnostic::new(&TWICE, at(&sources, file, "zone", 0), "t")
        .here("this\u{1b}")
        .why("because")
        .figure("1 and 1")
        .help("move")
        .edit(Certainty::Likely, at(&sources, file, "zone", 0), "zoné");
    let text = render(Format::Json, &sources, &[found], LIMIT);
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    let expected = serde_json::json!({
        "version": 1,
        "diagnostics": [{
            "rule": "input-twice",
            "severity": "error",
            "basis": "contradiction in the spec",
            "title": "t",
            "labels": [{
                "path": "site.kdl",
                "start": { "line": 1, "column": 3, "byte": 3 },
                "end": { "line": 1, "column": 7, "byte": 7 },
                "text": "this\u{1b}",
            }],
            "paragraph": "because",
            "figures": ["1 and 1"],
            "help": "move",
            "fix": {
                "certain": false,
                "edits": [{
                    "path": "site.kdl",
                    "start": { "line": 1, "column": 3, "byte": 3 },
                    "end": { "line": 1, "column": 7, "byte": 7 },
                    "text": "zoné",
                }],
            },
            "accepted": null,
        }],
        "counts": { "errors": 1, "warnings": 0, "notes": 0, "accepted": 0 },
    });
    assert_eq!(value, expected);
}

#[test]
fn past_the_limit_errors_are_kept_and_the_rest_counted() {
    let (sources, file) = one("zone\n");
    let span = at(&sources, file, "zone", 0);
    let mut found: Vec<Diagnostic> = (0..150).map(|i| Diagnostic::new(&PRACTICE, span, format!("note {i}"))).collect();
    found.push(Diagnostic::new(&TWICE, span, "the error"));
    let text = render(Format::Short, &sources, &found, LIMIT);
    assert_eq!(text.matches("[spare-pair]").count(), 99);
    assert!(text.contains("the error"));
    assert!(text.ends_with("51 more are not shown\n1 error, 150 notes\n"), "{text}");
}

#[test]
fn nothing_found_is_said() {
    assert_eq!(render(Format::Short, &Sources::default(), &[], LIMIT), "no findings\n");
}

/// Would take minutes if a label cost a scan of the file.
#[test]
fn a_thousand_diagnostics_on_a_megabyte() {
    for text in ["zone 1 title=\"hall\"\n".repeat(52_000), "zone 1 title=\"hall\"; ".repeat(50_000)] {
        let (sources, file) = one(&text);
        let step = text.len() / 1000;
        let found: Vec<Diagnostic> = (0..1000)
            .map(|i| Diagnostic::new(&TWICE, Span::new(file, i * step, i * step + 4), "t").here("here"))
            .collect();
        for format in [Format::Human(Look::PLAIN), Format::Short, Format::Json] {
            assert!(render(format, &sources, &found, usize::MAX).contains("input-twice"));
        }
    }
}

proptest::proptest! {
    /// Whatever the text and wherever the labels: no panic, every label named, nothing that acts on the terminal.
    #[test]
    fn any_text_with_any_labels_is_drawn(
        text in "([a-z{} ]{0,9}|[\\n\\r\\t]|[é扉🚪]|[\u{1b}\u{202e}\u{9b}]|x{400}){0,40}",
        spans in proptest::collection::vec((0_usize..900, 0_usize..60), 1..5),
    ) {
        let (sources, file) = one(&text);
        let mut found = Diagnostic::new(&TWICE, Span::new(file, spans[0].0, spans[0].0 + spans[0].1), "t").here("L0");
        for (rank, (start, length)) in spans.iter().enumerate().skip(1) {
            found = found.also(Span::new(file, *start, start + length), format!("L{rank}"));
        }
        let drawn = draw(Look::PLAIN, &sources, &found);
        for rank in 0..spans.len() {
            proptest::prop_assert!(drawn.contains(&format!(" L{rank}")), "L{}\n{}", rank, drawn);
        }
        let bad = drawn.chars().find(|c| *c != '\n' && crate::diag::neutral::stand_in(*c).is_some());
        proptest::prop_assert_eq!(bad, None);
    }
}

#[test]
fn a_terminal_gets_no_line_wider_than_itself() {
    let text = format!(
        "monitoring width=24 {}\nzone 7 \"{}\" note=\"扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉扉\" bad=1\n\tzone 8 {{\n\t\tinput {}\n\t}}\n",
        "// a comment goes on and on ".repeat(6),
        "a description that goes on and on ".repeat(5),
        "note=\"long\" ".repeat(30)
    );
    let (sources, file) = one(&text);
    let block = Span::new(file, text.find("zone 8").unwrap(), text.len() - 1);
    for width in [60, 80, 120] {
        for label in
            ["this", "this is here where it should not be, and it says so in many words that need several lines"]
        {
            for place in [at(&sources, file, "24", 0), at(&sources, file, "bad", 0), block] {
                let found = Diagnostic::new(&TWICE, place, "t").here(label);
                let drawn = draw(Look { width: Some(width), ..Look::PLAIN }, &sources, &found);
                for line in drawn.lines() {
                    let columns = unicode_width::UnicodeWidthStr::width(line);
                    assert!(columns <= width, "{columns} of {width}:\n{drawn}");
                }
                let words: Vec<&str> = drawn.split(|c: char| !c.is_alphabetic()).collect();
                assert!(label.split([' ', ',']).filter(|w| !w.is_empty()).all(|word| words.contains(&word)), "{drawn}");
            }
        }
    }
}

#[test]
fn a_fix_is_shown_as_the_lines_before_and_after() {
    let (sources, file) = one("  zone 1 length=46ft é \u{1b}\n");
    let found = Diagnostic::new(&TWICE, at(&sources, file, "46ft", 0), "46ft is no number").help("write (ft)46").edit(
        Certainty::Certain,
        at(&sources, file, "46ft", 0),
        "(ft)46",
    );
    let drawn = draw(Look::PLAIN, &sources, &found);
    let shown = "  help: write (ft)46\n       1 - zone 1 length=46ft é ␛\n         + zone 1 length=(ft)46 é ␛\n";
    assert!(drawn.contains(shown), "{drawn}");
    // Of a long line, what stands around the change.
    let (sources, file) = one(&format!("{} 46ft {}\n", "a ".repeat(90), "z ".repeat(90)));
    let span = at(&sources, file, "46ft", 0);
    let found = Diagnostic::new(&TWICE, span, "t").help("h").edit(Certainty::Certain, span, "(ft)46");
    let drawn = draw(Look { width: Some(60), ..Look::PLAIN }, &sources, &found);
    let changed = |line: &&str| line.contains(" - …") || line.contains(" + …");
    let lines: Vec<&str> = drawn.lines().filter(changed).collect();
    assert!(matches!(lines[..], [old, new] if old.contains("46ft z") && new.contains("(ft)46 z")), "{drawn}");
    assert!(lines.iter().all(|line| line.chars().count() <= 60), "{drawn}");
}

//! Files made to break a parser: each is read in a test's small stack, quickly, with few diagnostics.

use super::*;

fn few(text: &str) -> Vec<Diagnostic> {
    let found = parsed(text).1;
    assert!(found.len() <= 50, "{} diagnostics", found.len());
    include_targets(text);
    found
}

fn only(text: &str, slug: &str) {
    let found = few(text);
    assert_eq!(found.iter().map(|d| d.rule.slug).collect::<Vec<_>>(), [slug]);
}

#[test]
fn a_huge_file_is_refused() {
    assert!(matches!(decode(vec![b'a'; 5_000_000]), Err(DecodeFault::TooLarge { .. })));
}

#[test]
fn braces_without_end() {
    only(&"{".repeat(100_000), "nesting-too-deep");
    only(&"a {".repeat(100_000), "nesting-too-deep");
    only(&format!("{}{}", "a {\n".repeat(40_000), "}".repeat(40_000)), "nesting-too-deep");
    only(&"}".repeat(30_000), "brace-stray");
    only(&"} ;\n".repeat(30_000), "brace-stray");
    few(&"a {\n".repeat(100_000));
    few(&"a } { ".repeat(20_000));
    few(&"a }\n".repeat(20_000));
}

#[test]
fn bad_lines_by_the_thousand() {
    for line in [
        "a = = 5\n",
        "a key=\n",
        "a 12V\n",
        "a \"b\n",
        "\\\"\"\"x\n",
        "a #\"b\n",
        "a (\n",
        "[\n",
        "; ",
        "/-",
        "a \\ b\n",
    ] {
        let found = few(&line.repeat(30_000));
        assert!(!found.is_empty(), "{line:?}");
    }
    let found = few(&format!("a {{\n{}}}", "b 12V\n".repeat(30_000)));
    assert_eq!(found.last().unwrap().figures, ["and 29950 more in this file"]);
}

#[test]
fn comments_and_strings_without_end() {
    only(&"/*".repeat(100_000), "comment-unclosed");
    assert_eq!(few(&format!("{}{}", "/*".repeat(100_000), "*/".repeat(100_000))), []);
    assert_eq!(few(&format!("a /*{}*/ 1", "* / -".repeat(100_000))), []);
    only("a \"b", "string-unclosed");
    only("a \"\"\"\nb\n", "string-unclosed");
    only("a #\"\"\"\nb\n\"\"\"", "string-unclosed");
    only(&format!("a \"{}", "\\".repeat(100_001)), "string-unclosed");
}

#[test]
fn ends_in_the_middle() {
    assert_eq!(few("a 1 \\"), []);
    assert_eq!(few("\\"), []);
    only("a 1 /-", "text-not-understood");
    only("/-", "text-not-understood");
    only("a { b } /-", "text-not-understood");
    only("a (", "text-not-understood");
    only("a k=", "value-missing");
    only("a #", "comment-mark");
}

#[test]
fn a_megabyte_of_sound_text() {
    let line = "zone 1 \"Front door\" type=\"entry-exit\" length=(ft)38 { loop \"a\" }\n";
    let (document, found) = parsed(&line.repeat(LARGEST / line.len()));
    assert!(found.is_empty());
    assert_eq!(document.nodes.len(), LARGEST / line.len());
}

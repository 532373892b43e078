//! Strings: where each kind ends, and what may be wrong inside one.
//!
//! A string without end is cut off where the damage is least: before the braces that close its line, so that one
//! forgotten quotation mark is one mistake.

use std::cmp::Ordering;

use super::characters::{is_newline, is_space};
use super::token::{Flaw, Kind};

/// How far a plain string is followed over line ends to find the quotation mark that was meant to close it.
const RUNS_OVER_AT_MOST: usize = 400;

/// How long a string is, and whether it has an end.
pub(crate) struct Extent {
    length: usize,
    flaw: Option<Flaw>,
}

impl Extent {
    /// As a token of a kind.
    pub(crate) fn named(self, kind: Kind) -> (Kind, usize, Option<Flaw>) {
        (kind, self.length, self.flaw)
    }

    fn whole(length: usize) -> Self {
        Self { length, flaw: None }
    }

    fn unclosed(length: usize) -> Self {
        Self { length, flaw: Some(Flaw::Unclosed) }
    }
}

/// The extent of the `"…"` or `"""…"""` that the text starts with.
pub(crate) fn quoted(rest: &str) -> Extent {
    if let Some(body) = rest.strip_prefix("\"\"\"") {
        let opens_well = body.starts_with(is_newline);
        return match closing_triple(if opens_well { body } else { beginning(body) }) {
            Some(end) => Extent::whole(3 + end),
            None if opens_well => Extent::unclosed(rest.len()),
            None => Extent::unclosed(end_of_damage(rest)),
        };
    }
    let mut characters = rest.char_indices().skip(1).peekable();
    while let Some((at, c)) = characters.next() {
        match c {
            '"' => return Extent::whole(at + 1),
            '\\' => {
                let escaped = characters.next();
                if escaped.is_some_and(|(_, e)| is_space(e) || is_newline(e)) {
                    while characters.next_if(|(_, e)| is_space(*e) || is_newline(*e)).is_some() {}
                }
            }
            c if is_newline(c) => {
                return match closing_on_a_later_line(rest, at) {
                    Some(end) => Extent { length: end, flaw: Some(Flaw::RunsOver) },
                    None => Extent::unclosed(end_of_damage(rest)),
                };
            }
            _ => {}
        }
    }
    Extent::unclosed(end_of_damage(rest))
}

/// The extent of the `#"…"#`, `#"""…"""#` or KDL 1's `r"…"` that the text starts with.
pub(crate) fn raw(rest: &str) -> Extent {
    let hashes = rest.trim_start_matches('r').chars().take_while(|c| *c == '#').count();
    let opening = rest.find('"').unwrap_or(0);
    let body_start = opening + if is_multi_line(rest) { 3 } else { 1 };
    let body = rest.get(body_start..).unwrap_or("");
    let close = format!("{}{}", if is_multi_line(rest) { "\"\"\"" } else { "\"" }, "#".repeat(hashes));
    let reach = if is_multi_line(rest) { body.len() } else { body.find(is_newline).unwrap_or(body.len()) };
    match body.get(..reach).and_then(|b| b.find(&close)) {
        Some(end) => Extent::whole(body_start + end + close.len()),
        None if is_multi_line(rest) => Extent::unclosed(rest.len()),
        None => Extent::unclosed(end_of_damage(rest)),
    }
}

/// True where KDL 1's raw string `r"…"` or `r#"…"#` starts.
pub(crate) fn is_old_raw(rest: &str) -> bool {
    rest.strip_prefix('r').is_some_and(|r| r.trim_start_matches('#').starts_with('"'))
}

/// The words of a string token, its marks taken off; escapes are left as written.
pub(crate) fn inside(token: &str) -> &str {
    let hashes = token.chars().take_while(|c| *c == '#').count();
    let close = "#".repeat(hashes);
    let body = token.trim_start_matches('r').trim_start_matches('#');
    let body = body.strip_suffix(&close).unwrap_or(body);
    for marks in ["\"\"\"", "\""] {
        if let Some(body) = body.strip_prefix(marks) {
            return body.strip_suffix(marks).unwrap_or(body);
        }
    }
    body
}

/// True where the string that the text starts with opens with `"""` and a newline.
pub(crate) fn is_multi_line(rest: &str) -> bool {
    rest.trim_start_matches('r')
        .trim_start_matches('#')
        .strip_prefix("\"\"\"")
        .is_some_and(|r| r.starts_with(is_newline))
}

fn closing_triple(body: &str) -> Option<usize> {
    let mut from = 0;
    while let Some(found) = body.get(from..)?.find("\"\"\"") {
        let at = from + found;
        let escapes = body.get(..at)?.bytes().rev().take_while(|b| *b == b'\\').count();
        if escapes % 2 == 0 {
            return Some(at + 3);
        }
        from = at + 1;
    }
    None
}

fn closing_on_a_later_line(rest: &str, line_end: usize) -> Option<usize> {
    let quote = line_end + beginning(rest.get(line_end..)?).find('"')?;
    let before = rest.get(..quote)?.chars().next_back()?;
    let after = rest.get(quote + 1..)?.chars().next();
    let opens =
        is_space(before) || is_newline(before) || matches!(before, '=' | '(' | ')' | '#' | '{' | ';' | '\\' | 'r');
    let ends = after.is_none_or(|c| is_space(c) || is_newline(c) || matches!(c, ';' | '{' | '}'));
    (!opens && ends).then_some(quote + 1)
}

/// As much of a text as is searched for a mark that may have been forgotten.
fn beginning(text: &str) -> &str {
    text.get(..text.floor_char_boundary(RUNS_OVER_AT_MOST)).unwrap_or(text)
}

/// The end of the line, or the place before the brace or comment that it closes with.
fn end_of_damage(rest: &str) -> usize {
    let line = rest.get(..rest.find(is_newline).unwrap_or(rest.len())).unwrap_or("");
    let line = line.split(" //").next().unwrap_or(line).trim_end();
    let (opened, closed) = (line.matches('{').count(), line.matches('}').count());
    let brace = match opened.cmp(&closed) {
        Ordering::Greater => '{',
        Ordering::Less => '}',
        Ordering::Equal => return line.len(),
    };
    line.strip_suffix(brace).map_or(line.len(), |l| l.trim_end().len())
}

/// Something wrong inside a string that has an end: where in the token, and what.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// `\` before a character that it does not escape.
    Escape {
        /// Bytes of the escape in the token.
        start: usize,
        /// One past them.
        end: usize,
    },
    /// Text right after the opening `"""`.
    TextAfterOpening,
    /// Text before the closing `"""` on its line.
    TextBeforeClosing,
    /// A line that does not start with the white space of the closing line; where it starts.
    Indentation(usize),
}

/// What is wrong inside a whole string token, first mistake first.
pub(crate) fn faults(token: &str) -> Vec<Fault> {
    let raw = token.starts_with('#');
    let mut found = if raw { Vec::new() } else { escapes(token) };
    let opening = token.find('"').unwrap_or(0);
    let marks = token.get(opening..).unwrap_or("");
    if marks.starts_with("\"\"\"") {
        found.extend(layout(token, raw));
    }
    found
}

fn escapes(token: &str) -> Vec<Fault> {
    let mut found = Vec::new();
    let mut characters = token.char_indices();
    while let Some((start, c)) = characters.next() {
        if c != '\\' {
            continue;
        }
        let after = characters.as_str();
        let Some((_, escaped)) = characters.next() else { break };
        let length = match escaped {
            '\\' | '"' | 'b' | 'f' | 'n' | 'r' | 't' | 's' => continue,
            c if is_space(c) || is_newline(c) => continue,
            'u' if is_code_point(after) => continue,
            c => c.len_utf8(),
        };
        found.push(Fault::Escape { start, end: start + 1 + length });
    }
    found
}

/// `u{10ffff}` with the `\` taken off.
fn is_code_point(after: &str) -> bool {
    after
        .strip_prefix("u{")
        .and_then(|r| r.split_once('}'))
        .filter(|(digits, _)| (1..=6).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_hexdigit()))
        .and_then(|(digits, _)| u32::from_str_radix(digits, 16).ok())
        .is_some_and(|code| char::from_u32(code).is_some())
}

fn layout(token: &str, raw: bool) -> Option<Fault> {
    let body = inside(token);
    let offset = token.find("\"\"\"").unwrap_or(0) + 3;
    if !body.starts_with(is_newline) || !token.trim_end_matches('#').ends_with("\"\"\"") {
        return Some(Fault::TextAfterOpening);
    }
    let lines = logical_lines(body, raw);
    let (closing, lines) = lines.split_last()?;
    let prefix: &str = body.get(closing.0..closing.1)?;
    // White space may be escaped before the closing marks; it is not part of the indentation then.
    let indentation = prefix.split('\\').next().unwrap_or("");
    if !is_only_blank(prefix, raw) {
        return Some(Fault::TextBeforeClosing);
    }
    lines.iter().skip(1).find_map(|(start, end)| {
        let line = body.get(*start..*end)?;
        let blank = line.chars().all(is_space);
        (!blank && !line.starts_with(indentation)).then_some(Fault::Indentation(offset + start))
    })
}

/// White space, plain or behind a `\`.
fn is_only_blank(text: &str, raw: bool) -> bool {
    let blank = |c: char| is_space(c) || is_newline(c);
    let mut characters = text.chars().peekable();
    while let Some(c) = characters.next() {
        let escapes = c == '\\' && !raw && characters.peek().copied().is_some_and(blank);
        if !blank(c) && !escapes {
            return false;
        }
    }
    true
}

/// The lines of a text as (start, end); a newline behind `\` and white space ends none.
fn logical_lines(body: &str, raw: bool) -> Vec<(usize, usize)> {
    let mut lines = Vec::new();
    let mut start = 0;
    let mut characters = body.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        if c == '\\' && !raw {
            if characters.next_if(|(_, e)| !is_space(*e) && !is_newline(*e)).is_none() {
                while characters.next_if(|(_, e)| is_space(*e) || is_newline(*e)).is_some() {}
            }
        } else if is_newline(c) {
            lines.push((start, at));
            let feed = c == '\r' && characters.next_if(|(_, e)| *e == '\n').is_some();
            start = at + c.len_utf8() + usize::from(feed);
        }
    }
    lines.push((start, body.len()));
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(text: &str) -> (usize, Option<Flaw>) {
        let extent = quoted(text);
        (extent.length, extent.flaw)
    }

    #[test]
    fn an_unclosed_string_leaves_the_brace_of_its_line() {
        assert_eq!(length("\"hall {\n}"), (5, Some(Flaw::Unclosed)));
        assert_eq!(length("\"hall }\n"), (5, Some(Flaw::Unclosed)));
        assert_eq!(length("\"hall { rect }\n"), (14, Some(Flaw::Unclosed)));
    }

    #[test]
    fn a_string_over_two_lines_is_one_mistake() {
        assert_eq!(length("\"first\nsecond\"\nb \"c\""), (14, Some(Flaw::RunsOver)));
        assert_eq!(length("\"first\n  b \"c\""), (6, Some(Flaw::Unclosed)));
    }

    #[test]
    fn escaped_white_space_continues_a_string() {
        assert_eq!(length("\"a \\\n  b\" c"), (9, None));
    }

    #[test]
    fn faults_inside() {
        assert_eq!(faults("\"a\\nb\\u{41}\""), []);
        assert_eq!(faults("\"C:\\dir\""), [Fault::Escape { start: 3, end: 5 }]);
        assert_eq!(faults("\"\\u{d800}\""), [Fault::Escape { start: 1, end: 3 }]);
        assert_eq!(faults("\"\"\"\n  a\n\n  b\n  \"\"\""), []);
        assert_eq!(faults("\"\"\"\n  a\n b\n  \"\"\""), [Fault::Indentation(8)]);
        assert_eq!(faults("\"\"\"a\n  \"\"\""), [Fault::TextAfterOpening]);
        assert_eq!(faults("\"\"\"\na\"\"\""), [Fault::TextBeforeClosing]);
        assert_eq!(faults("#\"a\\d\"#"), []);
    }

    #[test]
    fn marks_come_off() {
        assert_eq!(inside("\"a\""), "a");
        assert_eq!(inside("##\"a\"##"), "a");
        assert_eq!(inside("r\"a\""), "a");
        assert_eq!(inside("\"a"), "a");
    }
}

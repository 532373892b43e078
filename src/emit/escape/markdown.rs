//! Values made safe for the place where they land in Markdown, with no more backslashes than that place needs.
//!
//! What is markup depends on what stands around it: `2.2` is text anywhere, `2. ` at the start of a line is a list. So
//! a value is only *enclosed* while a template is filled, between two control characters that no value can hold, and
//! escaped when the whole line is known. Terms: *ours* is what the template wrote, *theirs* what a value put in.
//!
//! The dialect is that of [`html`](super::super::html): `CommonMark` with tables and task lists. Out of scope:
//! strikethrough, footnotes and whatever else is not switched on there.

use std::iter;

use super::one_line;

const START: char = '\u{2}';
const END: char = '\u{3}';

/// A value enclosed for [`page`]: on one line, without blanks at its ends.
pub(crate) fn enclose(value: &str) -> String {
    match one_line(value).trim() {
        "" => String::new(),
        text => format!("{START}{text}{END}"),
    }
}

/// A filled template as Markdown: what is enclosed is escaped for its place, so that it reads back as it was.
pub(crate) fn page(filled: &str) -> String {
    filled.split_inclusive('\n').map(|line| Line::of(line).escaped()).collect()
}

/// Where a character of a line stands.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Place {
    Text,
    Code,
    LinkText,
    Target,
}

/// A line, character by character.
struct Line {
    characters: Vec<char>,
    /// For each character, whether a value put it in.
    theirs: Vec<bool>,
    /// A row of a table.
    is_row: bool,
    is_heading: bool,
    /// Where the line's text starts, if a value starts it and a mark of a block would count there.
    start: Option<usize>,
}

impl Line {
    fn of(line: &str) -> Self {
        let (mut characters, mut theirs, mut inside) = (Vec::new(), Vec::new(), false);
        for character in line.chars() {
            match character {
                START => inside = true,
                END => inside = false,
                _ => {
                    characters.push(character);
                    theirs.push(inside);
                }
            }
        }
        let begins = |mark: char| characters.first() == Some(&mark) && theirs.first() == Some(&false);
        let (is_row, is_heading) = (begins('|'), begins('#'));
        // Ours may be the marks of a list item or a quotation, in which a block starts again.
        let before = iter::zip(&characters, &theirs).take_while(|(c, theirs)| !**theirs && " ->".contains(**c)).count();
        let start = theirs.get(before).is_some_and(|theirs| *theirs).then_some(before);
        Self { characters, theirs, is_row, is_heading, start }
    }

    fn escaped(&self) -> String {
        let start_mark = self.start.and_then(|start| self.block_mark(start));
        let closing = self.closing_marks();
        let mut escaped = String::with_capacity(self.characters.len() + 8);
        for ((at, &character), place) in self.characters.iter().enumerate().zip(self.places()) {
            let theirs = self.theirs.get(at) == Some(&true);
            match place {
                _ if Some(at) == start_mark || Some(at) == closing => escaped.extend(['\\', character]),
                _ if !theirs => escaped.push(character),
                _ if character == '|' && self.is_row => escaped.push_str("\\|"),
                // Nothing can be escaped in code, and nothing else than a backtick needs it.
                Place::Code => escaped.push(if character == '`' { '\'' } else { character }),
                Place::Target if character == ' ' => escaped.push_str("%20"),
                _ if self.is_markup(at, character, place) => escaped.extend(['\\', character]),
                _ => escaped.push(character),
            }
        }
        escaped
    }

    /// The character at a place; the line's end counts as a blank.
    fn get(&self, at: usize) -> char {
        self.characters.get(at).copied().unwrap_or(' ')
    }

    fn from(&self, at: usize) -> &[char] {
        self.characters.get(at..).unwrap_or_default()
    }

    /// The place of every character. Only what is ours opens or closes one.
    fn places(&self) -> Vec<Place> {
        let is_ours = |at: usize, mark: char| self.get(at) == mark && self.theirs.get(at) == Some(&false);
        let mut place = Place::Text;
        let mut places = Vec::with_capacity(self.characters.len());
        for at in 0..self.characters.len() {
            let next = match place {
                Place::Text if is_ours(at, '`') => Place::Code,
                Place::Text if is_ours(at, '[') => Place::LinkText,
                Place::Code if is_ours(at, '`') => Place::Text,
                Place::LinkText if is_ours(at, ']') => {
                    if is_ours(at + 1, '(') {
                        Place::Target
                    } else {
                        Place::Text
                    }
                }
                Place::Target if is_ours(at, ')') => Place::Text,
                same => same,
            };
            places.push(next);
            place = next;
        }
        places
    }

    /// Whether a character of a value would be read as markup inside a line.
    fn is_markup(&self, at: usize, character: char, place: Place) -> bool {
        let next = self.get(at + 1);
        match character {
            '\\' => {
                next.is_ascii_punctuation() || next == '\n' || at + 1 == self.characters.len() || place == Place::Target
            }
            '&' => is_entity(self.from(at + 1)),
            '(' | ')' | '<' | '>' if place == Place::Target => true,
            _ if place == Place::Target => false,
            '`' => true,
            '*' => !self.stands_alone(at, char::is_whitespace),
            '_' => !self.stands_alone(at, char::is_whitespace) && !self.stands_alone(at, char::is_alphanumeric),
            '<' => is_tag(self.from(at + 1)),
            '!' => next == '[' && self.theirs.get(at + 1) == Some(&false),
            '[' | ']' if place == Place::LinkText => true,
            // Without what follows it, a bracket leads nowhere: no page defines a reference.
            ']' => next == '(' || next == ':' && self.start.is_some(),
            _ => false,
        }
    }

    /// Whether the run of one mark that a value put here has such characters, or the line's ends, on both sides.
    fn stands_alone(&self, at: usize, kind: fn(char) -> bool) -> bool {
        let mark = self.get(at);
        let in_run = |at: &usize| self.get(*at) == mark && self.theirs.get(*at) == Some(&true);
        let before = (0..at).rev().find(|at| !in_run(at)).map_or(' ', |at| self.get(at));
        let after = (at..self.characters.len()).find(|at| !in_run(at)).map_or(' ', |at| self.get(at));
        kind(before) && kind(after)
    }

    /// The character to escape where the start of a line would be read as a heading, list, quotation, fence or rule.
    fn block_mark(&self, start: usize) -> Option<usize> {
        let text = self.from(start);
        let first = *text.first()?;
        let run = text.iter().take_while(|c| **c == first).count();
        let digits = text.iter().take_while(|c| c.is_ascii_digit()).count();
        let blank_after = |length: usize| self.get(start + length).is_whitespace();
        let is_task = || matches!(text, ['[', ' ' | 'x' | 'X', ']', ..]) && blank_after(3);
        // A rule, the line under a heading, or the one under the head of a table.
        let is_rule = || text.iter().all(|c| "-=_*:| \n".contains(*c));
        let is_block = match first {
            '>' => true,
            '#' => run <= 6 && blank_after(run),
            '~' => run >= 3,
            '[' => is_task(),
            '+' | '-' | '*' if blank_after(1) => true,
            _ => is_rule(),
        };
        if is_block {
            return Some(start);
        }
        let is_item =
            (1..=9).contains(&digits) && matches!(self.get(start + digits), '.' | ')') && blank_after(digits + 1);
        is_item.then_some(start + digits)
    }

    /// The first of the number signs at the end of a heading that would be taken for its closing marks.
    fn closing_marks(&self) -> Option<usize> {
        if !self.is_heading {
            return None;
        }
        let length = self.characters.iter().rposition(|c| !c.is_whitespace())? + 1;
        let run = self.characters.iter().take(length).rev().take_while(|c| **c == '#').count();
        let at = length.checked_sub(run)?;
        let follows_blank = at.checked_sub(1).is_some_and(|before| self.get(before) == ' ');
        (run > 0 && follows_blank && self.theirs.get(at) == Some(&true)).then_some(at)
    }
}

/// Whether what follows an ampersand makes it an entity or a character by its number.
fn is_entity(rest: &[char]) -> bool {
    let Some(end) = rest.iter().position(|c| *c == ';') else { return false };
    match rest.get(..end).unwrap_or_default() {
        ['#', 'x' | 'X', digits @ ..] => !digits.is_empty() && digits.iter().all(char::is_ascii_hexdigit),
        ['#', digits @ ..] => !digits.is_empty() && digits.iter().all(char::is_ascii_digit),
        name => !name.is_empty() && name.iter().all(char::is_ascii_alphanumeric),
    }
}

/// Whether what follows a less-than sign may make it a tag, a comment or an address.
fn is_tag(rest: &[char]) -> bool {
    let word = || rest.iter().take_while(|c| !c.is_whitespace());
    matches!(rest.first(), Some('/' | '!' | '?' | 'a'..='z' | 'A'..='Z')) || word().any(|c| *c == '@')
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use pulldown_cmark::{CowStr, Event, Options, Parser, Tag, TextMergeStream};

    /// Kinds of places, each with `{}` for a value. Where two stand in a row, they may not make something together.
    const PLACES: &[&str] = &[
        "{}\n",
        "{}{}\n",
        "{}. One {} ({}); two\n",
        "Before {} after\n{}: {}\n",
        "**{}** · {}\n",
        "- {}\n- {}\n",
        "- {} ({})\n",
        "- **{}**\n",
        "- [ ] *{}* {}\n",
        "> {}\n",
        "# {}\n\n{}\n",
        "## [{}](#a) {}\n",
        "### {}: {}\n",
        "{}: terminals **{}**, cable **{}**\n",
        "{} · [a](b.md#c){}[d](e){}\n",
        "[{}](b.md#{}) and `code` {}\n",
        "| a | {} |\n| --- | --- |\n| {} | x{} |\n| **{}** | {}{} ({}) |\n| **[{}](#{})** | *{}* |\n",
    ];

    fn filled(place: &str, values: &[String], value: fn(&str) -> String) -> String {
        let mut values = values.iter().cycle();
        let mut pieces = place.split("{}");
        let first = pieces.next().unwrap().to_owned();
        pieces.fold(first, |so_far, piece| so_far + &value(values.next().unwrap()) + piece)
    }

    fn events(markdown: &str) -> Vec<Event<'_>> {
        let options = Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS;
        TextMergeStream::new(Parser::new_ext(markdown, options)).collect()
    }

    /// The values that stand in a text in place of words of our own.
    fn replaced(text: &str, words: &[String], values: &[String]) -> String {
        words.iter().zip(values).fold(text.to_owned(), |text, (word, value)| text.replace(word, value))
    }

    fn read_back(place: &str, values: &[String]) -> Result<(), TestCaseError> {
        let words: Vec<String> = (0..values.len()).map(|number| format!("Q{number}Q")).collect();
        let plain = filled(place, &words, str::to_owned);
        let values: Vec<String> = values.iter().map(|value| one_line(value).trim().to_owned()).collect();
        let links: Vec<String> = values.iter().map(|value| value.replace(' ', "%20")).collect();
        let wanted: Vec<Event<'_>> = events(&plain)
            .into_iter()
            .map(|event| match event {
                Event::Text(text) => Event::Text(replaced(&text, &words, &values).into()),
                Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
                    let dest_url = CowStr::from(replaced(&dest_url, &words, &links));
                    Event::Start(Tag::Link { link_type, dest_url, title, id })
                }
                other => other,
            })
            .collect();
        let markdown = page(&filled(place, &values, enclose));
        prop_assert_eq!(events(&markdown), wanted, "{}", markdown);
        Ok(())
    }

    fn awkward() -> impl Strategy<Value = String> {
        let piece = prop_oneof![
            3 => "[!-/:-@\\[-`{-~]{1,4}",
            2 => "[ a-cä0-9x.)]{1,4}",
            1 => "\\PC{1,4}",
            1 => prop::sample::select(vec![
                "<script>", "</b>", "<!--", "<a@b.c>", "<1@b>", "&amp;", "&#42;", "&#x2a;", "](x)", "[x](y)", "[x]: y", "![x](y)", "[ ] ",
                "[^1]", "[a][b]", "***", "---", "- - -", "===", "~~~", "```", "_a_", "a_b", "a__b", "1. ", "12) ", "+ ", "# ",
                " ##", "> ", "\\|", "\\", "| --- |", "|", "https://example.org", "<https://example.org>", "    ", "\n", "\u{2}",
                "\u{3}", "\u{a0}", "{#id}", "~a~", "~~a~~", "$a$", "**", "*", "`a`", "\u{2028}",
            ])
            .prop_map(str::to_owned),
        ];
        prop::collection::vec(piece, 1..6)
            .prop_map(|pieces| pieces.concat())
            .prop_filter("a value says something", |text| !one_line(text).trim().is_empty())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(256))]
        #[test]
        fn every_value_reads_back_from_every_place(values in prop::collection::vec(awkward(), 1..5)) {
            for place in PLACES {
                read_back(place, &values)?;
            }
        }
    }

    fn escaped(place: &str, value: &str) -> String {
        page(&filled(place, &[value.to_owned()], enclose))
    }

    #[test]
    fn what_is_text_stays_as_it_is() {
        let harmless =
            "2027-03-14: 2.2 kΩ ±5 % (A+, A-), C:\\dir, [Front door] ─ a_b, 3 * 4 < 5, R&D, #7, !, it's \"x\" ~6";
        for place in ["{}\n", "- {}\n", "> {}\n", "## {}\n", "| {} |\n", "- [ ] {}\n", "**{}**\n"] {
            assert_eq!(escaped(place, harmless), place.replace("{}", harmless));
        }
        for value in ["3.14", "-5", "+x", "#1", "12.5 V", "--x", "_a", "1990s", "a|b"] {
            assert_eq!(escaped("{}\n", value).contains('\\'), value == "_a", "{value}");
        }
        assert_eq!(escaped("x {}\n", "1. a > b # c - d + e"), "x 1. a > b # c - d + e\n");
    }

    #[test]
    fn what_is_markup_in_its_place_is_escaped() {
        let cases = [
            ("{}\n", "12. x", "12\\. x\n"),
            ("- {}\n", "- x", "- \\- x\n"),
            ("> {}\n", "# x", "> \\# x\n"),
            ("# {}\n", "C #", "# C \\#\n"),
            ("# {}\n", "#", "# \\#\n"),
            ("- {}\n", "[x] y", "- \\[x] y\n"),
            ("{}\n", "[x]: y", "[x\\]: y\n"),
            ("x\n{}\n", "===", "x\n\\===\n"),
            ("{}. x\n", "12", "12\\. x\n"),
            ("| {} |\n", "a|b\\|c\\", "| a\\|b\\\\\\|c\\ |\n"),
            ("[{}](#a)\n", "a]b", "[a\\]b](#a)\n"),
            ("{}[b](#a)\n", "a!", "a\\![b](#a)\n"),
            ("{}\n", "[a](b) <i> &lt; *x* `y` _z_", "[a\\](b) \\<i> \\&lt; \\*x\\* \\`y\\` \\_z\\_\n"),
            ("| `{}` |\n", "a|`b", "| `a\\|'b` |\n"),
        ];
        for (place, value, wanted) in cases {
            assert_eq!(escaped(place, value), wanted, "{value} in {place}");
        }
    }

    #[test]
    fn control_characters_cannot_open_or_close_a_value() {
        assert_eq!(escaped("{}\n", "\u{3}*a*\u{2}"), "\\*a\\*\n");
    }
}

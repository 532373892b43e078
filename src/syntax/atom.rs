//! A name or value as it stands in the text, and what is wrong with it.
//!
//! An atom is everything between two spaces or marks: one word, number, keyword or string if it is right, several
//! of them glued together if not. Each faulty atom gives one diagnostic, the most telling one.

use super::characters::{CLOSING, OPENING, is_forbidden};
use super::faults::Faults;
use super::number::{self, Form, Meant, Notation};
use super::string::{self, Fault};
use super::token::{Flaw, Kind, Token};
use super::{amount, rules};
use crate::diag::{Certainty, Diagnostic, Rule};

/// What an atom is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// A node's name.
    Name,
    /// A property's name.
    Key,
    /// An argument or a property's value.
    Value,
    /// A type annotation.
    Annotation,
}

/// A name or value as it stands in the text.
pub(crate) struct Atom<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    /// First byte.
    pub(crate) start: usize,
    /// One past the last byte.
    pub(crate) end: usize,
    /// The first byte of the unit before it; that of the atom itself where it has none.
    pub(super) unit: usize,
}

/// What begins a comment in other languages and no node in this one.
const COMMENT_MARKS: [&str; 3] = ["<!--", "--", "%"];

impl<'a> Atom<'a> {
    /// The atom of these tokens, which are not empty.
    pub(crate) fn new(text: &'a str, tokens: &'a [Token]) -> Self {
        let start = tokens.first().map_or(0, |t| t.start);
        let end = tokens.last().map_or(start, |t| t.end);
        Self { text, tokens, start, end, unit: start }
    }

    /// The atom behind a unit in brackets that begins at a byte.
    pub(crate) fn behind_unit(self, unit: usize) -> Self {
        Self { unit, ..self }
    }

    /// The unit before it, in its brackets; empty where it has none.
    pub(super) fn unit(&self) -> &'a str {
        self.text.get(self.unit..self.start).unwrap_or("").trim_end()
    }

    /// As written.
    pub(crate) fn text(&self) -> &'a str {
        self.text.get(self.start..self.end).unwrap_or("")
    }

    fn only(&self, kind: Kind) -> bool {
        matches!(self.tokens, [token] if token.kind == kind)
    }

    /// True where it begins like a number.
    pub(crate) fn is_number(&self) -> bool {
        self.tokens.first().is_some_and(|t| t.kind == Kind::Word) && number::looks_like(self.text())
    }

    /// True where the rest of the line was probably meant as a comment.
    pub(crate) fn is_comment(&self, role: Role) -> bool {
        let lone_hash = self.only(Kind::Other) && self.text().starts_with('#');
        match role {
            Role::Name => {
                lone_hash
                    || self.only(Kind::Keyword) && !self.is_keyword()
                    || COMMENT_MARKS.iter().any(|mark| self.text().starts_with(mark))
            }
            _ => lone_hash || self.only(Kind::Other) && self.text() == "/",
        }
    }

    fn is_keyword(&self) -> bool {
        matches!(self.text(), "#true" | "#false" | "#null" | "#inf" | "#-inf" | "#nan")
    }

    /// True where it starts with a quotation mark of print.
    pub(crate) fn opens_typographic(&self) -> bool {
        self.text().starts_with(OPENING)
    }

    /// True where a word ends with a quotation mark of print.
    pub(crate) fn closes_typographic(word: &str) -> bool {
        word.ends_with(CLOSING)
    }

    /// True where it is closed by the quotation mark of print that it opens.
    pub(crate) fn closes(&self) -> bool {
        self.text().chars().count() > 1 && Self::closes_typographic(self.text())
    }

    /// Reports what is wrong with the atom in this role.
    pub(crate) fn judge(&self, role: Role, faults: &mut Faults) {
        // Forbidden characters are reported over the whole file.
        if self.text().contains(is_forbidden) {
            return;
        }
        let before = faults.count();
        for token in self.tokens {
            if faults.count() == before {
                self.whole_token(token, faults);
            }
        }
        if faults.count() > before {
            return;
        }
        let found = match self.tokens {
            [token] if token.kind == Kind::Word => self.word(role, faults),
            [token] if token.kind == Kind::Keyword => self.keyword(role, faults),
            [token] if matches!(token.kind, Kind::Quoted | Kind::Raw) => self.string(*token, faults),
            [token] if token.kind == Kind::Other => Some(self.other(role, faults)),
            _ => Some(self.glued(role, faults)),
        };
        if let Some(found) = found {
            faults.push(found);
        }
    }

    pub(super) fn found(&self, faults: &Faults, rule: &'static Rule, title: impl Into<String>) -> Diagnostic {
        faults.at(rule, self.start, self.end, title)
    }

    /// A finding that is remedied by other text in the atom's place; the help says so.
    pub(super) fn instead(&self, faults: &Faults, found: Diagnostic, certainty: Certainty, right: &str) -> Diagnostic {
        found.help(format!("write {right}")).edit(certainty, faults.span(self.start, self.end), right)
    }

    /// Strings without end and those of the language's first version.
    fn whole_token(&self, token: &Token, faults: &mut Faults) {
        let found = match (token.flaw, token.kind) {
            (Some(Flaw::RunsOver), _) => faults
                .at(&rules::STRING_UNCLOSED, token.start, token.end, "this string runs over the end of its line")
                .why("A string in plain quotation marks ends on its line.")
                .help("put it on one line, or write \"\"\" on the line before and \"\"\" on the line after the text"),
            (Some(Flaw::Unclosed), _) => {
                faults
                    .at(&rules::STRING_UNCLOSED, token.start, token.end, "the quotation marks of this line do not pair up")
                    .here("no closing mark for this string on its line")
                    .why("A string starts and ends with a quotation mark on the same line; without its end, the rest of the line is part of it.")
                    .help("write the missing \", or \\\" for a quotation mark inside the string")
            }
            (None, Kind::OldRaw) => {
                let marks = token.text(self.text).strip_prefix('r').unwrap_or("");
                let new = if marks.starts_with('#') { marks.to_owned() } else { format!("#{marks}#") };
                faults
                    .at(&rules::RAW_STRING_OLD, token.start, token.end, "a raw string in the old form")
                    .why("Raw strings of KDL version 1 begin with an r; version 2, which specs are written in, has # instead.")
                    .help(format!("write {new}"))
                    .edit(Certainty::Certain, faults.span(token.start, token.end), new)
            }
            _ => return,
        };
        faults.push(found);
    }

    fn word(&self, role: Role, faults: &Faults) -> Option<Diagnostic> {
        let word = self.text();
        if self.opens_typographic() || word.ends_with(['“', '”', '»']) {
            return Some(self.typographic(faults));
        }
        if matches!(word, "true" | "false" | "null" | "inf" | "-inf" | "nan") {
            return Some(self.bare_keyword(role, faults));
        }
        if number::looks_like(word) {
            return match role {
                Role::Value => self.number(faults),
                _ => Some(self.number_as_name(role, faults)),
            };
        }
        if word.len() > 1 && word.ends_with(':') {
            return Some(self.colon(word.trim_end_matches(':'), role, faults));
        }
        if word.starts_with(',') || word.ends_with(',') {
            return Some(self.comma(faults));
        }
        if role == Role::Name
            && let Some(mark) = COMMENT_MARKS.iter().find(|mark| word.starts_with(**mark))
        {
            return Some(self.comment_mark(mark, faults));
        }
        None
    }

    fn number(&self, faults: &Faults) -> Option<Diagnostic> {
        let word = self.text();
        match number::form(word) {
            Form::Good => None,
            Form::OutOfRange => Some(self.out_of_range(faults)),
            Form::Malformed => Some(self.malformed(word, faults)),
        }
    }

    pub(super) fn malformed(&self, word: &str, faults: &Faults) -> Diagnostic {
        let none = || self.found(faults, &rules::NUMBER_MALFORMED, format!("{word} is no number"));
        let glued = || self.found(faults, &rules::NUMBER_WITH_GLUED_UNIT, format!("{word} is no number"));
        match number::meant(word) {
            Meant::Unit(right) if self.is_marked(word, &right) => self.marked(word, &right, faults),
            Meant::Unit(right) => {
                let found = glued().why(
                    "A unit stands in round brackets before its number, so that 38 ft and 38 m can never be mixed up.",
                );
                self.with_unit(faults, found, &right)
            }
            Meant::ResistorCode(right) => {
                let found = glued()
                    .why("A resistor's marking code is text, and text that begins with a digit stands in quotes.");
                let place = Some(self.unit()).filter(|unit| !unit.is_empty());
                let place = place.map(|unit| format!(" in the place of {unit}{word}")).unwrap_or_default();
                let whole = faults.span(self.unit, self.end);
                found.help(format!("write {right}{place}")).edit(Certainty::Certain, whole, right)
            }
            Meant::Plain(right, Notation::Comma) if word.ends_with(',') => {
                self.comma(faults).help(format!("write {right} and leave the comma out"))
            }
            Meant::Plain(right, notation) => {
                let unit = self.unit();
                if !unit.is_empty() {
                    let found = none().why(notation.why()).help(format!("write {unit}{right}"));
                    return found.edit(Certainty::Certain, faults.span(self.start, self.end), right);
                }
                let certainty = if notation == Notation::Comma { Certainty::Likely } else { Certainty::Certain };
                self.instead(faults, none().why(notation.why()), certainty, &right)
            }
            Meant::Perhaps(right, other) => {
                let why =
                    "A unit stands in round brackets before its number, which is one number with a decimal point.";
                let found = glued().why(why);
                match other {
                    Some((other, what)) => found.help(format!("write {right}, or {other} if {what} are meant")),
                    None => found.help(format!("write {right}, if that is meant")).edit(
                        Certainty::Likely,
                        faults.span(self.unit, self.end),
                        right,
                    ),
                }
            }
            Meant::Either { unit, thousands, decimal } => self.either(faults, unit, &thousands, &decimal),
            Meant::Text(right) => self.text_that_begins_with_a_digit(word, &right, faults),
        }
    }

    /// A comma before three digits: without its unit, nobody can tell; with it, one of the two is at most likely.
    fn either(&self, faults: &Faults, unit: Option<&str>, thousands: &str, decimal: &str) -> Diagnostic {
        let before = unit.map_or_else(|| self.unit().to_owned(), |unit| format!("({unit})"));
        let (help, right) = number::choice(&before, thousands, decimal);
        let rule = if unit.is_some() { &rules::NUMBER_WITH_GLUED_UNIT } else { &rules::NUMBER_MALFORMED };
        let found = self
            .found(faults, rule, format!("{} is no number", self.text()))
            .why("A comma before three digits parts thousands for some, and is the decimal point for others. Here the decimal point is a full stop, and nothing parts thousands but _.");
        let contradicts = unit.is_some() && !self.unit().is_empty() && self.unit() != before;
        let found = found.help(help);
        match right.filter(|_| !contradicts) {
            Some(right) => found.edit(Certainty::Likely, faults.span(self.unit, self.end), right),
            None => found,
        }
    }

    fn text_that_begins_with_a_digit(&self, word: &str, right: &str, faults: &Faults) -> Diagnostic {
        let found = self.found(faults, &rules::NUMBER_MALFORMED, format!("{word} begins like a number but is none"));
        let unit = self.unit();
        if !unit.is_empty() {
            // 24-6 on a drawing.
            let parts = word.split_once('-').filter(|_| unit == "(ft)");
            let parts = parts.and_then(|(feet, inches)| Some((feet.parse::<u32>().ok()?, inches.parse::<u32>().ok()?)));
            let right = parts.and_then(|(feet, inches)| amount::feet_with_inches(feet.into(), inches.into()));
            let found =
                found.why("Behind its unit stands one number, in digits and with a full stop as the decimal point.");
            return match right {
                Some(right) => found.help(format!("write {right}, if feet and inches are meant")).edit(
                    Certainty::Likely,
                    faults.span(self.unit, self.end),
                    right,
                ),
                None => found.help(format!("write one number behind {unit}, as in {unit}24.5")),
            };
        }
        let found = found
            .why("A word that begins with a digit is read as a number. Dates, times, model names and ranges are text.");
        // A day has two hyphens; of anything else it is a guess that it is text.
        if word.matches('-').count() == 2 {
            let found = found.help(format!("put it in quotes: {right}"));
            return found.edit(Certainty::Certain, faults.span(self.start, self.end), right);
        }
        // A mark of feet, inches or minutes is of no text, nor is a unit at its end.
        let behind = word.rfind(|c: char| c.is_ascii_digit()).and_then(|last| word.get(last + 1..)).unwrap_or("");
        if number::unit_of(behind).is_some() || word.contains(number::MARKS) || behind.ends_with(['Ω', '\u{2126}']) {
            return found.help("write one number behind its unit, as in (ft)24.5 or (s)90; a text stands in quotes");
        }
        let found = found.help(format!(
            "put it in quotes if it is a text: {right}; a quantity is one number behind its unit, as in (ft)24.5"
        ));
        found.edit(Certainty::Likely, faults.span(self.start, self.end), right)
    }

    /// A number for which `right`, a unit and its number, was meant; where another unit stands before it, which of the two
    /// is right is for the author to say.
    fn with_unit(&self, faults: &Faults, found: Diagnostic, right: &str) -> Diagnostic {
        let unit = self.unit();
        if unit.is_empty() {
            return self.instead(faults, found, Certainty::Certain, right);
        }
        let kilo = right.strip_prefix("(kohm)").filter(|_| unit == "(ohm)").map(str::parse::<f64>);
        let ohms = kilo.and_then(Result::ok).map(|kilo| format!("(ohm){}", (kilo * 1e6).round() / 1e3));
        let right = ohms.as_deref().unwrap_or(right);
        // Feet and inches behind the unit of feet are the same in inches; inches alone are not.
        let in_inches = || unit == "(ft)" && amount::feet_and_inches_in(self.text()).is_some();
        let same = right.starts_with(unit) || (right.starts_with("(in)") && in_inches());
        let certainty = if same { Certainty::Certain } else { Certainty::Likely };
        let whole = faults.span(self.unit, self.end);
        found.help(format!("write {right} in the place of {unit}{}", self.text())).edit(certainty, whole, right)
    }

    fn out_of_range(&self, faults: &Faults) -> Diagnostic {
        self.found(faults, &rules::NUMBER_OUT_OF_RANGE, format!("{} is outside the range of numbers", self.text()))
            .why("Whole numbers have up to 18 digits, others up to about 300; nothing in a house needs more, and a rounded value would be wrong without a word.")
            .help("check the number, and write a serial number or telephone number as text in quotes")
    }

    fn number_as_name(&self, role: Role, faults: &Faults) -> Diagnostic {
        let what = match role {
            Role::Name => "node",
            Role::Key => "property",
            _ => "unit",
        };
        self.found(faults, &rules::TEXT_NOT_UNDERSTOOD, format!("the name of a {what} cannot begin with a digit"))
            .why("A word that begins with a digit is read as a number. A line starts with the name of its node.")
            .help(format!("write the {what}'s name here, with the number behind it"))
    }

    fn bare_keyword(&self, role: Role, faults: &Faults) -> Diagnostic {
        let word = self.text();
        if matches!(word, "inf" | "-inf" | "nan") {
            return self
                .found(faults, &rules::BARE_KEYWORD, format!("{word} is not a word that may stand alone"))
                .why("The language keeps it for numbers without value, which no quantity of a house has.")
                .help(format!("put it in quotes if it is a text: \"{word}\""))
                .edit(Certainty::Likely, faults.span(self.start, self.end), format!("\"{word}\""));
        }
        let (help, right) = if role == Role::Value {
            (format!("write #{word}, or \"{word}\" if it is a text"), format!("#{word}"))
        } else {
            (format!("put it in quotes: \"{word}\""), format!("\"{word}\""))
        };
        let found = self.found(faults, &rules::BARE_KEYWORD, format!("{word} needs a # before it"))
            .why("In KDL version 2 the words true, false and null have a # before them, so that they cannot be mixed up with text.")
            .help(help);
        // Nothing of a house is null: what was meant instead is unknown.
        if word == "null" {
            return found;
        }
        found.edit(Certainty::Certain, faults.span(self.start, self.end), right)
    }

    fn keyword(&self, role: Role, faults: &Faults) -> Option<Diagnostic> {
        let word = self.text();
        if role == Role::Value {
            return match word {
                "#true" | "#false" | "#null" => None,
                "#inf" | "#-inf" | "#nan" => Some(
                    self.found(faults, &rules::NUMBER_OUT_OF_RANGE, format!("{word} is no quantity"))
                        .why("Nothing in a house is infinite, and every value here is measured, counted or named.")
                        .help("write the number, or leave the property out"),
                ),
                _ => {
                    let found = self
                        .found(faults, &rules::TEXT_NOT_UNDERSTOOD, format!("{word} is no keyword"))
                        .why("A # begins a raw string or one of #true, #false and #null.");
                    Some(match keyword_meant(word) {
                        Some(right) => self.instead(faults, found, Certainty::Likely, &right),
                        None => found.help(format!("write \"{word}\" if it is a text, or // before a comment")),
                    })
                }
            };
        }
        if role == Role::Name && !self.is_keyword() {
            return Some(self.comment_mark("#", faults));
        }
        Some(
            self.found(faults, &rules::TEXT_NOT_UNDERSTOOD, format!("{word} is no name"))
                .why("A # begins a value; names are words or strings.")
                .help(format!("write the name without the #, or in quotes: \"{word}\"")),
        )
    }

    fn string(&self, token: Token, faults: &mut Faults) -> Option<Diagnostic> {
        let written = token.text(self.text);
        let found = string::faults(written);
        // A path as some systems write it.
        let path = written.trim_matches('"');
        if path.ends_with(".kdl") && path.contains('\\') && !found.is_empty() {
            let why = "In a string a \\ begins an escape. The parts of a path are joined by /, on every system.";
            let escape = self.found(faults, &rules::STRING_ESCAPE, "a path with backslashes").why(why);
            return Some(self.instead(faults, escape, Certainty::Certain, &format!("\"{}\"", path.replace('\\', "/"))));
        }
        for fault in found {
            let diagnostic = match fault {
                Fault::Escape { start, end } => {
                    let escape = written.get(start..end).unwrap_or("");
                    faults
                        .at(
                            &rules::STRING_ESCAPE,
                            token.start + start,
                            token.start + end,
                            format!("{escape} stands for nothing"),
                        )
                        .why("In a string a \\ begins an escape: \\n, \\t, \\\", \\\\ and a few more.")
                        .help(format!("write \\{escape} for a backslash, or a raw string: #\"…\"#"))
                        .edit(
                            Certainty::Likely,
                            faults.span(token.start + start, token.start + end),
                            format!("\\{escape}"),
                        )
                }
                Fault::TextAfterOpening => faults
                    .at(&rules::STRING_LAYOUT, token.start, token.end, "the text must start on the line after \"\"\"")
                    .why("Three quotation marks begin a text over several lines; it starts on the next line.")
                    .help("start a new line after \"\"\", or use one quotation mark on each side"),
                Fault::TextBeforeClosing => faults
                    .at(
                        &rules::STRING_LAYOUT,
                        token.end.saturating_sub(3),
                        token.end,
                        "the closing \"\"\" must stand on a line of its own",
                    )
                    .why("The white space before the closing marks says how far the text is indented.")
                    .help("start a new line before the closing \"\"\""),
                Fault::Indentation(at) => faults
                    .at(
                        &rules::STRING_LAYOUT,
                        token.start + at,
                        token.start + at,
                        "this line is indented less than the closing \"\"\"",
                    )
                    .why("Every line of the text starts with the white space that stands before the closing marks.")
                    .help("indent the line as far as the closing \"\"\", or move the closing marks to the left"),
            };
            faults.push(diagnostic);
        }
        None
    }

    pub(super) fn other(&self, role: Role, faults: &Faults) -> Diagnostic {
        let text = self.text();
        if text.starts_with('#') {
            return self.comment_mark(text, faults);
        }
        let behind = self.text.get(self.end..).unwrap_or("");
        if text == "/" && behind.starts_with(' ') {
            return self
                .found(faults, &rules::COMMENT_MARK, "/ begins no comment")
                .why("A comment begins with // and goes to the end of its line, or stands between /* and */.")
                .help("write // for a comment; put text with a slash in quotes")
                .edit(Certainty::Likely, faults.span(self.start, self.end), "//");
        }
        let help = match text {
            "/" => "put text with a slash in quotes; a comment begins with //",
            "[" | "]" => "write the values one after the other, without brackets",
            _ if role == Role::Value => "put the text in quotes",
            _ => "remove it, or put the name in quotes",
        };
        self.found(faults, &rules::TEXT_NOT_UNDERSTOOD, format!("{text} is not expected here"))
            .why("This character has no meaning of its own between names and values.")
            .help(help)
    }
}

/// What a word behind a # was probably meant to be: a number, or one of the keywords.
fn keyword_meant(word: &str) -> Option<String> {
    let inside = word.trim_start_matches('#');
    if number::looks_like(inside) && number::form(inside) == Form::Good {
        return Some(inside.to_owned());
    }
    match inside.to_lowercase().as_str() {
        "yes" | "on" => Some("#true".to_owned()),
        "no" | "off" => Some("#false".to_owned()),
        _ => crate::base::wording::did_you_mean(word, ["#true", "#false", "#null"]).map(str::to_owned),
    }
}

//! Atoms of several tokens or with marks that do not belong: what was meant by quotation marks, commas, colons and brackets.

use super::atom::{Atom, Role};
use super::characters::{CLOSING, OPENING};
use super::faults::Faults;
use super::number::{self, Form};
use super::rules;
use super::token::{Kind, Token};
use crate::diag::{Certainty, Diagnostic};
use crate::quantity::{Dimension, unit};

impl Atom<'_> {
    /// Several tokens without space between them.
    pub(super) fn glued(&self, role: Role, faults: &Faults) -> Diagnostic {
        let text = self.text();
        let (Some(first), Some(second)) = (self.tokens.first(), self.tokens.get(1)) else {
            return self.other(role, faults);
        };
        if self.opens_typographic() {
            return self.typographic(faults);
        }
        if number::looks_like(text) && first.kind == Kind::Word && role == Role::Value {
            return self.malformed(text, faults);
        }
        let second_text = second.text(self.text);
        if first.kind != Kind::Word && second.kind == Kind::Word && second_text.starts_with(',') {
            return self.comma(faults);
        }
        if first.kind != Kind::Word && self.tokens.len() == 2 && second_text == ":" {
            return self.colon(first.text(self.text), role, faults);
        }
        if let Some(found) = self.arrow(first, second, faults) {
            return found;
        }
        if first.kind == Kind::Quoted && self.tokens.len() == 2 && matches!(second_text, "." | ";") {
            let found = self
                .found(faults, &rules::TEXT_NOT_UNDERSTOOD, format!("a {second_text} behind a value"))
                .why("A line of a spec ends without a mark.");
            return self.instead(faults, found, Certainty::Certain, first.text(self.text));
        }
        if role == Role::Value
            && first.kind == Kind::Word
            && let Some(found) = self.glued_colon(faults)
        {
            return found;
        }
        if first.kind == Kind::Other && first.text(self.text).starts_with('#') && role == Role::Name {
            return self.comment_mark("#", faults);
        }
        if let Some(found) = self.quotes_at_odds(first, second, faults) {
            return found;
        }
        if let Some(right) = in_square_brackets(text).filter(|_| role == Role::Value) {
            let found = self.found(faults, &rules::TEXT_NOT_UNDERSTOOD, format!("{text} is in square brackets")).why(
                "A unit stands in round brackets before its number, and several values stand one after the other.",
            );
            let key = self.key_before().map(|key| format!("{key}=")).unwrap_or_default();
            let whole = faults.span(self.start, self.end);
            return found.help(format!("write {key}{right}")).edit(Certainty::Certain, whole, right);
        }
        if self.tokens.iter().any(|t| t.kind == Kind::Other || t.kind == Kind::Keyword)
            && self.tokens.iter().all(|t| t.kind != Kind::Quoted)
        {
            return self
                .found(faults, &rules::TEXT_NOT_UNDERSTOOD, format!("{text} must be in quotes"))
                .why("A word without quotes may not hold / [ ] # or a quotation mark.")
                .help(format!("write \"{text}\""))
                .edit(Certainty::Certain, faults.span(self.start, self.end), format!("\"{text}\""));
        }
        faults
            .at(
                &rules::TEXT_NOT_UNDERSTOOD,
                second.start,
                second.start + second_text.chars().next().map_or(0, char::len_utf8),
                "a space is missing here",
            )
            .also(faults.span(self.start, self.end), "read as one piece")
            .why("Names and values are told apart by the space between them.")
            .help(format!(
                "put a space after {}, or write \\\" for a quotation mark inside the text",
                first.text(self.text)
            ))
    }

    pub(super) fn typographic(&self, faults: &Faults) -> Diagnostic {
        let plain = self.text().trim_matches(|c| OPENING.contains(&c) || CLOSING.contains(&c));
        // French quotation marks have blanks within them.
        let plain = plain.trim_matches(['\u{a0}', '\u{202f}']);
        if self.text().starts_with('\'') {
            let found = self
                .found(faults, &rules::QUOTATION_MARK, "this text is in single quotes")
                .why("KDL has only double quotes. A single one is a letter like any other, so the text would carry it and end at the first space.");
            return self.instead(faults, found, Certainty::Certain, &format!("\"{plain}\""));
        }
        let found = self
            .found(faults, &rules::QUOTATION_MARK, "these quotation marks are those of print")
            .why("A word processor turns the plain quotation mark \" into marks of print, which here are letters like any other.");
        self.instead(faults, found, Certainty::Certain, &format!("\"{plain}\""))
    }

    pub(super) fn comment_mark(&self, mark: &str, faults: &Faults) -> Diagnostic {
        let found = faults
            .at(&rules::COMMENT_MARK, self.start, self.start + mark.len(), format!("{mark} begins no comment"))
            .why("A comment begins with // and goes to the end of its line, or stands between /* and */.")
            .help(match self.text().strip_prefix(mark).filter(|word| !word.is_empty()) {
                Some(word) => format!("write // instead, or {word} without the mark if it is to be read"),
                None => format!("write // instead, or leave {mark} out if what is behind it is to be read"),
            });
        // A brace behind it is one of the node's.
        match self.text.get(self.end..).and_then(|rest| rest.lines().next()) {
            Some(behind) if behind.contains(['{', '}']) => found,
            _ => found.edit(Certainty::Certain, faults.span(self.start, self.start + mark.len()), "//"),
        }
    }

    pub(super) fn comma(&self, faults: &Faults) -> Diagnostic {
        let behind = self.text.get(self.end..).unwrap_or_default().trim_start_matches(' ');
        // Two words may be one text.
        let is_text = behind.starts_with(char::is_alphabetic)
            && !behind.split_whitespace().next().unwrap_or_default().contains('=');
        let certainty = if is_text { Certainty::Likely } else { Certainty::Certain };
        self.found(faults, &rules::COMMA, "a comma between values")
            .why("Values are told apart by spaces; a comma would become part of the value.")
            .help("leave the comma out, or put the text in quotes if the comma belongs to it")
            .edit(certainty, faults.span(self.start, self.end), self.text().trim_matches(','))
    }

    pub(super) fn colon(&self, name: &str, role: Role, faults: &Faults) -> Diagnostic {
        let found = self.found(faults, &rules::COLON, format!("a colon after {name}"))
            .why("A name is followed by its values after a space, a property's name by =. The colon would become part of the name.");
        if role == Role::Name {
            return found.help(format!("write {name} and its values behind it, without the colon")).edit(
                Certainty::Certain,
                faults.span(self.start, self.end),
                name,
            );
        }
        // Behind a value there is nothing that it could introduce.
        if name.starts_with('"') {
            let found = found.help(format!("write {name} without the colon"));
            return found.edit(Certainty::Certain, faults.span(self.start, self.end), name);
        }
        let behind = self.text.get(self.end..).unwrap_or("");
        let value = behind.trim_start_matches(' ');
        let text = self.text().trim_matches('"');
        let found = found.help(format!("write {name}= with the value right behind it, or \"{text}\" if it is a text"));
        if value.is_empty() || value.starts_with(['\n', '\r', '{', '}', ';', '/']) {
            return found;
        }
        let whole = faults.span(self.start, self.end + behind.len() - value.len());
        let shown = value.split([' ', '\n', '\r', '{', '}', ';']).next().unwrap_or_default();
        found.help(format!("write {name}={shown}")).edit(Certainty::Certain, whole, format!("{name}="))
    }

    /// The name of the property whose value stands here.
    fn key_before(&self) -> Option<&str> {
        let before = self.text.get(..self.start)?.strip_suffix('=')?;
        before.rsplit(|c: char| !c.is_alphanumeric() && c != '-').next()
    }

    /// True for a number with a mark of length that means no length here: [`Self::marked`] says what.
    pub(super) fn is_marked(&self, word: &str, right: &str) -> bool {
        let metres = right.starts_with("(m)");
        let is_mark = (metres && word.ends_with('m')) || word.ends_with(number::MARKS);
        let is_length = metres || right.starts_with("(ft)") || right.starts_with("(in)");
        let of_time = || is_mark && self.key_before().is_some_and(number::is_of_time);
        is_length && (of_time() || self.before_stray_mark(word).is_some())
    }

    /// The number in `(Ah)7"`: behind the unit of no length, a mark of inches is left over from a text in quotation marks.
    fn before_stray_mark<'w>(&self, word: &'w str) -> Option<&'w str> {
        let unit = self.unit().strip_prefix('(')?.strip_suffix(')')?;
        let is_length = unit::find(unit).is_none_or(|unit| unit.dimension == Dimension::Length);
        word.strip_suffix(number::MARKS).filter(|number| !is_length && number::form(number) == Form::Good)
    }

    /// `(Ah)7"`, whose mark is left over; `entry=1'` and `entry=1m`: in the place of a time the mark of feet and that of metres
    /// are mostly of minutes, and that of inches of seconds.
    pub(super) fn marked(&self, word: &str, length: &str, faults: &Faults) -> Diagnostic {
        if let Some(number) = self.before_stray_mark(word) {
            return self
                .found(faults, &rules::NUMBER_MALFORMED, format!("{word} is no number"))
                .why(number::Notation::Mark.why())
                .help(format!("write {}{number}", self.unit()))
                .edit(Certainty::Certain, faults.span(self.start, self.end), number);
        }
        let time = length.replace("(ft)", "(min)").replace("(m)", "(min)").replace("(in)", "(s)");
        self.found(faults, &rules::NUMBER_WITH_GLUED_UNIT, format!("{} is no number", self.text()))
            .why("A unit stands in round brackets before its number, by its name. The mark may be one of time or of length.")
            .help(format!("write {time}, if that is meant and not {length}"))
            .edit(Certainty::Likely, faults.span(self.unit, self.end), time)
    }

    /// on=>"front-door".
    fn arrow(&self, first: &Token, second: &Token, faults: &Faults) -> Option<Diagnostic> {
        let key = self.key_before().filter(|_| first.text(self.text) == ">")?;
        let (start, end) = (self.start - 1, second.start);
        let found = faults
            .at(&rules::TEXT_NOT_UNDERSTOOD, start, end, "an arrow in the place of an equals sign")
            .why("A property is a name, one `=` and a value.")
            .help(format!("write {key}={}", second.text(self.text)));
        Some(found.edit(Certainty::Certain, faults.span(start, end), "="))
    }

    /// A word whose opening quotation mark is missing, and a text with two marks on each side.
    fn quotes_at_odds(&self, first: &Token, second: &Token, faults: &Faults) -> Option<Diagnostic> {
        let (opening, following) = (first.text(self.text), second.text(self.text));
        let line_of = |at: usize| self.text.get(at..).unwrap_or_default().split('\n').next().unwrap_or_default();
        let (end, right) = if first.kind == Kind::Word && second.kind == Kind::Quoted && following.starts_with("\" ") {
            (second.start + 1, format!("\"{opening}\""))
        } else if opening == "\"\"" && second.kind == Kind::Word {
            let inside = line_of(first.end).split_once("\"\"").map(|(inside, _)| inside)?;
            (first.end + inside.len() + 2, format!("\"{inside}\""))
        } else {
            return None;
        };
        let found = faults
            .at(&rules::TEXT_NOT_UNDERSTOOD, self.start, end, "the quotation marks of this text are at odds")
            .why("A text stands between two quotation marks, one before it and one behind it.")
            .help(format!("write {right}"));
        Some(found.edit(Certainty::Certain, faults.span(self.start, end), right))
    }

    /// A name, a colon and its value in one piece, as area:"flat".
    fn glued_colon(&self, faults: &Faults) -> Option<Diagnostic> {
        let (name, value) = self.text().split_once(':')?;
        let is_name = !name.is_empty() && name.chars().all(|c| c.is_ascii_lowercase() || c == '-');
        if !is_name || value.is_empty() {
            return None;
        }
        let found = self
            .found(faults, &rules::COLON, format!("a colon after {name}"))
            .why("A property's name is followed by = and its value. The colon would become part of the name.");
        Some(self.instead(faults, found, Certainty::Certain, &format!("{name}={value}")))
    }
}

/// What stands in square brackets without them: "[ft]46" as "(ft)46", "[1]" as "1".
fn in_square_brackets(text: &str) -> Option<String> {
    let (inside, behind) = text.strip_prefix('[')?.split_once(']')?;
    let is_number = |word: &str| number::looks_like(word) && number::form(word) == Form::Good;
    if behind.is_empty() {
        return is_number(inside).then(|| inside.to_owned());
    }
    let unit = number::unit_of(inside)?;
    is_number(behind).then(|| format!("({unit}){behind}"))
}

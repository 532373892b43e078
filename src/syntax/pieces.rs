//! Amounts of several pieces in the place of one value: feet and inches, two units, thousands apart by a blank, a unit in front
//! of its number or behind it.

use super::amount;
use super::atom::Atom;
use super::characters::is_space;
use super::grammar::Reader;
use super::number;
use super::rules;
use super::token::{Kind, Token};
use crate::diag::Certainty;

impl Reader<'_> {
    /// `46 ft 6 in` and `1 min 30 s`. True where that was so.
    pub(super) fn feet_and_inches(&mut self, value: &Atom) -> bool {
        let text = self.text.get(value.start..).unwrap_or_default();
        if text.starts_with(|c: char| c.is_alphabetic() || matches!(c, '"' | '#')) {
            return false;
        }
        let found = amount::feet_and_inches_in(text).or_else(|| amount::two_units_in(text));
        let Some((right, length)) = found else { return false };
        let unit = value.unit();
        let is_same = unit.is_empty() || right.starts_with(unit) || (unit == "(ft)" && right.starts_with("(in)"));
        let certainty = if is_same { Certainty::Certain } else { Certainty::Likely };
        self.one_quantity(value, value.start + length, certainty, right);
        true
    }

    /// `(mm)7 500` and `1 200 ft`. True where that was so.
    pub(super) fn thousands_by_blank(&mut self, value: &Atom) -> bool {
        let text = self.text.get(value.start..).unwrap_or_default();
        let Some((number, length)) = amount::thousands_by_blank(text) else { return false };
        let behind = text.get(length..).unwrap_or_default();
        let word = behind.trim_start_matches(is_space);
        let word =
            word.split(|c: char| is_space(c) || matches!(c, '\n' | '\r' | '{' | '}' | ';')).next().unwrap_or_default();
        let unit = number::unit_of(word).filter(|_| value.unit().is_empty() && behind.starts_with(is_space));
        let end = if unit.is_some() {
            length + behind.len() - behind.trim_start_matches(is_space).len() + word.len()
        } else {
            length
        };
        let unit = unit.map_or_else(|| value.unit().to_owned(), |unit| format!("({unit})"));
        // Behind a blank the digits may be a value of their own.
        self.one_quantity(value, value.start + end, Certainty::Likely, format!("{unit}{number}"));
        true
    }

    /// `(ft)24 (in)6` and `(m)7 (cm)50`, two numbers for one quantity; and `24' 6`. True where that was so.
    pub(super) fn smaller_unit_behind(&mut self, value: &Atom) -> bool {
        if let Some([space, inches]) = self.tokens.get(self.at..self.at + 2)
            && (space.kind, inches.kind) == (Kind::Space, Kind::Word)
            && let Some(feet) = value.text().strip_suffix(['\'', '’', '′'])
            && let (Ok(feet), Ok(less)) = (feet.parse::<u32>(), inches.text(self.text).parse::<u32>())
            && let Some(right) = amount::feet_with_inches(feet.into(), less.into())
        {
            // The number may be a value of its own.
            self.one_quantity(value, inches.end, Certainty::Likely, right);
            return true;
        }
        let Some([space, open, unit, close, number]) = self.tokens.get(self.at..self.at + 5) else { return false };
        let kinds = [space.kind, open.kind, unit.kind, close.kind, number.kind];
        if kinds != [Kind::Space, Kind::OpenParen, Kind::Word, Kind::CloseParen, Kind::Word] {
            return false;
        }
        let end = number.end;
        let less = number.text(self.text).parse::<f64>().ok().filter(|less| less.is_finite() && *less >= 0.0);
        let (Ok(more), Some(less)) = (value.text().parse::<u32>().map(f64::from), less) else { return false };
        let right = match (value.unit(), unit.text(self.text)) {
            ("(ft)", "in") => amount::feet_with_inches(more, less),
            ("(m)", "cm") if less < 100.0 => Some(format!("(cm){}", more * 100.0 + less)),
            _ => None,
        };
        let Some(right) = right else { return false };
        self.one_quantity(value, end, Certainty::Certain, right);
        true
    }

    /// `ca. 7m`, `ft 24`, `½ min`, `12V 7Ah` and `12 V 7 Ah`. True where that was so.
    pub(super) fn in_words(&mut self, key: &Atom, value: &Atom, typed: bool) -> bool {
        if typed {
            return false;
        }
        let first = value.text();
        let behind: Vec<Token> = self.words_behind();
        if behind.is_empty() && !first.starts_with(['½', '¼', '¾']) {
            return false;
        }
        let [one, two, three] = [1, 2, 3].map(|count| {
            let last = behind.get(count - 1)?;
            Some((last.end, self.text_of(behind.first()?.start, last.end)))
        });
        let is_number = |text: &str| number::looks_like(text) && number::form(text) == number::Form::Good;
        // A unit before its number, without brackets.
        if let Some((end, digits)) = one.filter(|(_, digits)| is_number(digits))
            && number::unit_of(first) == Some(first)
        {
            let right = format!("({first}){digits}");
            self.one_quantity(value, end, Certainty::Certain, right);
            return true;
        }
        if number::is_about(first) {
            let found =
                [two, one].into_iter().flatten().find_map(|(end, text)| Some((end, number::quantity_in(text)?)));
            let Some((end, right)) = found else { return false };
            self.one_quantity(value, end, Certainty::Likely, right);
            return true;
        }
        if first.starts_with(['½', '¼', '¾']) {
            let alone = Some((value.end, ""));
            let found = [one, alone].into_iter().flatten().find_map(|(end, unit)| {
                let right = number::quantity_in(&format!("0{first} {unit}"))?;
                Some((end, right))
            });
            let Some((end, right)) = found else { return false };
            self.one_quantity(value, end, Certainty::Certain, right);
            return true;
        }
        // Two amounts that are not one.
        let amount = |text: &str| {
            if !number::looks_like(text) || is_number(text) {
                return None;
            }
            if let number::Meant::Unit(right) = number::meant(text) { Some(right) } else { None }
        };
        let glued = || Some((one?.0, amount(first)?, amount(one?.1)?));
        let apart = || {
            let (unit, rest) = three?.1.split_once(is_space)?;
            let joined: String = rest.split(is_space).collect();
            Some((three?.0, amount(&format!("{first}{unit}"))?, amount(&joined)?))
        };
        let Some((end, first, second)) = glued().or_else(apart) else { return false };
        let key = key.text();
        let title = format!("{} is two amounts", self.text_of(value.start, end));
        let found = self
            .faults
            .at(&rules::NUMBER_WITH_GLUED_UNIT, value.start, end, title)
            .why("A property has one value, and its unit stands in round brackets before the number.")
            .help(format!(
                "write {key}={first} or {key}={second}, whichever it is; the other has a property of its own, or none"
            ));
        self.faults.push(found);
        self.pass(end);
        true
    }

    /// The words behind a value on its line, three at most, that are no names of properties.
    fn words_behind(&self) -> Vec<Token> {
        let rest = self.tokens.get(self.at..).unwrap_or_default();
        let mut words = Vec::new();
        for pair in rest.chunks(2).take(3) {
            let [space, word] = pair else { break };
            let next = rest.get(2 * words.len() + 2).map_or(Kind::Newline, |token| token.kind);
            let stands_alone = matches!(next, Kind::Space | Kind::Newline | Kind::Semicolon | Kind::OpenBrace);
            if space.kind != Kind::Space || word.kind != Kind::Word || !stands_alone {
                break;
            }
            words.push(*word);
        }
        words
    }

    /// Tells that the text from a value on is one quantity, and passes it.
    fn one_quantity(&mut self, value: &Atom, end: usize, certainty: Certainty, right: String) {
        let start = value.unit;
        let found = self
            .faults
            .at(&rules::NUMBER_WITH_GLUED_UNIT, start, end, format!("{} is no quantity", self.text_of(start, end)))
            .why("A unit stands in round brackets before its number, and a length is one number.")
            .help(format!("write {right}"))
            .edit(certainty, self.faults.span(start, end), right);
        self.faults.push(found);
        self.pass(end);
    }

    pub(super) fn pass(&mut self, end: usize) {
        while self.peek().is_some() && self.here() < end {
            self.at += 1;
        }
    }

    /// `38 ft`: the unit as a word behind its number, which would be read as an argument. True where that was so.
    pub(super) fn unit_word_behind(&mut self, value: &Atom, typed: bool) -> bool {
        let [Some(space), Some(word)] = [0, 1].map(|next| self.tokens.get(self.at + next).copied()) else {
            return false;
        };
        let behind = self.tokens.get(self.at + 2).map_or(Kind::Newline, |t| t.kind);
        let stands_alone = matches!(behind, Kind::Space | Kind::Newline | Kind::Semicolon | Kind::OpenBrace);
        // 46 1/2: what stands together behind the blank.
        let behind_space = self.tokens.get(self.at + 1..).unwrap_or_default();
        let glued = behind_space.iter().take_while(|token| token.is_atom()).count();
        let end = behind_space.get(glued.saturating_sub(1)).map_or(word.end, |token| token.end);
        let part = amount::part_of_one(self.text_of(word.start, end)).filter(|_| space.kind == Kind::Space);
        if let Some(part) = part
            && let Ok(whole) = value.text().parse::<u32>()
        {
            let right = format!("{}{}", value.unit(), f64::from(whole) + part);
            let (start, title) =
                (value.start - value.unit().len(), format!("{} is no number", self.text_of(value.start, end)));
            let found = self
                .faults
                .at(&rules::NUMBER_MALFORMED, word.start, end, title)
                .why(number::Notation::Fraction.why())
                .help(format!("write {right}"))
                .edit(Certainty::Certain, self.faults.span(start, end), right);
            self.faults.push(found);
            self.at += 1 + glued;
            return true;
        }
        if typed || !value.is_number() || space.kind != Kind::Space || word.kind != Kind::Word || !stands_alone {
            return false;
        }
        let is_key = self.tokens.get(self.at + 2..).unwrap_or_default().iter().find(|t| t.kind != Kind::Space);
        // A single letter may be a value; only one that is a unit as it stands is taken for one.
        let written = word.text(self.text);
        let is_unit = |unit: &&str| written.len() > 1 || *unit == written;
        let unit = number::unit_of(written).filter(is_unit);
        let Some(unit) = unit.filter(|_| is_key.is_none_or(|t| t.kind != Kind::Equals)) else { return false };
        let (help, certainty, right) = match number::meant(&format!("{}{written}", value.text())) {
            number::Meant::Either { thousands, decimal, .. } => {
                let (help, right) = number::choice(&format!("({unit})"), &thousands, &decimal);
                (help, Certainty::Likely, right)
            }
            number::Meant::Unit(right) => (format!("write {right}"), Certainty::Certain, Some(right)),
            number::Meant::ResistorCode(_)
            | number::Meant::Perhaps(..)
            | number::Meant::Plain(..)
            | number::Meant::Text(_) => {
                let right = format!("({unit}){}", value.text());
                (format!("write {right}"), Certainty::Certain, Some(right))
            }
        };
        let title = format!("{} is no quantity", self.text_of(value.start, word.end));
        let found = self
            .faults
            .at(&rules::NUMBER_WITH_GLUED_UNIT, value.start, word.end, title)
            .why("A unit stands in round brackets before its number. Behind it, it would be a value of its own.")
            .help(help);
        let whole = self.faults.span(value.start, word.end);
        self.faults.push(match right {
            Some(right) => found.edit(certainty, whole, right),
            None => found,
        });
        self.at += 2;
        true
    }
}

//! The entries of a node, read leniently: arguments and properties with their units.

use super::atom::{Atom, Role};
use super::grammar::Reader;
use super::number;
use super::rules;
use super::token::{Kind, Token};
use crate::diag::{Certainty, Diagnostic};

impl Reader<'_> {
    /// `(type)`.
    pub(super) fn annotation(&mut self) {
        let start = self.here();
        self.at += 1;
        self.gap(false);
        let named = self.peek().is_some_and(|t| t.is_atom());
        let mut swapped = None;
        if named {
            let atom = self.atom();
            if atom.is_number() {
                swapped = Some(atom);
            } else if !self.mark_for_a_unit(&atom) {
                atom.judge(Role::Annotation, self.faults);
            }
        }
        self.gap(false);
        // `(ft 38)`: the number belongs behind the bracket.
        if named && swapped.is_none() && self.peek().is_some_and(|t| t.is_atom()) {
            let unit = self.tokens.get(self.at.saturating_sub(2)).map_or("", |t| t.text(self.text));
            let value = self.atom();
            let right = format!("({}){}", unit.trim(), value.text());
            self.gap(false);
            let closed = self.eat(Kind::CloseParen).is_some();
            let end = if closed { self.behind() } else { value.end };
            self.instead(
                start,
                end,
                "the brackets hold more than a unit",
                "Only the unit stands in the brackets; its number follows right behind them.",
                &right,
            );
            return;
        }
        let closed = self.eat(Kind::CloseParen).is_some();
        let end = self.behind();
        if let Some(number) = swapped {
            let unit = self.peek().filter(|t| t.kind == Kind::Word);
            let end = unit.map_or(end, |t| t.end);
            let found = self.not_understood(
                start,
                end,
                "the brackets hold a number",
                "The unit stands in the brackets and the number behind them.",
            );
            // `m(6.5)`: the unit was read as a piece of its own, which is told.
            let unit = unit.map(|t| t.text(self.text)).filter(|unit| number::unit_of(unit).is_some());
            let found = match unit {
                Some(unit) => {
                    let right = format!("({unit}){}", number.text());
                    let whole = self.faults.span(start, end);
                    found.help(format!("write {right}")).edit(Certainty::Certain, whole, right)
                }
                // Feet or metres, volts or amperes: a unit is never made up.
                None => found
                    .help(format!("write the unit in the brackets and {} behind them, as in (ft)38", number.text())),
            };
            self.faults.push(found);
        } else if !closed {
            let inside = self.text_of(start, end).trim_start_matches('(').trim_end();
            let found = self.not_understood(
                start,
                start + 1,
                "this bracket is not closed",
                "The unit of a value stands in round brackets right before it.",
            );
            let letters = inside.find(|c: char| c.is_ascii_digit()).unwrap_or(inside.len());
            let found = match inside
                .split_at_checked(letters)
                .filter(|(unit, number)| number::unit_of(unit) == Some(*unit) && number::looks_like(number))
            {
                Some((unit, number)) => {
                    let right = format!("({unit}){number}");
                    let whole = self.faults.span(start, start + 1 + inside.len());
                    found.help(format!("write {right}")).edit(Certainty::Certain, whole, right)
                }
                None => found.help(format!("close it: {})", self.text_of(start, end).trim_end())),
            };
            self.faults.push(found);
        } else if !named {
            self.other(
                start,
                end,
                "these brackets are empty",
                "The unit of a value stands in round brackets right before it.",
                "write the unit in the brackets, as in (ft)38, or remove them",
            );
        }
    }

    /// `(')24`: a mark of feet or inches in the place of its unit. True where that was so.
    fn mark_for_a_unit(&mut self, atom: &Atom) -> bool {
        let mark = atom.text();
        let is_mark = matches!(mark, "'" | "’" | "′" | "\"" | "”" | "″");
        let Some(unit) = number::unit_of(mark).filter(|_| is_mark) else { return false };
        let found = self
            .faults
            .at(&rules::NUMBER_WITH_GLUED_UNIT, atom.start, atom.end, format!("{mark} is no name of a unit"))
            .why("A unit stands in round brackets before its number, by its name.")
            .help(format!("write {unit} in the place of {mark}, as in ({unit})24"))
            .edit(Certainty::Certain, self.faults.span(atom.start, atom.end), unit);
        self.faults.push(found);
        true
    }

    pub(super) fn entry(&mut self) {
        let start = self.here();
        let before = self.faults.count();
        let typed = self.kind() == Some(Kind::OpenParen);
        if typed {
            self.annotation();
            self.gap(false);
        }
        match self.kind() {
            Some(Kind::Equals) => self.nameless(start),
            Some(Kind::CloseParen) => {
                let at = self.here();
                self.at += 1;
                if self.faults.count() == before {
                    let before = self.at.checked_sub(2).and_then(|before| self.tokens.get(before)).copied();
                    let unit = before.filter(|t| number::unit_of(t.text(self.text)) == Some(t.text(self.text)));
                    let value = self.peek().filter(|t| t.kind == Kind::Word);
                    let found = self.not_understood(
                        at,
                        at + 1,
                        "this bracket was never opened",
                        "Round brackets hold the unit of the value behind them.",
                    );
                    let found = match (unit, value) {
                        (Some(unit), Some(value)) => {
                            let right = format!("({}){}", unit.text(self.text), value.text(self.text));
                            let whole = self.faults.span(unit.start, value.end);
                            self.at += 1;
                            found.help(format!("write {right}")).edit(Certainty::Certain, whole, right)
                        }
                        _ => found.help("remove it, or write the value as (ft)38"),
                    };
                    self.faults.push(found);
                }
            }
            Some(_) if self.peek().is_some_and(|t| t.is_atom()) => self.property_or_value(start, typed),
            _ if self.faults.count() == before => {
                let end = self.behind();
                let found = self
                    .missing(start, end, format!("no value follows {}", self.text_of(start, end).trim()))
                    .help(format!("write the value right behind it: {}38", self.text_of(start, end).trim()));
                self.faults.push(found);
            }
            _ => {
                // An annotation with a fault of its own; what stopped it is read by the caller.
            }
        }
    }

    fn missing(&self, start: usize, end: usize, title: String) -> Diagnostic {
        self.faults.at(&rules::VALUE_MISSING, start, end, title).here("the value is missing").why(
            "Without a value the compiler cannot know what was meant, and the rest of the line would be read wrongly.",
        )
    }

    /// `=` with no key before it.
    fn nameless(&mut self, start: usize) {
        let end = self.here() + 1;
        while self.eat(Kind::Equals).is_some() {}
        self.gap(false);
        self.other(
            start,
            end,
            "this `=` has no name before it",
            "A property is a name, `=` and a value.",
            "write the property's name right before the `=`",
        );
        if self.kind() == Some(Kind::OpenParen) {
            self.annotation();
        }
        if self.peek().is_some_and(|t| t.is_atom()) {
            self.atom();
        }
    }

    fn property_or_value(&mut self, start: usize, typed: bool) {
        let atom = self.atom().behind_unit(start);
        if atom.is_comment(Role::Value) {
            atom.judge(Role::Value, self.faults);
            self.skip_line();
            return;
        }
        if !self.equals_follows() {
            if !self.feet_and_inches(&atom) {
                atom.judge(Role::Value, self.faults);
                self.unit_behind(&atom);
            }
            return;
        }
        if typed {
            let help = format!("write {}={}…", atom.text(), self.text_of(start, atom.start).trim());
            self.other(
                start,
                atom.end,
                "the unit stands before the property's name",
                "A unit stands right before its value.",
                help,
            );
        } else {
            atom.judge(Role::Key, self.faults);
        }
        self.value_of(&atom);
    }

    /// True where `=` comes next, behind white space at most.
    fn equals_follows(&self) -> bool {
        let rest = self.tokens.get(self.at..).unwrap_or_default();
        rest.iter()
            .find(|t| !matches!(t.kind, Kind::Space | Kind::BlockComment))
            .is_some_and(|t| t.kind == Kind::Equals)
    }

    fn value_of(&mut self, key: &Atom) {
        self.gap(false);
        let equals = self.here();
        self.at += 1;
        if self.kind() == Some(Kind::Equals) {
            while self.eat(Kind::Equals).is_some() {}
            let end = self.behind();
            let value = self.peek().filter(Token::is_atom).map_or("…", |t| t.text(self.text));
            let found = self
                .not_understood(equals, end, "one `=` too many", "A property is a name, one `=` and a value.")
                .help(format!("write {}={value}", key.text()))
                .edit(Certainty::Certain, self.faults.span(equals, end), "=");
            self.faults.push(found);
        }
        let before = self.faults.count();
        self.gap(false);
        let value_start = self.here();
        let typed = self.kind() == Some(Kind::OpenParen);
        if typed {
            self.annotation();
            self.gap(false);
        }
        let at_value = self.peek().is_some_and(|t| t.is_atom());
        if at_value {
            let from = self.at;
            let value = self.atom().behind_unit(value_start);
            if !(self.equals_follows() && !typed && value.start > equals + 1) {
                let told =
                    self.feet_and_inches(&value) || self.thousands_by_blank(&value) || self.smaller_unit_behind(&value);
                if !told && !self.in_words(key, &value, typed) && !self.unit_word_behind(&value, typed) {
                    value.judge(Role::Value, self.faults);
                    self.unit_behind(&value);
                }
                return;
            }
            // `key= next=1`: the value is missing, and `next` is a key.
            self.at = from;
        }
        if self.faults.count() > before {
            return;
        }
        let end = if typed { self.behind() } else { equals + 1 };
        let unit = if typed { self.text_of(value_start, end) } else { "" };
        let found = self.missing(key.start, end, format!("{} has no value", key.text())).help(format!(
            "write {}={unit}… with the value right behind it, or remove {}",
            key.text(),
            key.text()
        ));
        self.faults.push(found);
    }

    /// `ft(38)`, of which the unit has been read as a value. True where that was so.
    pub(super) fn unit_before_brackets(&mut self) -> bool {
        let from = self.at.saturating_sub(1);
        let Some([unit, open, number, close]) = self.tokens.get(from..from + 4) else { return false };
        let (unit_text, number_text) = (unit.text(self.text), number.text(self.text));
        let is_it = open.kind == Kind::OpenParen
            && close.kind == Kind::CloseParen
            && number::unit_of(unit_text) == Some(unit_text)
            && number::looks_like(number_text)
            && number::form(number_text) == number::Form::Good;
        if !is_it {
            return false;
        }
        let (start, end, right) = (unit.start, close.end, format!("({unit_text}){number_text}"));
        self.at += 3;
        self.instead(
            start,
            end,
            "the brackets hold a number",
            "The unit stands in the brackets and the number behind them.",
            &right,
        );
        true
    }

    /// `room("hall")`, a name or a key with its text in brackets. True where that was so.
    pub(super) fn text_in_brackets(&mut self, is_node: bool) -> bool {
        let from = self.at.saturating_sub(1);
        let Some([name, open, text, close]) = self.tokens.get(from..from + 4) else { return false };
        if [name.kind, open.kind, text.kind, close.kind]
            != [Kind::Word, Kind::OpenParen, Kind::Quoted, Kind::CloseParen]
        {
            return false;
        }
        let between = if is_node { ' ' } else { '=' };
        let (start, end) = (name.start, close.end);
        let right = format!("{}{between}{}", name.text(self.text), text.text(self.text));
        self.at += 3;
        self.instead(
            start,
            end,
            "the brackets hold a text",
            "Round brackets hold a unit. A text stands behind the name of its node, or behind the name of its property and `=`.",
            &right,
        );
        true
    }

    /// `38(ft)`: the unit behind its number.
    fn unit_behind(&mut self, value: &Atom) {
        if self.kind() != Some(Kind::OpenParen) || !value.is_number() {
            return;
        }
        let start = self.here();
        let rest = self.tokens.get(self.at..).unwrap_or_default();
        let mut line = rest.iter().take_while(|t| t.kind != Kind::Newline);
        let end = line.find(|t| t.kind == Kind::CloseParen).map_or(start + 1, |t| t.end);
        let right = format!("{}{}", self.text_of(start, end), value.text());
        self.instead(
            value.start,
            end,
            "the unit stands behind its number",
            "The unit stands in brackets right before the number.",
            &right,
        );
        self.pass(end);
    }
}

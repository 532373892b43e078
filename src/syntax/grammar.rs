//! The grammar of a piece, read leniently: every mistake is found once, and reading goes on behind it.
//!
//! `node := (type)? name (argument | key=value)* { node* }? (newline | ;)`. What a slashdash takes out, comments
//! and line continuations are noted as blanks: the parser behind this sees spaces there, and only text that this
//! reader found no fault in.

use super::atom::{Atom, Role};
use super::faults::Faults;
use super::rules;
use super::token::{Kind, Token};
use crate::diag::Diagnostic;

/// What the reader learnt of a piece.
#[derive(Debug, Default)]
pub struct Reading {
    /// Bytes that the parser is to see as spaces.
    pub blanks: Vec<(usize, usize)>,
}

/// Reads a piece and reports its mistakes.
pub fn read(text: &str, tokens: &[Token], faults: &mut Faults) -> Reading {
    let mut reader = Reader { text, tokens, at: 0, faults, reading: Reading::default() };
    while reader.peek().is_some() {
        reader.nodes();
        // Braces that do not add up have been reported where the text was cut.
        reader.eat(Kind::CloseBrace);
    }
    reader.reading
}

struct Reader<'a> {
    text: &'a str,
    tokens: &'a [Token],
    at: usize,
    faults: &'a mut Faults,
    reading: Reading,
}

/// What a node has had so far.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Entries,
    HiddenChildren,
    Children,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<Token> {
        self.tokens.get(self.at).copied()
    }

    fn kind(&self) -> Option<Kind> {
        self.peek().map(|t| t.kind)
    }

    fn eat(&mut self, kind: Kind) -> Option<Token> {
        let token = self.peek().filter(|t| t.kind == kind)?;
        self.at += 1;
        Some(token)
    }

    /// First byte of the next token.
    fn here(&self) -> usize {
        self.peek().map_or_else(|| self.behind(), |t| t.start)
    }

    /// One past the last byte of the token before.
    fn behind(&self) -> usize {
        self.at.checked_sub(1).and_then(|b| self.tokens.get(b)).map_or(0, |t| t.end)
    }

    fn text_of(&self, start: usize, end: usize) -> &'a str {
        self.text.get(start..end).unwrap_or("")
    }

    fn blank(&mut self, start: usize, end: usize) {
        self.reading.blanks.push((start, end));
    }

    fn other(&mut self, start: usize, end: usize, title: &str, why: &str, help: impl Into<String>) {
        let found = self.faults.at(&rules::TEXT_NOT_UNDERSTOOD, start, end, title).why(why).help(help);
        self.faults.push(found);
    }

    /// Passes white space, comments and continued line ends; with `lines`, line ends as well.
    fn gap(&mut self, lines: bool) -> bool {
        let from = self.at;
        while let Some(token) = self.peek() {
            match token.kind {
                Kind::Space => {}
                Kind::BlockComment => self.blank(token.start, token.end),
                Kind::Continuation => {
                    self.continuation(token);
                    continue;
                }
                Kind::Newline if lines => {}
                Kind::LineComment if lines => self.blank(token.start, token.end),
                _ => break,
            }
            self.at += 1;
        }
        self.at > from
    }

    /// `\` takes in the rest of its line, which must be blank.
    fn continuation(&mut self, slash: Token) {
        self.at += 1;
        let from = self.at;
        while self.peek().is_some_and(|t| matches!(t.kind, Kind::Space | Kind::BlockComment)) {
            self.at += 1;
        }
        self.eat(Kind::LineComment);
        if self.eat(Kind::Newline).is_some() || self.peek().is_none() {
            self.blank(slash.start, self.behind());
            return;
        }
        self.at = from;
        self.other(
            slash.start,
            slash.end,
            "text follows the line continuation",
            "A `\\` outside a string carries a node on to the next line, so only a comment may stand behind it on its line.",
            "remove the `\\`, or put text that holds one in quotes and write it twice: \"C:\\\\dir\"",
        );
    }

    fn behind_a_gap(&self) -> bool {
        self.at.checked_sub(1).and_then(|b| self.tokens.get(b)).is_some_and(Token::is_blank)
    }

    fn nodes(&mut self) {
        loop {
            self.gap(true);
            match self.kind() {
                None | Some(Kind::CloseBrace) => return,
                Some(Kind::Semicolon) => {
                    let (start, end) = (self.here(), self.here() + 1);
                    self.at += 1;
                    self.other(
                        start,
                        end,
                        "this `;` ends no node",
                        "A semicolon ends a node on its line; here no node stands before it.",
                        "remove it",
                    );
                }
                Some(_) => self.node(),
            }
        }
    }

    fn node(&mut self) {
        let start = self.here();
        let hidden = self.eat(Kind::Slashdash).is_some();
        if hidden {
            self.gap(true);
        }
        if matches!(self.kind(), None | Some(Kind::CloseBrace | Kind::Semicolon | Kind::Slashdash)) {
            self.dangling(start);
            return;
        }
        if self.kind() == Some(Kind::OpenParen) {
            self.annotation();
            self.gap(false);
        }
        self.name();
        let mut part = Part::Entries;
        loop {
            let spaced = self.gap(false) || self.behind_a_gap();
            match self.kind() {
                None | Some(Kind::Newline | Kind::LineComment | Kind::CloseBrace) => break,
                Some(Kind::Semicolon) => {
                    self.at += 1;
                    break;
                }
                Some(Kind::OpenBrace) if part != Part::Children => {
                    self.children();
                    part = Part::Children;
                }
                Some(Kind::Slashdash) => part = self.hide(part, spaced),
                Some(_) if part == Part::Entries => {
                    if !spaced && !self.beside_a_fault() {
                        self.no_space();
                    }
                    self.entry();
                }
                Some(_) => {
                    self.after_children();
                    break;
                }
            }
        }
        if hidden {
            self.blank(start, self.behind());
        }
    }

    /// A `)` or `=` out of place is reported for itself.
    fn beside_a_fault(&self) -> bool {
        let behind = self.at.checked_sub(1).and_then(|b| self.tokens.get(b)).map(|t| t.kind);
        let stray = |kind| matches!(kind, Some(Kind::CloseParen | Kind::Equals));
        stray(self.kind()) || stray(behind)
    }

    fn no_space(&mut self) {
        let at = self.here();
        let first = self.text.get(at..).and_then(|t| t.chars().next()).map_or(0, char::len_utf8);
        self.other(
            at,
            at + first,
            "a space is missing here",
            "Names and values are told apart by the space between them.",
            "put a space before it",
        );
    }

    fn dangling(&mut self, start: usize) {
        self.other(
            start,
            start + 2,
            "nothing stands behind this `/-`",
            "`/-` takes out the node, value or braces that follow it; here there is nothing to take out.",
            "remove the `/-`, or use `//` for a comment",
        );
        // A second `/-` right behind is part of the same mistake.
        while self.eat(Kind::Slashdash).is_some() {
            self.gap(false);
        }
        self.eat(Kind::Semicolon);
    }

    fn name(&mut self) {
        match self.kind() {
            Some(Kind::OpenBrace) => {
                let at = self.here();
                self.other(
                    at,
                    at + 1,
                    "these braces have no node name before them",
                    "What stands in braces belongs to the node in front of them. A node ends at the end of its line, so its opening brace must stand on the same line.",
                    "put the `{` at the end of the line with the node's name",
                );
            }
            Some(Kind::Equals | Kind::CloseParen) => {}
            Some(_) if self.peek().is_some_and(|t| t.is_atom()) => {
                let atom = self.atom();
                atom.judge(Role::Name, self.faults);
                if atom.is_comment(Role::Name) {
                    self.skip_line();
                } else if self.kind() == Some(Kind::Equals) {
                    self.lone_property(&atom);
                }
            }
            _ => {
                let at = self.here();
                self.other(
                    at,
                    at,
                    "a node name is missing",
                    "A line of the spec starts with the name of its node.",
                    "write the node's name first",
                );
            }
        }
    }

    /// `title="x"` on a line of its own.
    fn lone_property(&mut self, key: &Atom) {
        self.other(
            key.start,
            key.end,
            "a property without a node",
            "A node ends at the end of its line, so what stands on the next line is no longer part of it.",
            "write it behind its node on the same line, or end the line before with a `\\`",
        );
        self.at += 1;
        self.gap(false);
        if self.kind() == Some(Kind::OpenParen) {
            self.annotation();
            self.gap(false);
        }
        if self.peek().is_some_and(|t| t.is_atom()) {
            self.atom().judge(Role::Value, self.faults);
        }
    }

    fn skip_line(&mut self) {
        while self.kind().is_some_and(|k| !matches!(k, Kind::Newline | Kind::OpenBrace | Kind::CloseBrace)) {
            if let Some(token) = self.peek().filter(|t| t.kind == Kind::LineComment || t.kind == Kind::BlockComment) {
                self.blank(token.start, token.end);
            }
            self.at += 1;
        }
    }

    fn children(&mut self) {
        self.at += 1;
        self.nodes();
        self.eat(Kind::CloseBrace);
    }

    /// `/-` within a node.
    fn hide(&mut self, part: Part, spaced: bool) -> Part {
        let start = self.here();
        self.at += 1;
        self.gap(true);
        let entry = self.peek().is_some_and(|t| t.is_atom() || t.kind == Kind::OpenParen);
        if self.kind() == Some(Kind::OpenBrace) {
            self.children();
        } else if !entry || part != Part::Entries {
            self.dangling(start);
            return part;
        } else {
            self.entry();
        }
        if !spaced && part != Part::Children {
            self.other(
                start,
                start + 2,
                "a space is missing before this `/-`",
                "Names and values are told apart by the space between them.",
                "put a space before it",
            );
        }
        self.blank(start, self.behind());
        if entry || part == Part::Children { part } else { Part::HiddenChildren }
    }

    fn after_children(&mut self) {
        let start = self.here();
        let brace = self.kind() == Some(Kind::OpenBrace);
        let from = self.at;
        while self
            .kind()
            .is_some_and(|k| !matches!(k, Kind::Newline | Kind::CloseBrace | Kind::Semicolon | Kind::OpenBrace))
        {
            self.at += 1;
        }
        let tokens = self.tokens.get(from..self.at).unwrap_or_default();
        let end = tokens.iter().rfind(|t| !t.is_blank()).map_or(start + 1, |t| t.end);
        let title = if brace { "a node has only one pair of braces" } else { "text follows the braces of a node" };
        self.other(
            start,
            end,
            title,
            "The closing brace ends the node; what follows belongs to no node.",
            "start a new line after the `}`, or move values before the `{`",
        );
        if brace {
            self.children();
        }
    }

    /// `(type)`.
    fn annotation(&mut self) {
        let start = self.here();
        self.at += 1;
        self.gap(false);
        let named = self.peek().is_some_and(|t| t.is_atom());
        let mut swapped = None;
        if named {
            let atom = self.atom();
            if atom.is_number() {
                swapped = Some(atom);
            } else {
                atom.judge(Role::Annotation, self.faults);
            }
        }
        self.gap(false);
        // `(ft 38)`: the number belongs behind the bracket.
        if named && swapped.is_none() && self.peek().is_some_and(|t| t.is_atom()) {
            let unit = self.tokens.get(self.at.saturating_sub(2)).map_or("", |t| t.text(self.text));
            let value = self.atom();
            let help = format!("write ({}){}", unit.trim(), value.text());
            self.gap(false);
            let closed = self.eat(Kind::CloseParen).is_some();
            let end = if closed { self.behind() } else { value.end };
            self.other(
                start,
                end,
                "the brackets hold more than a unit",
                "Only the unit stands in the brackets; its number follows right behind them.",
                help,
            );
            return;
        }
        let closed = self.eat(Kind::CloseParen).is_some();
        let end = self.behind();
        if let Some(number) = swapped {
            let unit = self.peek().filter(|t| t.kind == Kind::Word).map_or("ft", |t| t.text(self.text));
            let help = format!("write ({unit}){}", number.text());
            self.other(
                start,
                end,
                "the brackets hold a number",
                "The unit stands in the brackets and the number behind them.",
                help,
            );
        } else if !closed {
            let help = format!("close it: {})", self.text_of(start, end).trim_end());
            self.other(
                start,
                start + 1,
                "this bracket is not closed",
                "The unit of a value stands in round brackets right before it.",
                help,
            );
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

    fn entry(&mut self) {
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
                    self.other(
                        at,
                        at + 1,
                        "this bracket was never opened",
                        "Round brackets hold the unit of the value behind them.",
                        "remove it, or write the value as (ft)38",
                    );
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
        let atom = self.atom();
        if atom.is_comment(Role::Value) {
            atom.judge(Role::Value, self.faults);
            self.skip_line();
            return;
        }
        if !self.equals_follows() {
            atom.judge(Role::Value, self.faults);
            self.unit_behind(&atom);
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
            self.other(
                equals,
                end,
                "one `=` too many",
                "A property is a name, one `=` and a value.",
                format!("write {}=…", key.text()),
            );
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
            let value = self.atom();
            if !(self.equals_follows() && !typed && value.start > equals + 1) {
                value.judge(Role::Value, self.faults);
                self.unit_behind(&value);
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

    /// `38(ft)`: the unit behind its number.
    fn unit_behind(&mut self, value: &Atom) {
        if self.kind() != Some(Kind::OpenParen) || !value.is_number() {
            return;
        }
        let start = self.here();
        let end = self.tokens.iter().skip(self.at).find(|t| t.kind == Kind::CloseParen).map_or(start + 1, |t| t.end);
        let help = format!("write {}{}", self.text_of(start, end), value.text());
        self.other(
            value.start,
            end,
            "the unit stands behind its number",
            "The unit stands in brackets right before the number.",
            help,
        );
        while self.here() < end && self.peek().is_some() {
            self.at += 1;
        }
    }

    /// The name or value that starts here: every atom up to the next space or mark.
    fn atom(&mut self) -> Atom<'a> {
        let from = self.at;
        while self.peek().is_some_and(|t| t.is_atom()) {
            self.at += 1;
        }
        let tokens = self.tokens.get(from..self.at).unwrap_or_default();
        let mut atom = Atom::new(self.text, tokens);
        if atom.opens_typographic() {
            let line = self.tokens.get(self.at..).unwrap_or_default();
            let more = line.iter().take_while(|t| t.is_atom() || t.kind == Kind::Space);
            if let Some(past) = more.clone().position(|t| t.is_atom() && Atom::closes_typographic(t.text(self.text))) {
                if !atom.closes() {
                    self.at += past + 1;
                }
            }
            atom = Atom::new(self.text, self.tokens.get(from..self.at).unwrap_or_default());
        }
        atom
    }
}

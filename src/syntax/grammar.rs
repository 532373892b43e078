//! The grammar of a piece, read leniently: every mistake is found once, and reading goes on behind it.
//!
//! `node := (type)? name (argument | key=value)* { node* }? (newline | ;)`. What a slashdash takes out, comments
//! and line continuations are noted as blanks: the parser behind this sees spaces there, and only text that this
//! reader found no fault in.

use super::atom::{Atom, Role};
use super::faults::Faults;
use super::rules;
use super::token::{Kind, Token};
use crate::diag::{Certainty, Diagnostic};

/// What the reader learnt of a piece.
#[derive(Debug, Default)]
pub(crate) struct Reading {
    /// Bytes that the parser is to see as spaces.
    pub(crate) blanks: Vec<(usize, usize)>,
}

/// Reads a piece and reports its mistakes.
pub(crate) fn read(text: &str, tokens: &[Token], faults: &mut Faults) -> Reading {
    let mut reader = Reader { text, tokens, at: 0, faults, reading: Reading::default() };
    while reader.peek().is_some() {
        reader.nodes();
        // Braces that do not add up have been reported where the text was cut.
        reader.eat(Kind::CloseBrace);
    }
    reader.reading
}

/// A piece and how far it has been read. Entries are read in [`entry`](super::entry).
pub(super) struct Reader<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) at: usize,
    pub(super) faults: &'a mut Faults,
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
    pub(super) fn peek(&self) -> Option<Token> {
        self.tokens.get(self.at).copied()
    }

    pub(super) fn kind(&self) -> Option<Kind> {
        self.peek().map(|t| t.kind)
    }

    pub(super) fn eat(&mut self, kind: Kind) -> Option<Token> {
        let token = self.peek().filter(|t| t.kind == kind)?;
        self.at += 1;
        Some(token)
    }

    /// First byte of the next token.
    pub(super) fn here(&self) -> usize {
        self.peek().map_or_else(|| self.behind(), |t| t.start)
    }

    /// One past the last byte of the token before.
    pub(super) fn behind(&self) -> usize {
        self.at.checked_sub(1).and_then(|b| self.tokens.get(b)).map_or(0, |t| t.end)
    }

    pub(super) fn text_of(&self, start: usize, end: usize) -> &'a str {
        self.text.get(start..end).unwrap_or("")
    }

    fn blank(&mut self, start: usize, end: usize) {
        self.reading.blanks.push((start, end));
    }

    pub(super) fn other(&mut self, start: usize, end: usize, title: &str, why: &str, help: impl Into<String>) {
        self.faults.push(self.not_understood(start, end, title, why).help(help));
    }

    /// The same where other text in its place is certainly meant; the help says so.
    pub(super) fn instead(&mut self, start: usize, end: usize, title: &str, why: &str, right: &str) {
        let found = self.not_understood(start, end, title, why).help(format!("write {right}"));
        self.faults.push(found.edit(Certainty::Certain, self.faults.span(start, end), right));
    }

    pub(super) fn not_understood(&self, start: usize, end: usize, title: &str, why: &str) -> Diagnostic {
        self.faults.at(&rules::TEXT_NOT_UNDERSTOOD, start, end, title).why(why)
    }

    /// Passes white space, comments and continued line ends; with `lines`, line ends as well.
    pub(super) fn gap(&mut self, lines: bool) -> bool {
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
        let behind_name = self.at;
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
                    if !spaced && (self.unit_before_brackets() || self.text_in_brackets(self.at == behind_name)) {
                        continue;
                    }
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
                let found = self
                    .not_understood(
                        at,
                        at + 1,
                        "these braces have no node name before them",
                        "What stands in braces belongs to the node in front of them. A node ends at the end of its line, so its opening brace must stand on the same line.",
                    )
                    .help("put the `{` at the end of the line with the node's name");
                let above = self.text_of(0, at).trim_end();
                let line = above.rsplit('\n').next().unwrap_or_default();
                let is_open = !line.is_empty() && !line.contains("//") && !line.ends_with(['{', '}', ';']);
                let joined = self.faults.span(above.len(), at);
                self.faults.push(if is_open { found.edit(Certainty::Likely, joined, " ") } else { found });
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
        let value = self.tokens.get(self.at..).unwrap_or_default().iter().find(|t| t.is_atom()).copied();
        let found = self
            .not_understood(
                key.start,
                key.end,
                "a property without a node",
                "A node ends at the end of its line and at a `;`, so what stands behind that is no longer part of it.",
            )
            .help(format!(
                "write it behind its node on the same line without a `;`, or end the line before with a `\\`; if it is a node, write {} {}",
                key.text(),
                value.map_or("", |t| t.text(self.text))
            ));
        // A number is what a zone begins with, and no property without a node.
        let number =
            value.filter(|t| t.kind == Kind::Word && t.text(self.text).starts_with(|c: char| c.is_ascii_digit()));
        let found = match number {
            Some(number) => found.edit(Certainty::Likely, self.faults.span(key.end, number.start), " "),
            None => found,
        };
        self.faults.push(found);
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

    pub(super) fn skip_line(&mut self) {
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

    /// The name or value that starts here: every atom up to the next space or mark, or to the quotation mark of
    /// print that closes it.
    pub(super) fn atom(&mut self) -> Atom<'a> {
        let from = self.at;
        while self.peek().is_some_and(|t| t.is_atom()) {
            self.at += 1;
        }
        let tokens = self.tokens.get(from..self.at).unwrap_or_default();
        let mut atom = Atom::new(self.text, tokens);
        if atom.opens_typographic() && !atom.closes() {
            let line = self.tokens.get(self.at..).unwrap_or_default();
            let mut more = line.iter().take_while(|t| t.is_atom() || t.kind == Kind::Space);
            if let Some(past) = more.position(|t| t.is_atom() && Atom::closes_typographic(t.text(self.text))) {
                self.at += past + 1;
                atom = Atom::new(self.text, self.tokens.get(from..self.at).unwrap_or_default());
            }
        }
        atom
    }
}

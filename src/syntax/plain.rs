//! The tree of a piece straight from its tokens, where nothing in it is unusual.
//!
//! The [`grammar`](super::grammar) step has found no fault in the piece. What a token alone does not tell is left to kdl:
//! escapes, raw strings, strings over several lines, numbers in other notations, parts behind a slashdash. kdl is also the
//! judge of what is read here, in the tests.

use super::faults::Faults;
use super::token::{Kind, Token};
use super::tree::{Argument, Node, Property, Value, semicolon_behind};
use crate::base::Spanned;

/// The nodes of a piece without a fault; `None` where something in it is unusual.
pub(super) fn nodes(text: &str, tokens: &[Token], faults: &Faults) -> Option<Vec<Node>> {
    let mut reader = Reader { text, tokens, at: 0, faults };
    let nodes = reader.nodes()?;
    reader.peek().is_none().then_some(nodes)
}

struct Reader<'a> {
    text: &'a str,
    tokens: &'a [Token],
    at: usize,
    faults: &'a Faults,
}

impl Reader<'_> {
    fn peek(&self) -> Option<Token> {
        self.tokens.get(self.at).copied()
    }

    fn kind(&self) -> Option<Kind> {
        self.peek().map(|token| token.kind)
    }

    fn next(&mut self) -> Option<Token> {
        let token = self.peek()?;
        self.at += 1;
        Some(token)
    }

    fn eat(&mut self, kind: Kind) -> Option<Token> {
        self.peek().filter(|token| token.kind == kind).and_then(|_| self.next())
    }

    /// Passes blanks and continued line ends; with `lines`, line ends as well.
    fn gap(&mut self, lines: bool) {
        let mut continued = false;
        while let Some(kind) = self.kind() {
            match kind {
                Kind::Space | Kind::BlockComment => {}
                Kind::Continuation => continued = true,
                Kind::LineComment if lines || continued => {}
                Kind::Newline if lines || continued => continued = false,
                _ => return,
            }
            self.at += 1;
        }
    }

    fn nodes(&mut self) -> Option<Vec<Node>> {
        let mut nodes = Vec::new();
        loop {
            self.gap(true);
            if matches!(self.kind(), None | Some(Kind::CloseBrace)) {
                return Some(nodes);
            }
            nodes.push(self.node()?);
        }
    }

    fn node(&mut self) -> Option<Node> {
        let start = self.peek()?.start;
        let annotation = self.annotation()?;
        let name = self.name()?;
        let (arguments, properties) = (Vec::new(), Vec::new());
        let span = self.faults.span(start, name.span.end);
        let mut node = Node { name, annotation, arguments, properties, children: None, span, semicolon: None };
        loop {
            self.gap(false);
            match self.kind() {
                None | Some(Kind::Newline | Kind::LineComment | Kind::CloseBrace) => return Some(node),
                Some(Kind::Semicolon) => {
                    node.semicolon = semicolon_behind(self.text, node.span.end);
                    self.at += 1;
                    return Some(node);
                }
                Some(_) if node.children.is_some() => return None,
                Some(Kind::OpenBrace) => {
                    self.at += 1;
                    node.children = Some(self.nodes()?);
                    node.span.end = self.eat(Kind::CloseBrace)?.end;
                }
                // A value stands apart from what is before it.
                Some(_) if self.peek()?.start == node.span.end => return None,
                Some(_) => node.span.end = self.entry(&mut node)?,
            }
        }
    }

    /// Adds an argument or a property; gives where it ends.
    fn entry(&mut self, node: &mut Node) -> Option<usize> {
        let start = self.peek()?.start;
        let behind = self.tokens.get(self.at + 1).map(|token| token.kind);
        let key = if behind == Some(Kind::Equals) { Some(self.name()?) } else { None };
        self.at += usize::from(key.is_some());
        let annotation = self.annotation()?;
        let token = self.next()?;
        let value = Spanned::new(value(token, self.text)?, self.faults.span(token.start, token.end));
        let span = self.faults.span(start, token.end);
        match key {
            Some(name) => node.properties.push(Property { name, value, annotation, span }),
            None => node.arguments.push(Argument { value, annotation, span }),
        }
        Some(token.end)
    }

    /// The type annotation that may stand here; `None` where it is unusual.
    #[allow(clippy::option_option, reason = "there need not be one, and one that is there may be unusual")]
    fn annotation(&mut self) -> Option<Option<Spanned<String>>> {
        if self.eat(Kind::OpenParen).is_none() {
            return Some(None);
        }
        let name = self.name()?;
        self.eat(Kind::CloseParen)?;
        self.gap(false);
        Some(Some(name))
    }

    fn name(&mut self) -> Option<Spanned<String>> {
        let token = self.next()?;
        match value(token, self.text)? {
            Value::Text(name) => Some(Spanned::new(name, self.faults.span(token.start, token.end))),
            Value::Number { .. } | Value::Flag(_) | Value::Null => None,
        }
    }
}

fn value(token: Token, text: &str) -> Option<Value> {
    let written = token.text(text);
    match (token.kind, written) {
        (Kind::Keyword, "#true") => Some(Value::Flag(true)),
        (Kind::Keyword, "#false") => Some(Value::Flag(false)),
        (Kind::Keyword, "#null") => Some(Value::Null),
        (Kind::Quoted, _) => {
            let inside = written.strip_prefix('"')?.strip_suffix('"')?;
            let plain = !inside.contains(['"', '\\']) && token.flaw.is_none();
            plain.then(|| Value::Text(inside.to_owned()))
        }
        (Kind::Word, _) if written.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) => number(written),
        // The words that KDL keeps for itself are faults of the grammar step.
        (Kind::Word, _) => Some(Value::Text(written.to_owned())),
        _ => None,
    }
}

/// A number in decimals.
fn number(written: &str) -> Option<Value> {
    let are_digits = |digits: &str| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    let unsigned = written.strip_prefix(['+', '-']).unwrap_or(written);
    let integer = match unsigned.split_once('.') {
        Some((whole, part)) if are_digits(whole) && are_digits(part) => None,
        None if are_digits(unsigned) => Some(written.parse().ok()?),
        _ => return None,
    };
    Some(Value::Number { written: written.to_owned(), value: written.parse().ok()?, integer })
}

//! Where in the text a cursor is: in which node, at which of its values.
//!
//! Read from the tokens alone, so that it can be told while the text around it is being written. What the language has at
//! that place is looked up in the table (`schema`). Out of scope: whether what stands there is right.

use std::ops::Range;

use crate::schema::nodes;
use crate::schema::spec::{Kind, NodeSpec};
use crate::syntax::token::{self, Kind as Mark, Token};

/// What a cursor is at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Item {
    /// A node's name, or where one may begin.
    Node,
    /// A value by position, from 0, or the key of a property.
    Argument(usize),
    /// The key of a property.
    Key(String),
    /// The value of a property.
    Value(String),
    /// The unit before an argument.
    UnitOfArgument(usize),
    /// The unit before the value of a property.
    UnitOf(String),
    /// A comment, or marks without a meaning of their own.
    Nothing,
}

/// A node without what is in its braces, as far as it is written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Head {
    /// Its name; empty where none is being written.
    pub(crate) node: String,
    /// Its arguments, strings without quotes.
    pub(crate) arguments: Vec<String>,
    /// Its properties, strings without quotes.
    pub(crate) properties: Vec<(String, String)>,
}

impl Head {
    /// The value of a property.
    pub(crate) fn property(&self, key: &str) -> Option<&str> {
        self.properties.iter().find(|(written, _)| written == key).map(|(_, value)| value.as_str())
    }
}

/// See the module's head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Place {
    /// The nodes in whose braces it is, from the outermost on.
    pub(crate) around: Vec<Head>,
    /// The node that is being written.
    pub(crate) head: Head,
    /// From the first byte of that node to its brace or end.
    pub(crate) extent: Range<usize>,
    /// What the cursor is at.
    pub(crate) item: Item,
    /// The token there, up to the cursor where it has no end; nothing, where it is between two.
    pub(crate) token: Range<usize>,
}

impl Place {
    /// The place of a byte. A cursor at the end of a word is at that word.
    pub(crate) fn of(text: &str, offset: usize) -> Self {
        let tokens = token::tokens(text);
        let mut walk = Walk { text, ..Walk::default() };
        // A cursor between two tokens is at the one that says something.
        let touches = |token: &Token| token.start <= offset && offset <= token.end;
        let says = |token: &&Token| token.is_atom() || matches!(token.kind, Mark::LineComment | Mark::BlockComment);
        let mut here = tokens.iter().filter(|token| touches(token));
        let at = here.clone().find(|token| token.start <= offset && offset < token.end).filter(says);
        let at = at.or_else(|| here.find(|token| says(token) && token.kind != Mark::BlockComment));
        let stop = at.map_or(offset, |token| token.start);
        for token in tokens.iter().take_while(|token| token.start < stop) {
            walk.take(token);
        }
        let next = tokens.iter().find(|token| token.start >= at.map_or(offset, |token| token.end));
        let item = match at {
            Some(token) if matches!(token.kind, Mark::LineComment | Mark::BlockComment) => Item::Nothing,
            Some(_) => walk.item(next.is_some_and(|next| next.kind == Mark::Equals)),
            None => walk.item(false),
        };
        let item = match item {
            Item::Key(_) => Item::Key(at.map(|token| inside(token.text(text)).to_owned()).unwrap_or_default()),
            other => other,
        };
        // The rest of the head; where nothing is being written, there is none.
        let mut rest = walk.clone();
        let mut end = stop;
        let is_written = at.is_some() || !walk.head.node.is_empty();
        for token in tokens.iter().filter(|token| is_written && token.start >= stop) {
            if rest.ends_head(token) {
                break;
            }
            rest.take(token);
            end = if token.is_blank() { end } else { token.end };
        }
        Self {
            around: walk.around,
            head: rest.head,
            extent: if is_written { rest.start..end } else { offset..offset },
            item,
            token: at.map_or(offset..offset, |token| token.start..token.flaw.map_or(token.end, |_| offset)),
        }
    }

    /// The node of the table that is being written.
    pub(crate) fn spec(&self, is_register: bool) -> Option<&'static NodeSpec> {
        let names: Vec<&str> = self.around.iter().chain([&self.head]).map(|head| head.node.as_str()).collect();
        nodes::at(nodes::top(is_register), &names)
    }

    /// The board that is named in the node, or in the nearest around it.
    pub(crate) fn board(&self) -> Option<&str> {
        std::iter::once(&self.head).chain(self.around.iter().rev()).find_map(|head| head.property("board"))
    }

    /// The nodes of the table that may stand here.
    pub(crate) fn may_stand(&self, is_register: bool) -> Vec<&'static NodeSpec> {
        let names: Vec<&str> = self.around.iter().map(|head| head.node.as_str()).collect();
        if names.is_empty() {
            return nodes::top(is_register).to_vec();
        }
        let around = nodes::at(nodes::top(is_register), &names);
        around.into_iter().flat_map(|spec| spec.children).map(|child| child.node).collect()
    }

    /// The row of the table for the value here: its name and kind.
    pub(crate) fn field(&self, spec: &'static NodeSpec) -> Option<(&'static str, Kind)> {
        let argument = |position: usize| {
            let row = spec.arguments.get(position).or_else(|| spec.arguments.last().filter(|row| row.many))?;
            Some((row.name, row.kind))
        };
        let property = |key: &str| spec.properties.iter().find(|row| row.name == key).map(|row| (row.name, row.kind));
        match &self.item {
            Item::Argument(position) | Item::UnitOfArgument(position) => argument(*position),
            Item::Key(key) | Item::Value(key) | Item::UnitOf(key) => property(key),
            Item::Node | Item::Nothing => None,
        }
    }
}

/// Every word, string and comment of a text, each with its place; the nodes only as far as they are written before it.
pub(crate) fn atoms(text: &str) -> Vec<(Token, Place)> {
    let tokens = token::tokens(text);
    let mut walk = Walk { text, ..Walk::default() };
    let mut atoms = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        let is_comment = matches!(token.kind, Mark::LineComment | Mark::BlockComment);
        if token.is_atom() || is_comment {
            let is_key = tokens.get(at + 1).is_some_and(|next| next.kind == Mark::Equals);
            let item = if is_comment { Item::Nothing } else { walk.item(is_key) };
            let mut head = walk.head.clone();
            if item == Item::Node {
                inside(token.text(text)).clone_into(&mut head.node);
            }
            let (extent, around) = (walk.start..token.end, walk.around.clone());
            atoms.push((*token, Place { around, head, extent, item, token: token.start..token.end }));
        }
        walk.take(token);
    }
    atoms
}

/// The reading of tokens up to a place.
#[derive(Clone, Debug, Default)]
struct Walk<'t> {
    text: &'t str,
    around: Vec<Head>,
    head: Head,
    /// Where the node starts, or the next one will.
    start: usize,
    /// The key whose value is next.
    key: Option<String>,
    in_unit: bool,
    goes_on: bool,
}

impl Walk<'_> {
    fn take(&mut self, token: &Token) {
        match token.kind {
            Mark::Space | Mark::LineComment | Mark::BlockComment | Mark::Slashdash => {}
            Mark::Continuation => self.goes_on = true,
            Mark::Newline if std::mem::take(&mut self.goes_on) => {}
            Mark::Newline | Mark::Semicolon => self.next_node(token.end),
            Mark::OpenBrace => {
                let head = std::mem::take(&mut self.head);
                self.around.push(head);
                self.next_node(token.end);
            }
            Mark::CloseBrace => {
                self.around.pop();
                self.next_node(token.end);
            }
            Mark::OpenParen => self.in_unit = true,
            Mark::CloseParen => self.in_unit = false,
            // The last argument was a key.
            Mark::Equals => self.key = Some(self.head.arguments.pop().unwrap_or_default()),
            Mark::Word | Mark::Keyword | Mark::Quoted | Mark::Raw | Mark::OldRaw | Mark::Other if self.in_unit => {}
            Mark::Word | Mark::Keyword | Mark::Quoted | Mark::Raw | Mark::OldRaw | Mark::Other => {
                let written = inside(token.text(self.text)).to_owned();
                if self.head.node.is_empty() {
                    self.head.node = written;
                    self.start = token.start;
                } else if let Some(key) = self.key.take() {
                    self.head.properties.push((key, written));
                } else {
                    self.head.arguments.push(written);
                }
            }
        }
    }

    fn next_node(&mut self, start: usize) {
        let around = std::mem::take(&mut self.around);
        *self = Self { text: self.text, around, start, ..Self::default() };
    }

    /// True where a token ends the head of the node.
    fn ends_head(&self, token: &Token) -> bool {
        match token.kind {
            Mark::Newline => !self.goes_on && !self.head.node.is_empty(),
            Mark::Semicolon | Mark::OpenBrace | Mark::CloseBrace => true,
            _ => false,
        }
    }

    /// What comes next; `is_key` where an equals sign follows it.
    fn item(&self, is_key: bool) -> Item {
        match (&self.key, self.in_unit) {
            _ if self.head.node.is_empty() => Item::Node,
            (Some(key), true) => Item::UnitOf(key.clone()),
            (Some(key), false) => Item::Value(key.clone()),
            (None, true) => Item::UnitOfArgument(self.head.arguments.len()),
            (None, false) if is_key => Item::Key(String::new()),
            (None, false) => Item::Argument(self.head.arguments.len()),
        }
    }
}

/// A word or string without its quotes.
pub(crate) fn inside(written: &str) -> &str {
    let open = written.trim_start_matches('#');
    open.strip_prefix('"').map_or(written, |rest| rest.trim_end_matches('#').trim_end_matches('"'))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The place of the mark `|` in a text.
    fn place(text: &str) -> Place {
        let at = text.find('|').unwrap();
        Place::of(&text.replacen('|', "", 1), at)
    }

    #[test]
    fn every_place_of_a_node_is_told() {
        let zone = "zone 1 \"Tür 🚪\" {\n    loop \"end-of-line\" board=\"main\" {\n        ";
        let item = |rest: &str| place(&format!("{zone}{rest}\n    }}\n}}\n")).item;
        assert_eq!(item("r|un"), Item::Node);
        assert_eq!(item("|"), Item::Node);
        assert_eq!(item("run \"sta|tion\""), Item::Argument(0));
        assert_eq!(item("run \"station\" |"), Item::Argument(1));
        assert_eq!(item("run \"station\" le|ngth=(ft)3"), Item::Key("length".into()));
        assert_eq!(item("run \"station\" length=|"), Item::Value("length".into()));
        assert_eq!(item("run \"station\" length=(ft|)3"), Item::UnitOf("length".into()));
        assert_eq!(item("run \"station\" length=(|"), Item::UnitOf("length".into()));
        assert_eq!(item("run \"station\" length=(ft)3|8 room=\"hall\""), Item::Value("length".into()));
        assert_eq!(item("spot (ft)3 (|ft)4"), Item::UnitOfArgument(1));
        assert_eq!(item("run \"station\" // le|ngth"), Item::Nothing);
        let in_run = place(&format!("{zone}run \"a\" room=\"hall\" {{ contact \"reed\" on=\"d|"));
        assert_eq!(in_run.around.iter().map(|head| head.node.as_str()).collect::<Vec<_>>(), ["zone", "loop", "run"]);
        assert_eq!((in_run.head.node.as_str(), in_run.item), ("contact", Item::Value("on".into())));
        assert_eq!(in_run.around[1].property("board"), Some("main"));
    }

    #[test]
    fn the_head_of_a_node_ends_at_its_brace() {
        let text = "run \"a\" \\\n    room=\"hall\" { contact \"r\"; }\nzone 2";
        let of = |at: usize| {
            let place = Place::of(text, at);
            (place.head.node, text[place.extent].to_owned(), place.head.properties)
        };
        let properties = vec![("room".to_owned(), "hall".to_owned())];
        assert_eq!(of(5), ("run".into(), "run \"a\" \\\n    room=\"hall\"".into(), properties));
        assert_eq!(of(text.find("room").unwrap()).0, "run");
        assert_eq!(of(text.find("\"r\"").unwrap()).1, "contact \"r\"");
        assert_eq!(of(text.len()).1, "zone 2");
    }
}

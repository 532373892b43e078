//! The next text of a register: what has not changed stays byte for byte, comments included.
//!
//! The old text is cut nowhere but at nodes that have changed. A comment inside a piece that is replaced or removed is
//! set above what takes its place. New nodes go where a new file would have them, behind the one before.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::FileId;
use crate::diag::Sink;
use crate::register::Register;
use crate::syntax::token::{self, Kind, Token};
use crate::syntax::{self, Node, Value};

use super::print::{self, Block, HEAD};
use super::read;

/// The text of `new`: afresh, or from the text of `old`.
pub(crate) fn rewrite(text: Option<&str>, old: &Register, new: &Register) -> String {
    let Some(text) = text else { return fresh(new, "") };
    let edited = edited(text, old, new);
    // A text laid out in a way that was not foreseen is written afresh, with its comments at the top.
    let mut sink = Sink::default();
    let read = read::parse(FileId::default(), &edited, &mut sink);
    let own = comments(text);
    let after: BTreeSet<String> = comments(&edited).into_iter().map(|(_, comment)| comment).collect();
    if !sink.has_errors() && read == *new && own.iter().all(|(_, comment)| after.contains(comment)) {
        return edited;
    }
    let own = own.iter().map(|(_, comment)| comment).filter(|comment| !HEAD.lines().any(|line| line == *comment));
    fresh(new, &own.fold(String::new(), |kept, comment| kept + comment + "\n"))
}

fn fresh(register: &Register, comments: &str) -> String {
    let mut text = format!("{HEAD}{comments}\n");
    let mut before: Option<Block> = None;
    for block in print::blocks(register) {
        if before.is_some_and(|before| apart(&before, &block)) {
            text.push('\n');
        }
        text.push_str(&block.text());
        text.push('\n');
        before = Some(block);
    }
    text
}

/// True where a blank line stands between two nodes.
fn apart(before: &Block, next: &Block) -> bool {
    let word = |block: &Block| block.id.split(' ').next().map(str::to_owned);
    next.apart() || word(before) != word(next)
}

/// A piece of the old text and what takes its place.
struct Edit {
    start: usize,
    end: usize,
    text: String,
}

fn edited(text: &str, old: &Register, new: &Register) -> String {
    let document = syntax::parse(FileId::default(), text, &mut Sink::default());
    let nodes: BTreeMap<String, &Node> = document.nodes.iter().filter_map(|node| Some((id_of(node)?, node))).collect();
    let (old, new) = (print::blocks(old), print::blocks(new));
    let (before, after) = (print::by_id(&old), print::by_id(&new));
    let mut editor = Editor { text, comments: comments(text), edits: Vec::new() };
    let mut anchor: Option<(usize, Block)> = None;
    for (nth, block) in new.iter().enumerate() {
        match (nodes.get(&block.id), before.get(block.id.as_str())) {
            (Some(node), Some(before)) => {
                editor.change(node, before, block);
                anchor = Some((editor.line_end(node.span.end), block.clone()));
            }
            _ => {
                // Nothing is before the head, and every register has one.
                let (at, before) = anchor.clone().unwrap_or((0, block.clone()));
                let gap = if apart(&before, block) { "\n\n" } else { "\n" };
                // The blank line that stands there already is the one above it, where the next node needs none.
                let next = new.iter().skip(nth).find(|next| nodes.contains_key(&next.id));
                let takes_it = gap == "\n\n" && next.is_some_and(|next| !apart(block, next));
                let end = if takes_it { at + editor.blank_after(at) } else { at };
                editor.edits.push(Edit { start: at, end, text: format!("{gap}{}", block.text()) });
                anchor = Some((at, block.clone()));
            }
        }
    }
    for block in old.iter().filter(|old| !after.contains_key(old.id.as_str())) {
        if let Some(node) = nodes.get(&block.id) {
            editor.remove(node.span.start, node.span.end);
        }
    }
    editor.finish()
}

/// What a node is among those of a file, as [`Block::id`] has it.
fn id_of(node: &Node) -> Option<String> {
    let first = node.arguments.first().map(|argument| &argument.value.value);
    match (node.name.value.as_str(), first) {
        ("register", _) => Some("register".into()),
        (name @ ("label" | "spent"), Some(Value::Text(text))) => Some(format!("{name} {text}")),
        ("input", Some(Value::Number { integer: Some(number), .. })) => {
            Some(format!("input {} {number}", property(node, "board")?))
        }
        _ => None,
    }
}

/// What a node is among those in a label's braces, as [`Block::lines`] has it.
fn line_id(node: &Node) -> Option<String> {
    let first = node.arguments.first().map(|argument| &argument.value.value);
    match (node.name.value.as_str(), first) {
        ("wire", Some(Value::Number { integer: Some(number), .. })) => Some(format!("wire {number}")),
        ("mounted", _) => {
            let mut keys = ["opening", "device", "board", "title"].into_iter();
            keys.find_map(|key| Some(format!("{key} {}", property(node, key)?)))
        }
        _ => None,
    }
}

fn property(node: &Node, key: &str) -> Option<String> {
    let property = node.properties.iter().find(|property| property.name.value == key)?;
    if let Value::Text(text) = &property.value.value { Some(text.clone()) } else { None }
}

struct Editor<'t> {
    text: &'t str,
    comments: Vec<(usize, String)>,
    edits: Vec<Edit>,
}

impl Editor<'_> {
    fn change(&mut self, node: &Node, old: &Block, new: &Block) {
        let children = node.children.as_ref().filter(|children| !children.is_empty());
        let Some(children) = children.filter(|_| !new.lines.is_empty()) else {
            if old != new {
                self.replace(node.span.start, node.span.end, new.text());
            }
            return;
        };
        if old.head != new.head {
            let entries = node.arguments.iter().map(|a| a.span.end).chain(node.properties.iter().map(|p| p.span.end));
            let end = entries.max().unwrap_or(node.name.span.end);
            self.replace(node.span.start, end, new.head.clone());
        }
        if old.lines == new.lines {
            return;
        }
        let mut ids: Vec<(String, &Node)> =
            children.iter().filter_map(|child| Some((line_id(child)?, child))).collect();
        print::number_doubles(&mut ids);
        let mut anchor = None;
        for (id, line) in &new.lines {
            let child = ids.iter().find(|(other, _)| other == id).map(|(_, child)| *child);
            match child {
                Some(child) => {
                    if old.lines.iter().any(|(other, before)| other == id && before != line) {
                        self.replace(child.span.start, child.span.end, line.clone());
                    }
                    anchor = Some(self.line_end(child.span.end));
                }
                None => {
                    // Before the first one of all it stands on a line of its own as well.
                    let first = children.first().map_or(node.span.end, |child| child.span.start);
                    let start = self.line_start(first);
                    let has_line = self.text.get(start..first).is_some_and(|indent| indent.trim().is_empty());
                    let (at, text) = match anchor {
                        Some(at) => (at, format!("\n    {line}")),
                        None if has_line => (start, format!("    {line}\n")),
                        None => (first, format!("{line}\n    ")),
                    };
                    self.edits.push(Edit { start: at, end: at, text });
                }
            }
        }
        for (id, child) in &ids {
            if !new.lines.iter().any(|(other, _)| other == id) {
                self.remove(child.span.start, child.span.end);
            }
        }
    }

    /// Puts a text in the place of another, and the comments of that above it.
    fn replace(&mut self, start: usize, end: usize, text: String) {
        let indent = " ".repeat(start - self.line_start(start));
        let above = self.comments(start, end).fold(String::new(), |above, comment| above + comment + "\n" + &indent);
        self.edits.push(Edit { start, end, text: above + &text });
    }

    /// Takes out a node with its line, where it has one for itself, and the blank line before it where nothing needs that
    /// any more: another stands behind it, or nothing does.
    fn remove(&mut self, start: usize, end: usize) {
        let comments = self.comments(start, end).collect::<Vec<&str>>().join("\n");
        let line = self.line_start(start);
        let after = self.text.get(end..).unwrap_or_default();
        let rest = after.split('\n').next().unwrap_or_default();
        let alone = self.text.get(line..start).is_some_and(|before| before.trim().is_empty())
            && rest.trim_matches([' ', '\t', '\r', ';']).is_empty();
        if !alone || !comments.is_empty() {
            self.edits.push(Edit { start, end, text: comments });
            return;
        }
        let end = (end + rest.len() + 1).min(self.text.len());
        let ends = self.text.get(end..).is_none_or(|rest| rest.trim_start_matches('\r').is_empty() || is_blank(rest));
        let before = self.text.get(..line).unwrap_or_default();
        let blank =
            ["\r\n", "\n"].into_iter().find(|end| before.strip_suffix(end).is_some_and(|it| it.ends_with('\n')));
        let start = line - blank.filter(|_| ends).map_or(0, str::len);
        self.edits.push(Edit { start, end, text: String::new() });
    }

    /// The comments in a piece.
    fn comments(&self, start: usize, end: usize) -> impl Iterator<Item = &str> {
        let first = self.comments.partition_point(|(at, _)| *at < start);
        self.comments.iter().skip(first).take_while(move |(at, _)| *at < end).map(|(_, comment)| comment.as_str())
    }

    fn line_start(&self, at: usize) -> usize {
        self.text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |newline| newline + 1)
    }

    /// The end of the line that a node ends on, where nothing but a comment follows it; else the end of the node.
    fn line_end(&self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default().split('\n').next().unwrap_or_default();
        let rest = rest.strip_suffix('\r').unwrap_or(rest);
        let follows = rest.trim_start_matches([' ', '\t', ';']);
        if follows.is_empty() || follows.starts_with("//") { at + rest.len() } else { at }
    }

    /// The length of the line break at the end of a line, where a blank line follows it.
    fn blank_after(&self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default();
        ["\r\n", "\n"].into_iter().find(|ends| rest.starts_with(&ends.repeat(2))).map_or(0, str::len)
    }

    fn finish(mut self) -> String {
        // Stable: what goes to one place stays in the order in which it was put there.
        self.edits.sort_by_key(|edit| edit.start);
        let newline = if self.text.contains("\r\n") { "\r\n" } else { "\n" };
        let mut out = String::new();
        let mut done = 0;
        for edit in self.edits {
            out.push_str(self.text.get(done..edit.start).unwrap_or_default());
            out.push_str(&edit.text.replace('\n', newline));
            done = edit.end.max(done);
        }
        out.push_str(self.text.get(done..).unwrap_or_default());
        if !out.ends_with('\n') {
            out.push_str(newline);
        }
        out
    }
}

/// True for a text that begins with a blank line.
fn is_blank(text: &str) -> bool {
    text.starts_with('\n') || text.starts_with("\r\n")
}

/// The comments of a text, with their places; what a slashdash takes out is one as well, line by line.
fn comments(text: &str) -> Vec<(usize, String)> {
    let tokens = token::tokens(text);
    let mut comments = Vec::new();
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        at += 1;
        if matches!(token.kind, Kind::LineComment | Kind::BlockComment) {
            comments.push((token.start, token.text(text).to_owned()));
        } else if token.kind == Kind::Slashdash {
            let (before, behind) = tokens.split_at_checked(at).unwrap_or((&tokens, &[]));
            at += struck_out(before, behind);
            let end = tokens.get(at - 1).map_or(token.end, |last| last.end);
            let lines = text.get(token.start..end).unwrap_or_default().lines().map(str::trim);
            comments.extend(lines.filter(|line| !line.is_empty()).map(|line| (token.start, format!("// {line}"))));
        }
    }
    comments
}

/// How many tokens behind a slashdash, the last of those before, belong to what it takes out.
fn struck_out(before: &[Token], behind: &[Token]) -> usize {
    let is_gap = |token: &&Token| matches!(token.kind, Kind::Space | Kind::BlockComment);
    let ends_node = |kind: Kind| matches!(kind, Kind::Newline | Kind::LineComment | Kind::Semicolon | Kind::CloseBrace);
    let last = before.iter().rev().skip(1).find(|token| !is_gap(token));
    let is_node = last.is_none_or(|token| {
        matches!(token.kind, Kind::OpenBrace | Kind::Newline | Kind::LineComment | Kind::Semicolon)
    });
    let gap = behind.iter().take_while(is_gap).count();
    let (mut depth, mut count) = (0_usize, gap);
    for token in behind.iter().skip(gap) {
        let is_first = count == gap;
        let ends =
            ends_node(token.kind) || (!is_node && !is_first && matches!(token.kind, Kind::Space | Kind::OpenBrace));
        if depth == 0 && ends {
            break;
        }
        depth += usize::from(token.kind == Kind::OpenBrace);
        depth -= usize::from(token.kind == Kind::CloseBrace);
        count += 1;
        if depth == 0 && token.kind == Kind::CloseBrace {
            break;
        }
    }
    count
}

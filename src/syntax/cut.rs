//! Cuts the tokens at the ends of top-level nodes, and finds braces that have no partner.
//!
//! Braces alone cannot tell where one was forgotten. Two hints from the layout can, and are asked only when the
//! braces of a file do not add up: a node that starts in the first column belongs to no open brace, and a closing
//! brace stands under the line that it closes.

use super::faults::Faults;
use super::rules;
use super::token::{Kind, Token};
use crate::base::wording::count;
use crate::diag::Certainty;

/// How deep braces may be nested; deeper text could exhaust the parser's stack.
pub(crate) const DEEPEST: usize = 32;

/// How often a file is read again from an unclosed brace before the first column is believed at once.
const PATIENCE: usize = 4;

/// What is known of a piece before its grammar is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    /// Its braces add up.
    Whole,
    /// They do not; mistakes inside are still worth reporting.
    Unbalanced,
    /// They do, but a brace beside it that has no partner may be its own: nothing is concluded from what it holds.
    Doubtful,
    /// Nothing in it can be trusted.
    Lost,
}

/// A piece of a file: the tokens `[first, end)`, the first of them no blank.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    /// Its first token.
    pub(crate) first: usize,
    /// One past its last token.
    pub(crate) end: usize,
    /// What is known of it.
    pub(crate) state: State,
}

#[derive(Clone, Copy)]
struct Brace {
    token: usize,
    indent: usize,
}

/// Where a top-level node ends, and what its braces look like.
#[derive(Default)]
struct Walk {
    end: usize,
    open: Vec<Brace>,
    too_deep: Option<usize>,
    swallowed: Option<usize>,
    /// A brace whose partner by position stands too far left: its own is probably missing.
    missing: Option<(Brace, usize)>,
    /// A closing brace that stands right of the line it closes: it is probably one too many.
    extra: Option<usize>,
    /// Braces without partner that unclosed strings have taken in.
    in_strings: usize,
}

fn net_braces(text: &str) -> usize {
    text.matches('{').count().abs_diff(text.matches('}').count())
}

/// True where every brace of a file has its partner.
pub(crate) fn adds_up(tokens: &[Token]) -> bool {
    let open = tokens.iter().try_fold(0_usize, |open, token| match token.kind {
        Kind::OpenBrace => Some(open + 1),
        Kind::CloseBrace => open.checked_sub(1),
        _ => Some(open),
    });
    open == Some(0)
}

/// The pieces of a file, in order; reports braces without partner, text too deep and comments without end.
pub(crate) fn cut(text: &str, tokens: &[Token], faults: &mut Faults) -> Vec<Piece> {
    let mut cutter = Cutter { text, tokens, faults, pieces: Vec::new(), patience: PATIENCE, excused: 0, extra: None };
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        at = match token.kind {
            Kind::CloseBrace => cutter.stray(at),
            _ if token.is_blank() && token.flaw.is_none() => at + 1,
            _ => cutter.piece(at),
        };
    }
    cutter.pieces
}

struct Cutter<'a> {
    text: &'a str,
    tokens: &'a [Token],
    faults: &'a mut Faults,
    pieces: Vec<Piece>,
    patience: usize,
    excused: usize,
    /// A closing brace that is probably one too many, and how many pieces there were then.
    extra: Option<(usize, usize)>,
}

/// How many lines before a stray brace are looked at for what it should close.
const LOOKED_BACK: usize = 200;

impl Cutter<'_> {
    /// Cuts off the piece that starts at token `first`; gives the token after it.
    fn piece(&mut self, first: usize) -> usize {
        let mut walk = self.walk(first, self.patience == 0);
        if !walk.open.is_empty() && walk.swallowed.is_none() && self.patience > 0 {
            self.patience -= 1;
            walk = self.walk(first, true);
        }
        self.excused += walk.in_strings;
        let state = if let Some(deep) = walk.too_deep {
            self.too_deep(deep);
            State::Lost
        } else if let Some(swallowed) = walk.swallowed {
            self.swallowed(swallowed);
            State::Lost
        } else if !walk.open.is_empty() {
            self.unclosed(&walk);
            State::Unbalanced
        } else {
            State::Whole
        };
        // Braces on a line of their own belong to the node above: nothing is concluded from its being empty.
        if self.tokens.get(first).is_some_and(|token| token.kind == Kind::OpenBrace)
            && let Some(above) = self.pieces.last_mut()
        {
            above.state = State::Doubtful;
        }
        self.pieces.push(Piece { first, end: walk.end, state });
        if let Some(extra) = walk.extra.filter(|_| state == State::Whole) {
            self.extra = Some((extra, self.pieces.len()));
        }
        walk.end
    }

    /// Follows a node to its end. With `hint`, a node in the first column ends every open brace.
    fn walk(&self, first: usize, hint: bool) -> Walk {
        let mut walk = Walk { end: self.tokens.len(), ..Walk::default() };
        let (mut indent, mut slashdash, mut continued) = (self.indent(first), false, false);
        for (at, token) in self.tokens.iter().enumerate().skip(first) {
            if token.swallows(self.text) {
                if token.kind == Kind::BlockComment && walk.open.is_empty() && at > first {
                    walk.end = at;
                } else {
                    walk.swallowed = Some(at);
                }
                return walk;
            }
            match token.kind {
                Kind::Newline => {
                    if walk.open.is_empty() && !slashdash && !continued {
                        walk.end = at;
                        return walk;
                    }
                    continued = false;
                    indent = self.indent(at + 1);
                    continue;
                }
                Kind::Space | Kind::LineComment | Kind::BlockComment => continue,
                Kind::Semicolon if walk.open.is_empty() => {
                    walk.end = at + 1;
                    return walk;
                }
                Kind::CloseBrace => {
                    let Some(brace) = walk.open.pop() else {
                        walk.end = at;
                        return walk;
                    };
                    if self.begins_line(at) && indent < brace.indent && walk.missing.is_none() {
                        walk.missing = Some((brace, at));
                    } else if self.begins_line(at) && indent > brace.indent && walk.open.is_empty() {
                        walk.extra = Some(at);
                    }
                }
                _ if hint && !walk.open.is_empty() && !slashdash && !continued && self.begins_node(at) => {
                    walk.end = at;
                    return walk;
                }
                Kind::OpenBrace => {
                    walk.open.push(Brace { token: at, indent });
                    if walk.open.len() > DEEPEST && walk.too_deep.is_none() {
                        walk.too_deep = Some(at);
                    }
                }
                _ if token.flaw.is_some() => walk.in_strings += net_braces(token.text(self.text)),
                _ => {}
            }
            slashdash = token.kind == Kind::Slashdash;
            continued = token.kind == Kind::Continuation;
        }
        walk
    }

    /// Width of the white space before token `at` if that is the first of its line, else 0.
    fn indent(&self, at: usize) -> usize {
        match (self.tokens.get(at), at.checked_sub(1).and_then(|b| self.tokens.get(b))) {
            (Some(token), _) if token.kind == Kind::Space => token.end - token.start,
            (_, Some(before)) if before.kind == Kind::Space && self.begins_line(at) => before.end - before.start,
            _ => 0,
        }
    }

    fn begins_line(&self, at: usize) -> bool {
        let before = |back: usize| at.checked_sub(back).and_then(|b| self.tokens.get(b)).map(|t| t.kind);
        match before(1) {
            None | Some(Kind::Newline) => true,
            Some(Kind::Space) => matches!(before(2), None | Some(Kind::Newline)),
            _ => false,
        }
    }

    /// A word or string in the first column.
    fn begins_node(&self, at: usize) -> bool {
        let names = |t: &Token| matches!(t.kind, Kind::Word | Kind::Quoted | Kind::Slashdash);
        self.tokens.get(at).is_some_and(names) && self.begins_line(at) && self.indent(at) == 0
    }

    fn unclosed(&mut self, walk: &Walk) {
        if self.excused > 0 {
            self.excused = 0;
            return;
        }
        let Some(innermost) = walk.open.last() else { return };
        let brace = walk.missing.map_or(*innermost, |(brace, _)| brace);
        let Some(open) = self.tokens.get(brace.token) else { return };
        let mut found = self.faults.at(&rules::BRACE_UNCLOSED, open.start, open.end, "this brace is never closed");
        found = found.here("opened here");
        if let Some(close) = walk.missing.and_then(|(_, at)| self.tokens.get(at)) {
            let span = self.faults.span(close.start, close.end);
            found = found.also(span, "by its place in the line, this closes an outer brace");
        } else if let Some(next) = self.tokens.get(walk.end) {
            found = found.also(self.faults.span(next.start, next.end), "a new node starts here, in the first column");
        }
        let at_end = walk.end == self.tokens.len() && self.text.ends_with('\n');
        let at_end = || at_end.then(|| (self.text.len(), "}\n".to_owned()));
        let closed = self.closed_by_layout(brace).or_else(at_end);
        if let Some((at, text)) = closed.filter(|_| walk.open.len() == 1) {
            found = found.edit(Certainty::Likely, self.faults.span(at, at), text);
        }
        if walk.open.len() > 1 {
            found = found.figure(format!("{} open here", count(walk.open.len(), "brace is", Some("braces are"))));
        }
        self.faults.push(
            found
                .why("Everything after an open brace belongs to the node before it, so the rest of the file would be read as its contents.")
                .help("put a `}` where the contents of this node end: on a line of its own, or at the end of its line"),
        );
    }

    /// Where the layout of the lines ends the contents of an open brace, and what is to stand there: before the first line that
    /// stands no further right than the brace's own. A node whose contents are on its line is closed on it.
    fn closed_by_layout(&self, brace: Brace) -> Option<(usize, String)> {
        let is_blank =
            |token: &Token| matches!(token.kind, Kind::Space | Kind::Newline | Kind::LineComment | Kind::BlockComment);
        let behind = self.tokens.iter().enumerate().skip(brace.token + 1);
        let mut last = brace.token;
        for (at, _) in behind.filter(|(_, token)| !is_blank(token)) {
            let continued = self.tokens.get(last).is_some_and(|last| last.kind == Kind::Continuation);
            if self.begins_line(at) && self.indent(at) <= brace.indent && !continued {
                break;
            }
            last = at;
        }
        let own_line = self.text.get(self.tokens.get(brace.token)?.start..self.tokens.get(last)?.end)?;
        if last == brace.token {
            return None;
        }
        if !own_line.contains('\n') {
            return Some((self.tokens.get(last)?.end, " }".to_owned()));
        }
        let newline = self.tokens.iter().skip(last).find(|token| token.kind == Kind::Newline)?;
        Some((newline.end, format!("{}}}\n", " ".repeat(brace.indent))))
    }

    /// Reports the closing braces from token `at` on that close nothing; gives the token after them.
    fn stray(&mut self, at: usize) -> usize {
        let is_stray = |t: &&Token| matches!(t.kind, Kind::CloseBrace | Kind::Semicolon) || t.is_blank();
        let strays = self.tokens.iter().skip(at).take_while(is_stray);
        let (mut number, mut length, mut last) = (0, 0, at);
        for (past, token) in strays.enumerate() {
            match token.kind {
                Kind::CloseBrace => (number, length, last) = (number + 1, past + 1, at + past),
                Kind::Semicolon => length = past + 1,
                _ => {}
            }
        }
        let piece = Piece { first: at, end: at + length, state: State::Lost };
        if self.excused > 0 {
            self.excused = 0;
            self.pieces.push(piece);
            return piece.end;
        }
        let (Some(first), Some(last)) = (self.tokens.get(at), self.tokens.get(last)) else { return at + 1 };
        let title = match number {
            1 => "this brace closes nothing".to_owned(),
            n => format!("these {n} braces close nothing"),
        };
        let end = if number == 1 { first.end } else { last.end };
        let mut found = self.faults.at(&rules::BRACE_STRAY, first.start, end, title).here("nothing is open here");
        let extra = self.probably_extra();
        let lacks_opening = extra.is_none() && self.doubt_before(at);
        let is_one = number == 1 && extra.is_none() && !lacks_opening;
        let lacks = if is_one { self.lacking_opening(first.start) } else { None };
        if is_one {
            found = match lacks {
                // The line before the contents lacks its brace: to take out the far one would give them to another node.
                Some((place, text)) => {
                    let place = self.faults.span(place.0, place.1);
                    found.also(place, "contents follow, and no `{` opens them").edit(Certainty::Likely, place, text)
                }
                None => found.edit(Certainty::Likely, self.faults.span(first.start, end), ""),
            };
        }
        if let Some(extra) = extra.and_then(|e| self.tokens.get(e)) {
            found = self
                .faults
                .at(&rules::BRACE_STRAY, extra.start, extra.end, "there is one closing brace too many")
                .here("by its place in the line, probably this one")
                .also(self.faults.span(first.start, first.end), "nothing is open here any more");
        }
        self.faults.push(
            found
                .why(
                    "A closing brace ends the contents of the node above it; without an opening brace it ends nothing.",
                )
                .help(if lacks.is_some() {
                    "put the missing `{` at the end of the line whose contents follow"
                } else {
                    "remove the brace, or put the missing `{` at the end of the line of its node"
                }),
        );
        self.pieces.push(piece);
        piece.end
    }

    /// The place before a stray brace where an opening one is probably missing, and what is to stand there: the end of the
    /// one line that has none and is followed by a line further right, as contents are.
    fn lacking_opening(&self, stray: usize) -> Option<((usize, usize), &'static str)> {
        let before = self.text.get(..stray)?;
        let indent = |line: &str| line.len() - line.trim_start_matches([' ', '\t']).len();
        let mut lines = Vec::new();
        let mut start = stray;
        // Back to the last node that begins in the first column, which the stray brace ends at the latest.
        for line in before.split_inclusive('\n').rev().take(LOOKED_BACK) {
            start -= line.len();
            let code = line.split("//").next().unwrap_or_default().trim_end();
            if !code.trim().is_empty() {
                lines.push((start, code));
                if lines.len() > 1 && indent(code) == 0 {
                    break;
                }
            }
        }
        lines.reverse();
        let mut found = None;
        for pair in lines.windows(2) {
            let [(at, line), (_, next)] = pair else { continue };
            if indent(next) <= indent(line) || line.ends_with(['{', '\\', ';']) || line.contains("\"\"\"") {
                continue;
            }
            let end = at + line.len();
            found = Some(match line.strip_suffix(['(', '[']) {
                Some(_) => ((end - 1, end), "{"),
                None => ((end, end), " {"),
            });
        }
        found
    }

    /// The pieces that a stray brace was probably to close: those before it that stand further right, and the one before
    /// them. Nothing is concluded from what they hold. True where some stand further right.
    fn doubt_before(&mut self, brace: usize) -> bool {
        let edge = self.indent(brace);
        let mut doubtful = Vec::new();
        for (rank, piece) in self.pieces.iter().enumerate().rev() {
            if self.indent(piece.first) > edge {
                doubtful.push(rank);
                continue;
            }
            let own = self.tokens.get(piece.first..piece.end).unwrap_or_default();
            if !doubtful.is_empty() || own.iter().any(|token| token.kind == Kind::CloseBrace) {
                doubtful.push(rank);
            }
            break;
        }
        for rank in &doubtful {
            if let Some(piece) = self.pieces.get_mut(*rank).filter(|piece| piece.state == State::Whole) {
                piece.state = State::Doubtful;
            }
        }
        doubtful.len() > 1
    }

    /// The closing brace that came too early, if only indented pieces lie since: those are poison then.
    fn probably_extra(&mut self) -> Option<usize> {
        let (extra, pieces) = self.extra.take()?;
        let since = self.pieces.get(pieces..).unwrap_or_default();
        if since.is_empty() || since.iter().any(|p| self.indent(p.first) == 0 && self.begins_line(p.first)) {
            return None;
        }
        for piece in self.pieces.iter_mut().skip(pieces) {
            piece.state = State::Lost;
        }
        Some(extra)
    }

    fn too_deep(&mut self, at: usize) {
        let Some(token) = self.tokens.get(at) else { return };
        self.faults.push(
            self.faults
                .at(&rules::NESTING_TOO_DEEP, token.start, token.end, format!("braces are nested more than {DEEPEST} deep"))
                .here(format!("level {} opens here", DEEPEST + 1))
                .why("No wiring needs this depth: runs within runs are branches, and a house has few. Probably closing braces are missing.")
                .help("close the braces of the nodes above, or bring the nodes up"),
        );
    }

    fn swallowed(&mut self, at: usize) {
        let Some(token) = self.tokens.get(at) else { return };
        let found = if token.kind == Kind::BlockComment {
            self.faults
                .at(&rules::COMMENT_UNCLOSED, token.start, token.start + 2, "this comment has no end")
                .here("the comment starts here")
                .why("The rest of the file is part of the comment. A `/*` inside a comment needs its own `*/`.")
                .help("write `*/` where the comment ends, or use `//` at the start of each line")
        } else {
            let marks = token.start + token.text(self.text).find("\"\"\"").unwrap_or(0) + 3;
            self.faults
                .at(&rules::STRING_UNCLOSED, token.start, marks, "this text over several lines has no end")
                .here("the text starts here")
                .why("The rest of the file is part of the text.")
                .help("close it with the same marks on a line of their own")
        };
        self.faults.push(found);
    }
}

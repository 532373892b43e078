//! Round or square brackets where braces belong: `run "pair" (` at the end of a line and `)` at the beginning of another.
//!
//! They are told once for a file, and it is read on as if they were braces, so that nothing is said of what they hold.

use super::faults::Faults;
use super::rules;
use super::token::{Kind, Token};
use crate::base::wording::count;
use crate::diag::Certainty;

/// So many places are shown; the others are in the edit alone.
const SHOWN: usize = 6;

/// A bracket that stands for a brace.
struct Bracket {
    at: usize,
    brace: &'static str,
}

/// The text with braces in the place of such brackets, byte for byte; reports them. `None` where there are none.
pub(super) fn as_braces(text: &str, tokens: &[Token], faults: &mut Faults) -> Option<String> {
    let brackets = brackets(text, tokens);
    let (first, others) = brackets.split_first()?;
    let at = |bracket: &Bracket| faults.span(bracket.at, bracket.at + 1);
    let mut found = faults
        .at(&rules::TEXT_NOT_UNDERSTOOD, first.at, first.at + 1, "brackets stand where braces belong")
        .why("What belongs to a node stands behind it in braces. Round brackets hold the unit of a value, and square ones mean nothing.")
        .help(format!("write {{ and }} in place of {}", count(brackets.len(), "bracket", None)));
    for other in others.iter().take(SHOWN) {
        found = found.also(at(other), format!("{} here", other.brace));
    }
    found = brackets.iter().fold(found, |found, one| found.edit(Certainty::Certain, at(one), one.brace));
    faults.push(found);
    let mut bytes = text.as_bytes().to_vec();
    for bracket in &brackets {
        if let (Some(byte), Some(brace)) = (bytes.get_mut(bracket.at), bracket.brace.bytes().next()) {
            *byte = brace;
        }
    }
    String::from_utf8(bytes).ok()
}

/// Every bracket behind which a node may begin with its partner, in the order of the text.
fn brackets(text: &str, tokens: &[Token]) -> Vec<Bracket> {
    let mut found = Vec::new();
    // What is open, with its place where a node may begin behind it.
    let mut open: Vec<(&str, Option<usize>)> = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        match (token.kind, token.text(text)) {
            (Kind::OpenBrace, _) => open.push(("}", None)),
            (Kind::OpenParen, _) => open.push((")", opens(tokens, at).then_some(token.start))),
            (Kind::Other, "[") => open.push(("]", opens(tokens, at).then_some(token.start))),
            (Kind::CloseBrace, _) => {
                let bracket = open.pop().and_then(|(_, bracket)| bracket);
                found.extend(bracket.map(|at| Bracket { at, brace: "{" }));
            }
            (Kind::CloseParen, own) | (Kind::Other, own @ "]") => {
                let Some((wanted, bracket)) = open.pop() else { return found };
                let closes = closes(tokens, at) && (wanted == "}" || (wanted == own && bracket.is_some()));
                if closes {
                    found.extend(bracket.map(|at| Bracket { at, brace: "{" }));
                    found.push(Bracket { at: token.start, brace: "}" });
                } else if wanted != own {
                    // What does not pair is told of each.
                    return found;
                }
            }
            _ => {}
        }
    }
    found.sort_by_key(|bracket| bracket.at);
    found
}

/// True where a node could begin behind it: at the end of its line, or before a name and what belongs to that.
fn opens(tokens: &[Token], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|before| tokens.get(before));
    let mut behind = tokens.iter().skip(at + 1).map(|token| token.kind);
    let ends_line = behind.clone().find(|kind| !matches!(kind, Kind::Space | Kind::LineComment)) == Some(Kind::Newline);
    let node = [behind.next(), behind.next(), behind.next()] == [Kind::Space, Kind::Word, Kind::Space].map(Some);
    before.is_some_and(|token| matches!(token.kind, Kind::Space | Kind::Word | Kind::Quoted))
        && (ends_line || (node && behind.next() != Some(Kind::CloseParen)))
}

/// True where a node could end before it: a blank or the end of a line is there.
fn closes(tokens: &[Token], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|before| tokens.get(before));
    before.is_some_and(|token| matches!(token.kind, Kind::Space | Kind::Newline | Kind::Semicolon))
}

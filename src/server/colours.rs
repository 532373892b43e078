//! What each word of a text is, for an editor to show it so: nodes, properties, names, words of a list, units, comments.

use lsp_types::{SemanticToken, SemanticTokenType, SemanticTokens, SemanticTokensLegend};

use super::place::{self, Item, Place};
use super::text::{Encoding, Lines};
use crate::schema::spec::Kind;
use crate::syntax::token::Kind as Mark;

/// What a word is; the position in [`legend`] is its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    Comment,
    Node,
    Property,
    Text,
    Number,
    Unit,
    Word,
    Reference,
    Name,
}

/// The roles in the words of the protocol.
pub(crate) fn legend() -> SemanticTokensLegend {
    let types = [
        SemanticTokenType::COMMENT,
        SemanticTokenType::KEYWORD,
        SemanticTokenType::PROPERTY,
        SemanticTokenType::STRING,
        SemanticTokenType::NUMBER,
        SemanticTokenType::TYPE,
        SemanticTokenType::ENUM_MEMBER,
        SemanticTokenType::VARIABLE,
        SemanticTokenType::CLASS,
    ];
    SemanticTokensLegend { token_types: types.into(), token_modifiers: Vec::new() }
}

/// The words of a text.
pub(crate) fn of(text: &str, is_register: bool, encoding: Encoding) -> SemanticTokens {
    let lines = Lines::new(text, encoding);
    let mut data = Vec::new();
    let mut last = (0, 0);
    for (token, place) in place::atoms(text) {
        let role = match token.kind {
            Mark::LineComment | Mark::BlockComment => Some(Role::Comment),
            _ => role(&place, is_register, text.get(token.start..token.end).unwrap_or_default()),
        };
        let Some(role) = role else { continue };
        // A word of several lines is told line by line.
        for line in lines.line_of(token.start)..=lines.line_of(token.end.saturating_sub(1)) {
            let (start, end) = lines.extent(line);
            let (start, end) = (start.max(token.start), end.min(token.end));
            let length = encoding.columns(text.get(start..end).unwrap_or_default());
            if length == 0 {
                continue;
            }
            let at = lines.position(start);
            let delta_line = at.line - last.0;
            let delta_start = if delta_line == 0 { at.character - last.1 } else { at.character };
            data.push(SemanticToken {
                delta_line,
                delta_start,
                length,
                token_type: role as u32,
                token_modifiers_bitset: 0,
            });
            last = (at.line, at.character);
        }
    }
    SemanticTokens { result_id: None, data }
}

fn role(place: &Place, is_register: bool, written: &str) -> Option<Role> {
    match &place.item {
        Item::Nothing => return None,
        Item::Node => return Some(Role::Node),
        Item::Key(_) => return Some(Role::Property),
        Item::UnitOf(_) | Item::UnitOfArgument(_) => return Some(Role::Unit),
        Item::Argument(_) | Item::Value(_) => {}
    }
    let field = place.spec(is_register).and_then(|spec| place.field(spec));
    Some(match field.map(|(_, kind)| kind) {
        Some(Kind::Name(_)) => Role::Name,
        Some(Kind::Reference(_)) => Role::Reference,
        Some(Kind::Word(_) | Kind::Colour | Kind::Flag | Kind::Slug) => Role::Word,
        _ if written.starts_with(['"', '#']) => Role::Text,
        _ => Role::Number,
    })
}

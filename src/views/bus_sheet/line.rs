//! A bus in one line of text, as its cable lies.
//!
//! `[Panel]` a board, `DATA-1 3 ft` a cable, `⊥120 Ω` a terminator across the pair, `⟨ … ⟩` a stub. Lines break between
//! the pieces only: inside a piece blanks are blanks that do not break.

use super::places;
use crate::calc::bus::{BusFigures, Way};
use crate::compiled::Compiled;
use crate::quantity::print;
use crate::words;

/// The trunk from its first end to its last, with its stubs and what leaves them.
pub(crate) fn of(compiled: &Compiled, figures: &BusFigures) -> String {
    let ways = figures.layout.ways();
    let pieces = ways.first().map(|trunk| along(compiled, figures, &ways, trunk)).unwrap_or_default();
    let whole: Vec<String> = pieces.iter().map(|piece| piece.replace(' ', "\u{a0}")).collect();
    whole.join(" ")
}

/// The pieces of a way from where it leaves another, with those of the ways that leave it.
fn along(compiled: &Compiled, figures: &BusFigures, ways: &[Way], way: &Way) -> Vec<String> {
    let mut pieces = Vec::new();
    let mut before = way.from;
    for at in &way.places {
        if let Some(before) = before {
            pieces.push(cable(compiled, figures, before, *at));
        }
        pieces.push(place(compiled, figures, *at));
        for leaving in ways.iter().filter(|leaving| leaving.from == Some(*at)) {
            let mut stub = along(compiled, figures, ways, leaving);
            // The brackets stay beside what they hold.
            if let Some(first) = stub.first_mut() {
                first.insert_str(0, "⟨ ");
            }
            if let Some(last) = stub.last_mut() {
                last.push_str(" ⟩");
            }
            pieces.extend(stub);
        }
        before = Some(*at);
    }
    pieces
}

fn place(compiled: &Compiled, figures: &BusFigures, at: usize) -> String {
    let layout = &figures.layout;
    let fitted = layout.terminators.iter().filter(|terminator| terminator.place == at);
    let board = std::iter::once(format!("[{}]", places::title(compiled, figures, at)));
    board.chain(fitted.map(|terminator| format!("⊥{}", terminator.ohms))).collect::<Vec<_>>().join(" ")
}

fn cable(compiled: &Compiled, figures: &BusFigures, one: usize, other: usize) -> String {
    let (label, length) = cable_between(compiled, figures, one, other);
    if label.is_empty() && length.is_empty() { String::new() } else { format!("─ {label} {length} ─") }
}

/// Label and length of the cable between two neighbours.
pub(crate) fn cable_between(compiled: &Compiled, figures: &BusFigures, one: usize, other: usize) -> (String, String) {
    // Of two neighbours the later one has the cable that comes from the other.
    let Some(place) = figures.layout.places.get(one.max(other)) else { return Default::default() };
    let label = place.run.map(|run| words::cable(&compiled.wiring, run)).unwrap_or_default();
    (label.to_owned(), print::length(place.length, compiled.site.lengths))
}
